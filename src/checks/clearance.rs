//! Least gaps between bodies that turn against each other, over the whole stack.
//!
//! Each body is reduced, slab by slab, to the ranges of radius its material covers when turned about the axis: what
//! it sweeps. Two bodies of different motion must keep apart in these swept sections, along the radius where they
//! share heights and along the axis where they share radii. Gears in mesh are left out here: the stage's own backlash
//! keeps them apart. Sweeping fixed bodies too errs on the safe side.

use crate::geometry::{Point, ShapeError};
use crate::interference::sweep::{SweptRing, rings, separation};
use crate::layout::{Actuator, PlanetSeat};
use crate::parts::{Motion, Part};

/// Gap between two bodies.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    pub bodies: [String; 2],
    /// Least gap along the radius where heights are shared; none if none are.
    pub radial: Option<f64>,
    /// Least gap along the axis where radii are shared.
    pub axial: Option<f64>,
    /// Height of the nearest place.
    pub z: f64,
}

/// Which axis a pair of bodies turns about against each other.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Axis {
    Main,
    /// Of planet 0: what the carrier carries, seen from the planet.
    Pin,
}

/// A body with what it sweeps about either axis.
struct Swept {
    name: String,
    motion: Motion,
    about_main: Vec<SweptRing>,
    about_pin: Vec<SweptRing>,
}

impl Swept {
    fn rings(&self, axis: Axis) -> &[SweptRing] {
        match axis {
            Axis::Main => &self.about_main,
            Axis::Pin => &self.about_pin,
        }
    }
}

/// Every pair of bodies that move against each other and come within reach.
pub fn clearances(actuator: &Actuator, parts: &[&Part]) -> Result<Vec<Clearance>, ShapeError> {
    let mut bodies = Vec::new();
    for part in parts {
        bodies.push(sweep(actuator, part)?);
    }
    bodies.extend(bought(actuator));
    let on_bush = matches!(actuator.planet.turns_on, PlanetSeat::Bush(_));
    let mut found = Vec::new();
    for (index, a) in bodies.iter().enumerate() {
        for b in &bodies[index + 1..] {
            if a.motion != b.motion && !in_mesh(a, b) && !(on_bush && rub(a, b)) {
                found.extend(gap(a, b));
            }
        }
    }
    Ok(found)
}

/// Planet against ring and sun: their teeth overlap in the swept sections by design.
fn in_mesh(a: &Swept, b: &Swept) -> bool {
    let pair = [a.name.as_str(), b.name.as_str()];
    let mates = ["ring-housing", "ring-insert", "ring-insert-back", "rotor-adapter", "sun"];
    pair.contains(&"planet") && pair.iter().any(|name| mates.contains(name))
}

/// Thrust faces of a planet on a bush.
fn rub(a: &Swept, b: &Swept) -> bool {
    let pair = [a.name.as_str(), b.name.as_str()];
    pair.contains(&"planet") && ["carrier-back-plate", "planet-washer"].iter().any(|name| pair.contains(name))
}

fn gap(a: &Swept, b: &Swept) -> Option<Clearance> {
    let carried =
        [a.motion, b.motion].contains(&Motion::Planet) && [a.motion, b.motion].contains(&Motion::Carrier);
    let axis = if carried { Axis::Pin } else { Axis::Main };
    let mut radial: Option<(f64, f64)> = None;
    let mut axial: Option<(f64, f64)> = None;
    for ring in a.rings(axis) {
        for other in b.rings(axis) {
            let along_axis = separation(ring.z, other.z);
            let along_radius = separation(ring.radius, other.radius);
            let z = f64::max(ring.z[0], other.z[0]);
            if along_axis < 0.0 && radial.is_none_or(|(least, _)| along_radius < least) {
                radial = Some((along_radius, z));
            }
            if along_radius < 0.0 && axial.is_none_or(|(least, _)| along_axis < least) {
                axial = Some((along_axis, z));
            }
        }
    }
    let (_, z) = radial.or(axial)?;
    Some(Clearance {
        bodies: [a.name.clone(), b.name.clone()],
        radial: radial.map(|(gap, _)| gap),
        axial: axial.map(|(gap, _)| gap),
        z,
    })
}

fn sweep(actuator: &Actuator, part: &Part) -> Result<Swept, ShapeError> {
    let distance = actuator.stage.centre_distance;
    let (about_main, about_pin) = if part.on_pin() {
        // Turns about its own axis and is carried round the main one.
        let own = rings(&part.stack, Point::ORIGIN)?;
        (own.iter().map(|ring| ring.carried(distance)).collect(), own)
    } else if part.motion == Motion::Carrier {
        (rings(&part.stack, Point::ORIGIN)?, rings(&part.stack, Point { x: distance, y: 0.0 })?)
    } else {
        (rings(&part.stack, Point::ORIGIN)?, Vec::new())
    };
    Ok(Swept { name: part.name.as_str().to_string(), motion: part.motion, about_main, about_pin })
}

/// Bought bodies, as the plain rings they sweep.
fn bought(actuator: &Actuator) -> Vec<Swept> {
    let (stations, joints, motor) = (&actuator.stations, &actuator.joints, &actuator.design.motor);
    let body = |name: &str, motion, (z, radius): ([f64; 2], [f64; 2])| Swept {
        name: name.to_string(),
        motion,
        about_main: vec![SweptRing { z, radius }],
        about_pin: Vec::new(),
    };
    let heads = |bolting: &crate::layout::Bolting, seat: f64| {
        let (middle, reach) = (bolting.radius(), bolting.head_diameter / 2.0);
        ([seat, seat + bolting.head_height], [middle - reach, middle + reach])
    };
    // Most bells end a few millimetres in front of the mounting face: a tenth of the motor's height.
    let bell_back = stations.mount_front + 0.1 * motor.height;
    let sun_head = {
        let seat = stations.planet_front;
        ([seat, seat + joints.sun.head_height], [0.0, joints.sun.head_diameter / 2.0])
    };
    let board = &actuator.design.controller.board;
    let pin_back = stations.back_plate_front - actuator.planet.pin_depth_back_plate;
    let pin_z = [pin_back, pin_back + actuator.planet.pin_length];
    let pin_radius = actuator.planet.pin_diameter / 2.0;
    let distance = actuator.stage.centre_distance;
    let pins = Swept {
        about_pin: vec![SweptRing { z: pin_z, radius: [0.0, pin_radius] }],
        ..body("planet pins", Motion::Carrier, (pin_z, [distance - pin_radius, distance + pin_radius]))
    };
    vec![
        body(
            "rotor bell",
            Motion::Rotor,
            ([bell_back, stations.rotor_front], [0.0, motor.outer_diameter / 2.0]),
        ),
        body(
            "shaft",
            Motion::Rotor,
            ([stations.shaft_end, stations.mount_front], [0.0, motor.shaft_diameter / 2.0]),
        ),
        body("sun screw", Motion::Rotor, sun_head),
        body("J1 screws", Motion::Fixed, heads(&joints.stator_mount, stations.mount_front)),
        body("J2 screws", Motion::Fixed, heads(&joints.service, stations.lip_front)),
        body(
            "board",
            Motion::Fixed,
            (
                [stations.board_back, stations.board_front],
                [0.0, libm::hypot(board.length, board.width) / 2.0],
            ),
        ),
        pins,
    ]
}
