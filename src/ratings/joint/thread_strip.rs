//! Load that strips an engaged thread: `F = tau A L`.
//!
//! Shear area per length (FED-STD-H28 form, nominal sizes, from memory): of the nut thread at the screw's crests
//! `pi d (0.5 + 0.577 (d - d2) / P)`, of the screw's at the nut's crests `pi D1 (0.5 + 0.577 (d2 - D1) / P)`; strength in shear
//! 0.6 of the tensile one. The weaker of the two strips.
//! Range: coarse metric threads of medium fit, engaged on full flanks. Not covered: first threads loaded more, runout, wear.

use std::f64::consts::PI;

use super::metric_thread::MetricThread;

/// Tangent of half the flank angle.
const TANGENT: f64 = 0.577_350_269_189_625_7;
/// Of tensile strength (from memory; 0.577 by von Mises).
pub const SHEAR_SHARE: f64 = 0.6;
/// Tensile strength of insert brass, CuZn39Pb3 (from memory: 380 to 430 MPa).
pub const BRASS: f64 = 380.0;
/// Tensile strength of a motor's die-cast or machined aluminium (from memory: 180 for castings, 290 for 6061-T6).
pub const ALUMINIUM: f64 = 180.0;

/// Shear area of the nut thread per millimetre engaged \[mm2/mm\].
pub fn nut_area(thread: &MetricThread) -> f64 {
    let flank = (thread.nominal - thread.pitch_diameter()) / thread.pitch;
    PI * thread.nominal * (0.5 + TANGENT * flank)
}

/// Of the screw's thread.
pub fn screw_area(thread: &MetricThread) -> f64 {
    let flank = (thread.pitch_diameter() - thread.minor_diameter()) / thread.pitch;
    PI * thread.minor_diameter() * (0.5 + TANGENT * flank)
}

/// Load \[N\] that strips `engagement` of thread; tensile strengths of nut and screw material.
pub fn strip_load(thread: &MetricThread, engagement: f64, nut_strength: f64, screw_strength: f64) -> f64 {
    let per_length = f64::min(nut_area(thread) * nut_strength, screw_area(thread) * screw_strength);
    SHEAR_SHARE * per_length * engagement.max(0.0)
}
