//! A pin between two plates, loaded between them: bending, shear, bearing pressure.
//!
//! Free ends `M = F (l/4 - b/8)` with the load over a width `b` in the middle of the span `l`, clamped ends `M = F l / 8`,
//! cantilever `M = F (e + b/2)`; `sigma = 32 M / (pi d^3)`, shear in two planes `4/3 (F/2) / (pi d^2 / 4)` at its most.
//! Beam formulas: round, straight, long against its diameter. Not covered: contact stress, fatigue.

use std::f64::consts::PI;

/// Moment \[N mm\] of free ends.
pub fn moment_free(force: f64, span: f64, width: f64) -> f64 {
    force * (span / 4.0 - width / 8.0)
}

/// Of clamped ends, load in the middle.
pub fn moment_clamped(force: f64, span: f64) -> f64 {
    force * span / 8.0
}

/// Of a cantilever, load over `width` from `gap` on.
pub fn moment_cantilever(force: f64, gap: f64, width: f64) -> f64 {
    force * (gap + width / 2.0)
}

/// Two equal loads `force / 2` at `spread` in the middle of a free span.
pub fn moment_two_loads(force: f64, span: f64, spread: f64) -> f64 {
    force * (span - spread).max(0.0) / 4.0
}

/// A couple carried in by two opposite forces at `spread` in the middle of a free span: the moment at either.
pub fn moment_couple(couple: f64, span: f64, spread: f64) -> f64 {
    couple * (span - spread).max(0.0) / (2.0 * span)
}

pub fn bending_stress(moment: f64, diameter: f64) -> f64 {
    32.0 * moment / (PI * diameter.powi(3))
}

/// Mean shear stress of a force on `planes` sections.
pub fn shear_stress(force: f64, diameter: f64, planes: f64) -> f64 {
    force / planes / (PI / 4.0 * diameter * diameter)
}

/// Most of the shear stress over a round section, of a force on two sections.
pub fn greatest_shear(force: f64, diameter: f64) -> f64 {
    4.0 / 3.0 * shear_stress(force, diameter, 2.0)
}

/// Greater principal stress of bending with shear.
pub fn principal(bending: f64, shear: f64) -> f64 {
    bending / 2.0 + libm::hypot(bending / 2.0, shear)
}

/// Pressure of a force on a hole's projected area.
pub fn bearing_pressure(force: f64, diameter: f64, depth: f64) -> f64 {
    force / (diameter * depth)
}
