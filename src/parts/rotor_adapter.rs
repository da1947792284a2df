//! Rotor adapter: disc on the rotor, boss with the sun's toothed socket, or the sun in one with it.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::{Actuator, FLOOR, SunJoint};

use super::shapes::{self, Opening, disc};
use super::teeth::{End, PROFILE_TOLERANCE, Teeth, turn_at_zero};

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (adapter, stations, joints) = (&actuator.adapter, &actuator.stations, &actuator.joints);
    let bottom = stations.rotor_front;
    let mut body = Body::new();
    let chamfer = actuator.design.printer.bed_chamfer;
    shapes::add_chamfered(
        &mut body,
        "disc",
        [bottom, stations.adapter_front],
        disc(adapter.disc_diameter),
        chamfer,
        Opening::Back,
    )?;
    body.add("boss", [stations.adapter_front, stations.boss_front], disc(adapter.boss_diameter));
    sun(actuator, &mut body)?;

    shapes::clearance_holes(
        &mut body,
        "rotor screw",
        &joints.adapter_to_rotor,
        [bottom, stations.adapter_front],
    );
    shapes::countersinks(
        &mut body,
        "rotor screw head",
        &joints.adapter_to_rotor,
        stations.adapter_front,
        Opening::Front,
    );
    if let Some((diameter, depth)) = adapter.pilot {
        body.cut("rotor pilot", [bottom, bottom + depth], disc(diameter));
    }
    Ok(body.stack()?)
}

fn sun(actuator: &Actuator, body: &mut Body) -> Result<(), PartFault> {
    let (adapter, stations) = (&actuator.adapter, &actuator.stations);
    let gear = &actuator.stage.sun;
    let (hole, depth) = adapter.insert_hole;
    let hole = actuator.design.printer.hole(hole);
    match actuator.sun.joint {
        SunJoint::Socket { .. } => {
            let grown = gear.profile_grown(actuator.design.printer.sun_socket / 2.0, PROFILE_TOLERANCE)?;
            body.cut_twisted(
                "sun socket",
                [stations.sun_back, stations.boss_front],
                grown.rotated(turn_at_zero(actuator, gear)),
                gear.twist_per_mm(),
            );
            let tip = stations.sun_back - f64::max(depth, actuator.joints.sun.hole_depth());
            // A floor thinner than the rule's doesn't hold anything: the hole then goes through.
            let from = if tip < stations.rotor_front + FLOOR { stations.rotor_front } else { tip };
            body.cut("sun insert", [from, stations.sun_back], disc(hole));
        }
        SunJoint::OnePiece => {
            let z = [stations.boss_front, stations.planet_front];
            Teeth::new(actuator, "sun teeth", *gear, 0.0).make(body, z, [End::Joined, End::Free])?;
            body.cut("sun screw", [stations.rotor_front, stations.planet_front], disc(actuator.sun.bore));
            let from = stations.rotor_front;
            shapes::insert_hole(
                body,
                "sun insert",
                crate::geometry::Point::ORIGIN,
                hole,
                from,
                depth,
                Opening::Back,
            );
        }
    }
    Ok(())
}
