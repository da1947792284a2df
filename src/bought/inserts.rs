//! Heat-set inserts: sleeves of the table's outside and length, in the holes made for them.

use super::screws::{Points, places};
use super::{Bought, BoughtError, named};
use crate::bom::{Kind, place};
use crate::design::Joint;
use crate::geometry::{Body, Point, Region, Stack};
use crate::layout::{Actuator, Anchor, SunJoint};
use crate::parts::Motion;

/// Height of the insert's end, which way it goes on from there, and what the insert turns with.
fn end(actuator: &Actuator, joint: Joint) -> Option<(f64, Points, Motion)> {
    let stations = &actuator.stations;
    match joint {
        Joint::Machine => Some((0.0, Points::Front, Motion::Fixed)),
        Joint::StatorMount => Some((stations.mount_back, Points::Back, Motion::Fixed)),
        Joint::Service => Some((stations.service, Points::Back, Motion::Fixed)),
        Joint::MotorToMount | Joint::AdapterToRotor => None,
        Joint::Sun => match actuator.sun.joint {
            SunJoint::Socket { .. } => Some((stations.sun_back, Points::Back, Motion::Rotor)),
            // Pushed up from the rotor's side to the end of its hole.
            SunJoint::OnePiece => {
                Some((stations.rotor_front + actuator.adapter.insert_hole.1, Points::Back, Motion::Rotor))
            }
        },
        Joint::Keeper => Some((actuator.housing.seat_back, Points::Front, Motion::Fixed)),
        Joint::Pillars => Some((stations.plate_back, Points::Front, Motion::Carrier)),
        Joint::ClampRing | Joint::Output => Some((stations.hub_front, Points::Back, Motion::Carrier)),
        Joint::RingInsert => Some((stations.ring_front, Points::Front, Motion::Fixed)),
        Joint::Board => Some((stations.board_back, Points::Back, Motion::Fixed)),
    }
}

pub(super) fn all(actuator: &Actuator) -> Result<Vec<Bought>, BoughtError> {
    let mut found = Vec::new();
    for joint in actuator.joints.iter() {
        let (Anchor::Insert(insert) | Anchor::Outside(insert)) = &joint.anchor else { continue };
        let Some((end, goes, motion)) = end(actuator, joint.joint) else { continue };
        let name = format!("insert {} {}", insert.thread, place(joint.joint));
        let z = match goes {
            Points::Front => [end, end + insert.length],
            Points::Back => [end - insert.length, end],
        };
        let sleeve: Stack = {
            let mut body = Body::new();
            let ring = Region::annulus(Point::ORIGIN, insert.thread.nominal() / 2.0, insert.outside / 2.0);
            body.add("sleeve", z, ring);
            named(&name, body.stack())?
        };
        found.push(Bought {
            name,
            kind: Kind::Insert,
            stack: sleeve,
            balls: None,
            places: places(actuator, joint),
            motion,
            joint: Some(joint.joint),
        });
    }
    Ok(found)
}
