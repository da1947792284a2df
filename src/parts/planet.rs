//! Planet and what stands on its pin: washer and sleeve. All about the planet's own axis.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc, ring};

/// How far an arc of a tooth's outline may lie from the true curve: half a micrometre, under any printer's step.
pub const PROFILE_TOLERANCE: f64 = 5e-4;
/// A sleeve thinner than a layer isn't made; the bearings then stand on the float alone.
pub const THINNEST_SLEEVE: f64 = 0.2;
/// First layers of a gear are thinned against the elephant foot: over this height, by at most this much.
const FOOT_HEIGHT: f64 = 0.3;
const FOOT_MOST: f64 = 0.15;
const SEAT_LEAD_IN: f64 = 0.4;

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (planet, gear) = (&actuator.planet, &actuator.stage.planet);
    let bottom = actuator.stations.planet_back;
    let top = actuator.stations.planet_front;
    let mut body = Body::new();
    let twist = gear.twist_per_mm();
    let foot = f64::min(actuator.design.printer.elephant_foot, FOOT_MOST);
    let mut from = bottom;
    if foot > 0.0 {
        from = bottom + FOOT_HEIGHT;
        body.add_twisted(
            "planet teeth, first layers",
            [bottom, from],
            gear.profile_grown(-foot, PROFILE_TOLERANCE)?,
            twist,
        );
    }
    body.add_twisted("planet teeth", [from, top], gear.profile(PROFILE_TOLERANCE)?, twist);
    body.cut("lip", [bottom, bottom + planet.lip_thickness], disc(planet.lip_bore));
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
    let bottom = actuator.stations.planet_back + planet.lip_thickness + planet.bearing_width;
    let mut body = Body::new();
    body.add("sleeve", [bottom, bottom + planet.sleeve_length], ring(planet.shoulder, planet.washer_bore));
    Ok(body.stack()?)
}
