//! Pull-out of a heat-set insert, an estimate: `F = 0.2 sigma_t pi D L`.
//!
//! No maker's table of pull-out by plastic is published. The form is a shear check fitted to one measured datum, an M8
//! insert in sintered PA12 (3.83 kN, Polymers 18(1) 112, 2025): 9.6 MPa on the cylinder, 0.2 of the tensile strength.
//! `sigma_t` is the strength in the weak direction. Band: half to twice the value.

use crate::tables::{Insert, Material};

const SHARE: f64 = 0.2;
/// The estimate lies between value / BAND and value x BAND.
pub const BAND: f64 = 2.0;

/// \[N\]
pub fn pull_out(insert: &Insert, material: &Material) -> f64 {
    SHARE * material.strength_across * std::f64::consts::PI * insert.outside * insert.length
}
