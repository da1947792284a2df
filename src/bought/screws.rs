//! Screws: cap, button and countersunk heads with their socket, a plain shank of the thread's diameter.

use std::f64::consts::PI;

use super::{Bought, BoughtError, named};
use crate::bom::{Kind, place};
use crate::design::Joint;
use crate::geometry::{Body, Point, Region, ShapeError, Stack};
use crate::layout::{Actuator, Bolting, SunJoint};
use crate::parts::{Motion, Place};
use crate::tables::{ScrewStandard, screw_head};

/// Which way a screw's tip points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Points {
    /// To the output: the driver comes from the back.
    Front,
    Back,
}

/// Where a joint's screws sit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Height of the face under the head; of a countersunk one the face it ends flush with.
    pub z: f64,
    pub points: Points,
    pub motion: Motion,
}

/// Seats of a joint's screws; none for screws that belong to the machine or the link.
pub fn seat(actuator: &Actuator, joint: Joint) -> Option<Seat> {
    let stations = &actuator.stations;
    let seat = |z, points, motion| Some(Seat { z, points, motion });
    match joint {
        Joint::Machine | Joint::Output => None,
        Joint::StatorMount => seat(stations.mount_front, Points::Back, Motion::Fixed),
        Joint::Service => seat(stations.lip_front, Points::Back, Motion::Fixed),
        Joint::MotorToMount => {
            seat(stations.mount_back + actuator.mount.recess.1, Points::Front, Motion::Fixed)
        }
        Joint::AdapterToRotor => seat(stations.adapter_front, Points::Back, Motion::Rotor),
        Joint::Sun => match actuator.sun.joint {
            SunJoint::Socket { .. } => {
                seat(stations.sun_back + actuator.sun.length, Points::Back, Motion::Rotor)
            }
            SunJoint::OnePiece => seat(stations.planet_front, Points::Back, Motion::Rotor),
        },
        Joint::Keeper => {
            seat(stations.keeper_back + actuator.keeper.head_pocket_depth, Points::Front, Motion::Fixed)
        }
        Joint::Pillars => seat(stations.back_plate_back, Points::Front, Motion::Carrier),
        Joint::ClampRing => seat(stations.output_face, Points::Back, Motion::Carrier),
        Joint::RingInsert => seat(stations.service, Points::Front, Motion::Fixed),
        Joint::Board => seat(stations.board_front, Points::Back, Motion::Fixed),
    }
}

/// The screw as it would lie with its tip pointing to the front, the face under the head at 0.
fn screw(joint: &Bolting) -> Result<Stack, ShapeError> {
    let nominal = joint.thread.nominal();
    let disc = |diameter: f64| Region::disc(Point::ORIGIN, diameter / 2.0);
    // A head the tables lack is drawn by the pocket it gets.
    let (diameter, height, hex, depth) = screw_head(joint.head, joint.thread)
        .map_or((joint.head_diameter, joint.head_height, 0.8 * nominal, 0.4 * nominal), |head| {
            (head.diameter, head.height, head.hex, head.socket_depth)
        });
    let mut body = Body::new();
    let top = match joint.head {
        ScrewStandard::Countersunk => {
            let cone = (diameter - nominal) / 2.0;
            body.add_taper("head", [0.0, cone], disc(diameter), disc(nominal));
            body.add("shank", [cone, joint.length], disc(nominal));
            0.0
        }
        ScrewStandard::Cap => {
            body.add("head", [-height, 0.0], disc(diameter));
            body.add("shank", [0.0, joint.length], disc(nominal));
            -height
        }
        ScrewStandard::Button => {
            // A round head in two cones.
            let (flat, shoulder) = (0.55 * diameter, 0.86 * diameter);
            body.add_taper("crown", [-height, -height / 2.0], disc(flat), disc(shoulder));
            body.add_taper("rim", [-height / 2.0, 0.0], disc(shoulder), disc(diameter));
            body.add("shank", [0.0, joint.length], disc(nominal));
            -height
        }
    };
    let depth = depth.min(joint.length / 2.0);
    body.cut("socket", [top, top + depth], hexagon(hex.min(0.9 * nominal.max(hex))));
    body.stack()
}

/// By its width across flats.
fn hexagon(across: f64) -> Region {
    let radius = across / 2.0 / libm::cos(PI / 6.0);
    let corners: Vec<Point> = (0..6).map(|k| Point::polar(radius, f64::from(k) * PI / 3.0)).collect();
    Region::polygon(&corners)
}

/// Places of a joint's screws; of the board's by its holes.
pub fn places(actuator: &Actuator, joint: &Bolting) -> Vec<Place> {
    if joint.joint == Joint::Board {
        let place =
            |&[x, y]: &[f64; 2]| Place { distance: libm::hypot(x, y), angle: libm::atan2(y, x), turn: 0.0 };
        return actuator.base.standoffs.places.iter().map(place).collect();
    }
    joint.angles().map(|angle| Place { distance: joint.radius(), angle, turn: 0.0 }).collect()
}

pub(super) fn all(actuator: &Actuator) -> Result<Vec<Bought>, BoughtError> {
    let mut found = Vec::new();
    for joint in actuator.joints.iter() {
        let Some(seat) = seat(actuator, joint.joint) else { continue };
        let name = format!("screw {} x {} {}", joint.thread, joint.length, place(joint.joint));
        let along = named(&name, screw(joint))?;
        let pointing = match seat.points {
            Points::Front => along,
            Points::Back => along.flipped(),
        };
        found.push(Bought {
            stack: pointing.translated_z(seat.z),
            name,
            kind: Kind::Fastener,
            balls: None,
            places: places(actuator, joint),
            motion: seat.motion,
            joint: Some(joint.joint),
        });
    }
    Ok(found)
}
