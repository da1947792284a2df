//! Pull-out and torque-out of a heat-set insert, estimates: `F = 0.2 sigma_t pi D L`, `T = 0.2 sigma pi D L D / 2`.
//!
//! No maker's table by plastic is published. The pull-out is a shear check fitted to one measured datum, an M8 insert in
//! sintered PA12 (3.83 kN, Polymers 18(1) 112, 2025): 9.6 MPa on the cylinder, 0.2 of the tensile strength. `sigma_t` is the
//! strength in the weak direction; turning shears the plastic in its layers, so the strength there counts, at the same share (an
//! assumption: no measured torque could be read). Band of both: half to twice the value.

use std::f64::consts::PI;

const SHARE: f64 = 0.2;
/// The estimate lies between value / BAND and value x BAND.
pub const BAND: f64 = 2.0;

/// \[N\]; outside diameter and length of the knurl, strength across layers.
pub fn pull_out(outside: f64, length: f64, strength_across: f64) -> f64 {
    SHARE * strength_across * PI * outside * length
}

/// \[N mm\]; strength in the layer plane.
pub fn torque_out(outside: f64, length: f64, strength_in_plane: f64) -> f64 {
    SHARE * strength_in_plane * PI * outside * length * outside / 2.0
}
