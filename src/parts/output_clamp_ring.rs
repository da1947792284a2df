//! Clamp ring: spigot on the inner ring, flange with the output pattern, pockets for the crown.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc, sector, spread};

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (ring, stations, joints) = (&actuator.clamp_ring, &actuator.stations, &actuator.joints);
    let (back, face) = (stations.bearing_front, stations.output_face);
    let chamfer = actuator.design.printer.bed_chamfer;
    let mut body = Body::new();
    body.add("spigot", [back, stations.flange_back], disc(ring.spigot_diameter));
    shapes::add_chamfered(
        &mut body,
        "flange",
        [stations.flange_back, face],
        disc(ring.flange_diameter),
        chamfer,
        Opening::Front,
    )?;
    body.cut("bore", [back, face], disc(ring.bore));
    shapes::bore_chamfer(&mut body, "bore edge", ring.bore, face, chamfer, Opening::Front);

    let crown = &actuator.carrier.crown;
    let room = ring.crown_clearance;
    let top = stations.hub_front + crown.height + room;
    for angle in spread(crown.count, crown.first_angle) {
        let half = crown.half_angle + room / crown.inner_radius;
        body.cut(
            "crown pocket",
            [back, top],
            sector(crown.inner_radius - room, crown.outer_radius + room, angle, half),
        );
    }
    shapes::clearance_holes(&mut body, "output bolt", &joints.output, [back, face]);
    shapes::clearance_holes(&mut body, "clamp screw", &joints.clamp_ring, [back, face]);
    shapes::countersinks(&mut body, "clamp screw head", &joints.clamp_ring, face, Opening::Front);
    Ok(body.stack()?)
}
