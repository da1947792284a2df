//! Air that rises through the openings of a warm housing.
//!
//! `Q = Cd A sqrt(2 g dH (Ti - To) / Ti)`, `Cd = 0.40 + 0.0045 |Ti - To|`, kelvin (ASHRAE Fundamentals 1997, chapter 25, equations 37
//! and 38, read); `dH` is half the height between openings. It is little: openings of 2 cm2 carry about a watt. Vents
//! help by baring metal and by letting a turning rotor pump, which is not rated. Range: Ti over To. Not covered: grilles,
//! dust, wind.

use super::air::{Air, CELSIUS, SPECIFIC_HEAT};
use super::convection::GRAVITY;

/// Flow \[m3/s\] through openings of `area` \[mm2\] in and as much out, `height` \[mm\] apart from neutral level, between the
/// temperatures inside and outside \[degC\].
pub fn flow(area: f64, height: f64, inside: f64, outside: f64) -> f64 {
    let difference = inside - outside;
    if difference <= 0.0 || area <= 0.0 {
        return 0.0;
    }
    // The coefficient was measured up to some tens of kelvin; an orifice can't have more than 1.
    let discharge = f64::min(0.40 + 0.0045 * difference, 1.0);
    let drive = 2.0 * GRAVITY * height * 1e-3 * difference / (inside + CELSIUS);
    discharge * area * 1e-6 * drive.sqrt()
}

/// Heat carried per kelvin \[W/K\].
pub fn conductance(area: f64, height: f64, inside: f64, outside: f64) -> f64 {
    Air::at(outside).density * SPECIFIC_HEAT * flow(area, height, inside, outside)
}
