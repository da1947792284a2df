//! Ring insert: the ring's teeth inside, three or four full-height lobes outside that carry its torque.

use super::PartFault;
use crate::geometry::{Body, Loop, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc_at, spread};

/// Outline of the ring's teeth at z = 0, turned to mesh with the planets.
pub fn teeth(actuator: &Actuator) -> Result<Loop, PartFault> {
    let outline = actuator.stage.ring.profile(super::planet::PROFILE_TOLERANCE)?;
    Ok(outline.rotated(actuator.stage.ring_turn()))
}

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let mut body = Body::new();
    let stations = &actuator.stations;
    let z = [stations.service, stations.ring_front];
    if let (Some(insert), Some(screws)) = (&actuator.ring_insert, &actuator.joints.ring_insert) {
        let lobes = spread(insert.lobe_count, screws.first_angle)
            .map(|angle| disc_at(insert.lobe_distance, angle, 2.0 * insert.lobe_radius));
        body.add("ring and lobes", z, shapes::lobed(insert.outer, lobes)?);
        body.cut_twisted("ring teeth", z, teeth(actuator)?, actuator.stage.ring.twist_per_mm());
        shapes::clearance_holes(&mut body, "lobe screw", screws, z);
        shapes::countersinks(&mut body, "lobe screw head", screws, z[0], Opening::Back);
    }
    Ok(body.stack()?)
}
