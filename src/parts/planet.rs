//! Planet and what stands on its pin: washer and sleeve. All about the planet's own axis.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::{Actuator, PlanetSeat};

use super::shapes::{self, Opening, disc, ring};
use super::teeth::{End, Teeth};

/// A sleeve thinner than a layer isn't made; the bearings then stand on the float alone.
pub const THINNEST_SLEEVE: f64 = 0.2;
const SEAT_LEAD_IN: f64 = 0.4;

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (planet, gear) = (&actuator.planet, &actuator.stage.planet);
    let bottom = actuator.stations.planet_back;
    let top = actuator.stations.planet_front;
    let mut body = Body::new();
    Teeth::new(actuator, "planet teeth", *gear, 0.0).make(
        &mut body,
        [bottom, top],
        [End::OnBed, End::Free],
    )?;
    if planet.lip_thickness > 0.0 {
        body.cut("lip", [bottom, bottom + planet.lip_thickness], disc(planet.lip_bore));
    }
    body.cut("bearing seat", [bottom + planet.lip_thickness, top], disc(planet.seat));
    shapes::bore_chamfer(&mut body, "seat lead-in", planet.seat, top, SEAT_LEAD_IN, Opening::Front);
    Ok(body.stack()?)
}

/// Between the front bearing's inner ring and the carrier plate.
pub fn washer(actuator: &Actuator) -> Result<Stack, PartFault> {
    let planet = &actuator.planet;
    let front = actuator.stations.plate_back;
    let mut body = Body::new();
    body.add("washer", [front - planet.washer_thickness, front], ring(planet.shoulder, planet.washer_bore));
    Ok(body.stack()?)
}

/// Between the inner rings of the two planet bearings.
pub fn sleeve(actuator: &Actuator) -> Result<Stack, PartFault> {
    let planet = &actuator.planet;
    let width = match &planet.turns_on {
        PlanetSeat::Bearings { width, .. } => *width,
        PlanetSeat::Bush(_) => 0.0,
    };
    let bottom = actuator.stations.planet_back + planet.lip_thickness + width;
    let mut body = Body::new();
    body.add("sleeve", [bottom, bottom + planet.sleeve_length], ring(planet.shoulder, planet.washer_bore));
    Ok(body.stack()?)
}
