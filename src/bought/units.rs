//! Motor, encoder magnet, controller board, bought sun and planets, pins.

use std::f64::consts::{FRAC_PI_2, PI};

use super::{AXIS, Bought, BoughtError, BoughtFault, is_herringbone, named, on_pins};
use crate::bom::Kind;
use crate::design::GearSource;
use crate::gears::Gear;
use crate::geometry::{Body, Point, Region, ShapeError, Stack};
use crate::layout::{Actuator, SunJoint};
use crate::parts::teeth::turn_at_zero;
use crate::parts::{Motion, PROFILE_TOLERANCE, Place};

/// The stator's plate stands so far out of the bell's rim.
const STATOR_PLATE: f64 = 3.0;
/// Gap between plate and bell.
const BELL_GAP: f64 = 0.5;
/// Depth of the windows drawn in the bell's face, and how many.
const WINDOW: f64 = 1.5;
const WINDOWS: u32 = 6;
/// The encoder chip as drawn, across.
const CHIP: f64 = 4.0;

fn disc(diameter: f64) -> Region {
    Region::disc(Point::ORIGIN, diameter / 2.0)
}

pub(super) fn all(actuator: &Actuator) -> Result<Vec<Bought>, BoughtError> {
    let one = |name: &str, kind, motion, stack: Result<Stack, BoughtFault>| -> Result<Bought, BoughtError> {
        let stack = named(name, stack)?;
        Ok(Bought {
            name: name.to_string(),
            kind,
            stack,
            balls: None,
            places: vec![AXIS],
            motion,
            joint: None,
        })
    };
    let shape = |stack: Result<Stack, ShapeError>| stack.map_err(BoughtFault::from);
    let mut found = vec![
        one("motor stator", Kind::Motor, Motion::Fixed, shape(stator(actuator)))?,
        one("motor rotor", Kind::Motor, Motion::Rotor, shape(rotor(actuator)))?,
        one("encoder magnet", Kind::Magnet, Motion::Rotor, shape(magnet(actuator)))?,
        one("controller board", Kind::Controller, Motion::Fixed, shape(board(actuator)))?,
    ];
    if matches!(actuator.sun.joint, SunJoint::Socket { .. }) {
        found.push(one("sun", Kind::Gear, Motion::Rotor, sun(actuator))?);
    }
    if actuator.design.gearset.planet_made == GearSource::Buy {
        let mut planet = one("planet", Kind::Gear, Motion::Planet, planet(actuator))?;
        planet.places = (0..actuator.stage.planets)
            .map(|k| {
                let phase = actuator.stage.planet_phase(k);
                Place { distance: actuator.stage.centre_distance, angle: phase.position, turn: phase.turn }
            })
            .collect();
        found.push(planet);
    }
    let mut pin = one("planet pin", Kind::Pin, Motion::Carrier, shape(pin(actuator)))?;
    pin.places = on_pins(actuator);
    found.push(pin);
    Ok(found)
}

fn stator(actuator: &Actuator) -> Result<Stack, ShapeError> {
    let (motor, front) = (&actuator.design.motor, actuator.stations.mount_front);
    let plate = f64::min(0.8 * motor.outer_diameter, motor.stator_bolts.circle + 10.0);
    let mut body = Body::new();
    body.add("plate", [front, front + STATOR_PLATE], disc(plate));
    body.cut("shaft bore", [front, front + STATOR_PLATE], disc(motor.shaft_diameter + 1.0));
    body.stack()
}

