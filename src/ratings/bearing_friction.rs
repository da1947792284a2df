//! Friction torque of a rolling bearing, the simple estimate `M = 0.5 mu P d` (SKF General Catalogue, page 88, read).
//!
//! mu 0.0015 for deep groove ball bearings, unsealed; for crossed roller bearings `mu P0 Dpw / 2` with about 0.010 (IKO, page J12,
//! read). Range: loads about 0.1 C, good lubrication, middle speeds. Slow bearings in stiff grease turn heavier (the maker's longer
//! model says so). Not covered: seals, fresh grease.

/// Of deep groove ball bearings.
pub const DEEP_GROOVE: f64 = 0.0015;

/// \[N m\] from the equivalent load \[N\] and the bore \[mm\].
pub fn friction_torque(coefficient: f64, load: f64, bore: f64) -> f64 {
    0.5 * coefficient * load.abs() * bore * 1e-3
}
