//! Ring insert: the ring's teeth inside, three or four full-height lobes outside that carry its torque. For herringbone
//! teeth in two halves, which meet at the middle of the planets.

use super::PartFault;
use crate::design::ToothForm;
use crate::geometry::{Body, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc_at, spread};
use super::teeth::{End, Teeth};

/// The ring's teeth, turned to mesh with the planets.
pub fn teeth(actuator: &Actuator) -> Teeth<'_> {
    Teeth::new(actuator, "ring teeth", actuator.stage.ring, actuator.stage.ring_turn())
}

/// The insert; of a split ring the front half.
pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (service, front) = (actuator.stations.service, actuator.stations.ring_front);
    if actuator.stage.tooth_form == ToothForm::Herringbone {
        insert(actuator, [joint(actuator), front], [End::Joined, End::OnBed], false)
    } else {
        insert(actuator, [service, front], [End::Free, End::OnBed], true)
    }
}

/// The back half of a split ring.
pub fn back_half(actuator: &Actuator) -> Result<Stack, PartFault> {
    insert(actuator, [actuator.stations.service, joint(actuator)], [End::Free, End::OnBed], true)
}

/// Where the halves meet.
fn joint(actuator: &Actuator) -> f64 {
    0.5 * (actuator.stations.planet_back + actuator.stations.planet_front)
}

fn insert(actuator: &Actuator, z: [f64; 2], ends: [End; 2], heads: bool) -> Result<Stack, PartFault> {
    let mut body = Body::new();
    if let (Some(insert), Some(screws)) = (&actuator.ring_insert, &actuator.joints.ring_insert) {
        let lobes = spread(insert.lobe_count, screws.first_angle)
            .map(|angle| disc_at(insert.lobe_distance, angle, 2.0 * insert.lobe_radius));
        body.add("ring and lobes", z, shapes::lobed(insert.outer, lobes)?);
        teeth(actuator).make(&mut body, z, ends)?;
        shapes::clearance_holes(&mut body, "lobe screw", screws, z);
        if heads {
            shapes::countersinks(&mut body, "lobe screw head", screws, z[0], Opening::Back);
        }
    }
    Ok(body.stack()?)
}