/// Bell and shaft.
fn rotor(actuator: &Actuator) -> Result<Stack, ShapeError> {
    let (motor, stations) = (&actuator.design.motor, &actuator.stations);
    let (back, front) = (stations.mount_front, stations.rotor_front);
    let rim = back + STATOR_PLATE + BELL_GAP;
    let outer = motor.outer_diameter;
    let edge = f64::min(1.0, (front - rim) / 4.0);
    let mut body = Body::new();
    body.add("shaft", [stations.shaft_end, rim], disc(motor.shaft_diameter));
    body.add("bell", [rim, front - edge], disc(outer));
    body.add_taper("bell edge", [front - edge, front], disc(outer), disc(outer - 2.0 * edge));
    if let Some(pilot) = &motor.rotor_pilot {
        body.add("pilot", [front, front + pilot.height], disc(pilot.diameter));
    }
    // Windows between the screws' circle and the rim, as most bells have.
    let inner = motor.rotor_bolts.circle / 2.0 + 4.0;
    let reach = 0.42 * outer;
    let depth = f64::min(WINDOW, (front - rim) / 3.0);
    if reach > inner + 2.0 {
        for k in 0..WINDOWS {
            let middle = 2.0 * PI * f64::from(k) / f64::from(WINDOWS);
            let half = 0.7 * PI / f64::from(WINDOWS);
            let window = Region::sector(inner, reach, middle - half, middle + half);
            body.cut("window", [front - depth, front], window);
        }
    }
    body.stack()
}

fn magnet(actuator: &Actuator) -> Result<Stack, ShapeError> {
    let (magnet, back) = (&actuator.design.motor.magnet, actuator.stations.magnet_back);
    let mut body = Body::new();
    body.add("magnet", [back, back + magnet.thickness], disc(magnet.diameter));
    body.stack()
}

/// The bare board with its mounting holes, and the encoder chip on the axis.
fn board(actuator: &Actuator) -> Result<Stack, ShapeError> {
    let (board, stations) = (&actuator.design.controller.board, &actuator.stations);
    let standoffs = &actuator.base.standoffs;
    let half = Point::new(board.length / 2.0, board.width / 2.0);
    let mut body = Body::new();
    let z = [stations.board_back, stations.board_front];
    body.add("board", z, Region::rectangle(half * -1.0, half).rotated(standoffs.board_angle));
    let hole = actuator.joints.board.clearance / 2.0;
    for &[x, y] in &standoffs.places {
        body.cut("hole", z, Region::disc(Point::new(x, y), hole));
    }
    let corner = Point::new(CHIP / 2.0, CHIP / 2.0);
    let chip = Region::rectangle(corner * -1.0, corner).rotated(standoffs.board_angle + FRAC_PI_2);
    body.add("encoder chip", [stations.board_front, stations.sensor_front], chip);
    body.stack()
}

fn pin(actuator: &Actuator) -> Result<Stack, ShapeError> {
    let planet = &actuator.planet;
    let front = actuator.stations.plate_back + planet.pin_depth_carrier;
    let mut body = Body::new();
    body.add("pin", [front - planet.pin_length, front], disc(planet.pin_diameter));
    body.stack()
}

/// A gear with a bore, its teeth as calculated; a herringbone's turn back at the middle of the planets.
fn gear(actuator: &Actuator, gear: &Gear, z: [f64; 2], bore: f64) -> Result<Stack, BoughtFault> {
    let outline = gear.profile(PROFILE_TOLERANCE)?.rotated(turn_at_zero(actuator, gear));
    let twist = gear.twist_per_mm();
    let apex = 0.5 * (actuator.stations.planet_back + actuator.stations.planet_front);
    let mut body = Body::new();
    if is_herringbone(actuator) && z[0] < apex && apex < z[1] {
        body.add_twisted("teeth", [z[0], apex], outline.clone(), twist);
        body.add_twisted("teeth", [apex, z[1]], outline.rotated(2.0 * apex * twist), -twist);
    } else {
        body.add_twisted("teeth", z, outline, twist);
    }
    body.cut("bore", z, disc(bore));
    Ok(body.stack()?)
}

fn sun(actuator: &Actuator) -> Result<Stack, BoughtFault> {
    let back = actuator.stations.sun_back;
    gear(actuator, &actuator.stage.sun, [back, back + actuator.sun.length], actuator.sun.bore)
}

/// A bought planet: seat through, as its bearings need.
fn planet(actuator: &Actuator) -> Result<Stack, BoughtFault> {
    let z = [actuator.stations.planet_back, actuator.stations.planet_front];
    gear(actuator, &actuator.stage.planet, z, actuator.planet.turns_on.outer())
}
