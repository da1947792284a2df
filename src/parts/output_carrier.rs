//! Output carrier: plate, shoulder step, hub in the output bearing, crown into the clamp ring. Only narrows upwards.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::{Actuator, OUTPUT_TIP_ROOM};

use super::shapes::{self, Opening, disc, disc_at, sector, spread};

/// Chamfer over which the bearing slides onto the hub.
pub(super) const HUB_CHAMFER: f64 = 0.4;

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (carrier, stations, joints) = (&actuator.carrier, &actuator.stations, &actuator.joints);
    let (back, hub_front) = (stations.plate_back, stations.hub_front);
    let chamfer = actuator.design.printer.bed_chamfer;
    let mut body = Body::new();
    shapes::add_chamfered(
        &mut body,
        "plate",
        [back, stations.plate_front],
        disc(carrier.plate_diameter),
        chamfer,
        Opening::Back,
    )?;
    body.add("shoulder", [stations.plate_front, stations.bearing_back], disc(carrier.step_diameter));
    let hub = disc(carrier.hub_diameter);
    shapes::add_chamfered(
        &mut body,
        "hub",
        [stations.bearing_back, hub_front],
        hub,
        HUB_CHAMFER,
        Opening::Front,
    )?;
    let crown = &carrier.crown;
    for angle in spread(crown.count, crown.first_angle) {
        let tooth = sector(crown.inner_radius, crown.outer_radius, angle, crown.half_angle);
        body.add("crown", [hub_front, hub_front + crown.height], tooth);
    }

    body.cut("bore", [back, hub_front], disc(carrier.bore));
    shapes::bore_chamfer(&mut body, "bore edge", carrier.bore, back, chamfer, Opening::Back);
    let (planets, distance) = (actuator.stage.planets, actuator.stage.centre_distance);
    let pin_depth = actuator.planet.pin_depth_carrier + 0.3;
    for k in 0..planets {
        let angle = actuator.stage.spacing.position(k);
        body.cut("pin hole", [back, back + pin_depth], disc_at(distance, angle, carrier.pin_hole));
    }
    shapes::insert_holes(
        &mut body,
        "pillar insert",
        actuator,
        &joints.pillars,
        back,
        joints.pillars.hole_depth(),
        Opening::Back,
    );
    let output = &joints.output;
    shapes::insert_holes(
        &mut body,
        "output insert",
        actuator,
        output,
        hub_front,
        output.hole_depth() + OUTPUT_TIP_ROOM,
        Opening::Front,
    );
    let clamp = &joints.clamp_ring;
    shapes::insert_holes(
        &mut body,
        "clamp insert",
        actuator,
        clamp,
        hub_front,
        clamp.hole_depth(),
        Opening::Front,
    );
    Ok(body.stack()?)
}
