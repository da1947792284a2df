//! Bearings as two rings and balls, bushes as sleeves.
//!
//! Ball diameter, lands and count are made up from the boundary sizes: balls 0.32 of the ring's section, lands 0.55 of a ball to
//! either side of the pitch circle, a ball every 1.4 diameters. Only bore, outside and width are the maker's.

use std::f64::consts::PI;

use super::{AXIS, Balls, Bought, BoughtError, named, on_pins};
use crate::bom::Kind;
use crate::geometry::{Body, Point, Region, ShapeError, Stack};
use crate::layout::{Actuator, PlanetSeat};
use crate::parts::{Motion, Place};

const BALL: f64 = 0.32;
const LAND: f64 = 0.55;
const PITCH: f64 = 1.4;

/// Boundary sizes of one bearing, standing from `back` on.
struct Boundary<'a> {
    name: &'a str,
    bore: f64,
    outer: f64,
    width: f64,
    back: f64,
}

fn ring(outer: f64, inner: f64, z: [f64; 2]) -> Result<Stack, ShapeError> {
    let mut body = Body::new();
    body.add("ring", z, Region::annulus(Point::ORIGIN, inner / 2.0, outer / 2.0));
    body.stack()
}

/// Inner and outer ring, the balls with the outer one.
fn pair(
    bearing: &Boundary,
    places: &[Place],
    [inner, outer]: [Motion; 2],
) -> Result<[Bought; 2], BoughtError> {
    let z = [bearing.back, bearing.back + bearing.width];
    let circle = (bearing.bore + bearing.outer) / 2.0;
    let diameter = BALL * (bearing.outer - bearing.bore);
    let count = (PI * circle / (PITCH * diameter)).floor() as u32;
    let body = |part: &str, [large, small]: [f64; 2], balls, motion| -> Result<Bought, BoughtError> {
        let name = format!("{} {part}", bearing.name);
        let stack = named(&name, ring(large, small, z))?;
        Ok(Bought { name, kind: Kind::Bearing, stack, balls, places: places.to_vec(), motion, joint: None })
    };
    let balls = Balls { count, diameter, circle, z: (z[0] + z[1]) / 2.0 };
    Ok([
        body("inner ring", [circle - 2.0 * LAND * diameter, bearing.bore], None, inner)?,
        body("outer ring", [bearing.outer, circle + 2.0 * LAND * diameter], Some(balls), outer)?,
    ])
}

pub(super) fn all(actuator: &Actuator) -> Result<Vec<Bought>, BoughtError> {
    let bearings = &actuator.design.bearings;
    let output = &bearings.output;
    let mut found = Vec::new();
    for index in 0..bearings.output_count {
        let name = match bearings.output_count {
            1 => format!("output bearing {}", output.designation),
            _ => format!("output bearing {} no. {}", output.designation, index + 1),
        };
        let step = output.width + bearings.output_spacing;
        let boundary = Boundary {
            name: &name,
            bore: output.bore,
            outer: output.outer,
            width: output.width,
            back: actuator.stations.bearing_back + f64::from(index) * step,
        };
        found.extend(pair(&boundary, &[AXIS], [Motion::Carrier, Motion::Fixed])?);
    }
    let pins = on_pins(actuator);
    let (back, front) = (actuator.stations.planet_back, actuator.stations.planet_front);
    match &actuator.planet.turns_on {
        PlanetSeat::Bearings { bearing, width, spread } => {
            let first = back + actuator.planet.lip_thickness;
            for (side, back) in [("back", first), ("front", first + spread)] {
                let name = format!("planet bearing {} {side}", bearing.designation);
                let boundary =
                    Boundary { name: &name, bore: bearing.bore, outer: bearing.outer, width: *width, back };
                found.extend(pair(&boundary, &pins, [Motion::Carrier, Motion::Planet])?);
            }
        }
        PlanetSeat::Bush(bush) => {
            let name = "planet bush".to_string();
            let stack = named(&name, ring(bush.outer, bush.bore, [back, front]))?;
            found.push(Bought {
                name,
                kind: Kind::Bearing,
                stack,
                balls: None,
                places: pins,
                motion: Motion::Planet,
                joint: None,
            });
        }
    }
    Ok(found)
}
