//! Static load of deep groove ball bearings.
//!
//! ISO 76:2006, 5.1: `P0 = 0.6 Fr + 0.5 Fa`, at least Fr; safety `s0 = C0 / P0`. Pure axial load at most 0.5 C0, and
//! 0.25 C0 for bores up to 12 mm and diameter series 8, 9, 0, 1 (SKF, deep groove ball bearings, loads; read).

use crate::tables::Bearing;

/// Equivalent static load \[N\].
pub fn equivalent_static_load(radial: f64, axial: f64) -> f64 {
    let (radial, axial) = (radial.abs(), axial.abs());
    f64::max(radial, 0.6 * radial + 0.5 * axial)
}

/// Share of C0 an axial load may reach.
pub fn axial_share(bearing: &Bearing) -> f64 {
    if bearing.is_light() { 0.25 } else { 0.5 }
}
