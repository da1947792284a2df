//! A thin ring under `n` equal radial loads, equally spaced, in its plane (Roark's form, from memory).
//!
//! `theta = pi / n`, `s`, `c` its sine and cosine. At a load `u = W R^3 / (2 E I) ((theta + s c) / (2 s^2) - 1/theta)`, moment
//! `W R / 2 (1/theta - c/s)`; between loads `u = -W R^3 / (4 E I) (2/theta - 1/s - theta c / s^2)`, moment
//! `-W R / 2 (1/s - 1/theta)`. Bending only: radius large against the ring's own width.

use std::f64::consts::PI;

/// Factors on `W R^3 / (E I)` (outwards positive) and `W R`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThinRing {
    pub at_load: f64,
    pub between: f64,
    pub moment_at_load: f64,
    pub moment_between: f64,
}

impl ThinRing {
    /// None under two loads.
    pub fn under(loads: u32) -> Option<ThinRing> {
        if loads < 2 {
            return None;
        }
        let angle = PI / f64::from(loads);
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        Some(ThinRing {
            at_load: 0.5 * ((angle + sin * cos) / (2.0 * sin * sin) - 1.0 / angle),
            between: -0.25 * (2.0 / angle - 1.0 / sin - angle * cos / (sin * sin)),
            moment_at_load: 0.5 * (1.0 / angle - cos / sin),
            moment_between: -0.5 * (1.0 / sin - 1.0 / angle),
        })
    }
}
