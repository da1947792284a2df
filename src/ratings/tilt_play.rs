//! How far the output tips to and fro in its bearing's clearance.
//!
//! - one deep groove bearing: axial play by the grooves' curvature `A = (fi + fo - 1) Dw`,
//!   `Ga = 2 sqrt(A Gr - Gr^2 / 4)` (geometry of the contact; textbook of rolling bearings, from memory), tipping `Ga / (dm / 2)` from one
//!   stop to the other; A = 0.04 Dw (grooves of 0.52 ball diameters), Dw = 0.3 (D - d): estimates, the makers print neither
//! - a pair: `2 Gr / span` between the middles; none once a shim takes the play away
//!
//! Range: unmounted clearance; printed seats take nothing of it. Not covered: elastic tipping under load.

/// Ball diameter of the section, and curvature of the ball diameter: estimates.
const BALL: f64 = 0.3;
const CURVATURE: f64 = 0.04;

/// Tipping of one bearing from stop to stop \[rad\]; sizes \[mm\], radial clearance \[mm\].
pub fn single(bore: f64, outer: f64, clearance: f64) -> f64 {
    let curvature = CURVATURE * BALL * (outer - bore);
    let axial = 2.0 * (curvature * clearance - clearance * clearance / 4.0).max(0.0).sqrt();
    axial / ((bore + outer) / 4.0)
}

/// Tipping of a pair from stop to stop \[rad\].
pub fn pair(span: f64, clearance: f64) -> f64 {
    2.0 * clearance / span
}
