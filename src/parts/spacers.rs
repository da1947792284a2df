//! Equal spacers between the two output bearings of a pair.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::{Actuator, Spacers};

use super::shapes::ring;

fn spacer(actuator: &Actuator, diameters: fn(&Spacers) -> (f64, f64)) -> Result<Stack, PartFault> {
    let mut body = Body::new();
    if let Some(spacers) = &actuator.spacers {
        let back = actuator.stations.bearing_back + actuator.design.bearings.output.width;
        let (outer, inner) = diameters(spacers);
        body.add("spacer", [back, back + spacers.width], ring(outer, inner));
    }
    Ok(body.stack()?)
}

/// Clamped between the inner rings.
pub fn inner(actuator: &Actuator) -> Result<Stack, PartFault> {
    spacer(actuator, |spacers| (spacers.inner_outer, spacers.inner_bore))
}

/// Clamped between the outer rings.
pub fn outer(actuator: &Actuator) -> Result<Stack, PartFault> {
    spacer(actuator, |spacers| (spacers.outer_outer, spacers.outer_bore))
}
