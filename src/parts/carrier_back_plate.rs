//! Carrier back plate: pillars towards the carrier, bosses around the pins' blind holes.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc, disc_at};

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (plate, stations, stage) = (&actuator.back_plate, &actuator.stations, &actuator.stage);
    let (back, front) = (stations.back_plate_back, stations.back_plate_front);
    let pillar_end = front + plate.pillar_length;
    let pillars = &actuator.joints.pillars;
    let mut body = Body::new();
    let chamfer = actuator.design.printer.bed_chamfer;
    shapes::add_chamfered(&mut body, "plate", [back, front], disc(plate.diameter), chamfer, Opening::Back)?;

    let depth = actuator.planet.pin_depth_back_plate;
    for k in 0..stage.planets {
        let angle = stage.spacing.position(k);
        body.add(
            "pin boss",
            [front, front + plate.boss_height],
            disc_at(stage.centre_distance, angle, plate.boss_diameter),
        );
        body.cut(
            "pin hole",
            [front - depth, front + plate.boss_height],
            disc_at(stage.centre_distance, angle, plate.pin_hole),
        );
    }
    for angle in pillars.angles() {
        body.add(
            "pillar",
            [front, pillar_end],
            disc_at(plate.pillar_distance, angle, actuator.design.printer.post(2.0 * plate.pillar_radius)),
        );
    }
    shapes::clearance_holes(&mut body, "pillar screw", pillars, [back, pillar_end]);
    shapes::countersinks(&mut body, "pillar screw head", pillars, back, Opening::Back);
    body.cut("sun boss bore", [back, front], disc(plate.bore));
    shapes::bore_chamfer(&mut body, "bore edge", plate.bore, back, chamfer, Opening::Back);
    Ok(body.stack()?)
}
