//! Heat radiated between two surfaces, as a film coefficient.
//!
//! `q = sigma eps (T1^4 - T2^4)`, so `h = sigma eps (T1^2 + T2^2)(T1 + T2)`, in kelvin; between two parallel grey surfaces
//! `1 / eps = 1/eps1 + 1/eps2 - 1` (textbook). View factor 1. Not covered: sunshine.

use super::air::CELSIUS;

/// Stefan-Boltzmann constant \[W/(m2 K4)\].
const STEFAN_BOLTZMANN: f64 = 5.670_374e-8;
/// Printed plastic: most organic and painted surfaces have about 0.95 (infrared camera makers' tables, read); from memory.
pub const PLASTIC: f64 = 0.92;
/// Anodized aluminium sheet, total (infrared camera makers' tables, read): bells are anodized or painted.
pub const MOTOR: f64 = 0.55;

/// Film coefficient \[W/(m2 K)\] between two temperatures \[degC\].
pub fn film(emissivity: f64, temperature: f64, other: f64) -> f64 {
    let (one, two) = (temperature + CELSIUS, other + CELSIUS);
    STEFAN_BOLTZMANN * emissivity * (one * one + two * two) * (one + two)
}

/// Emissivity of two parallel surfaces together.
pub fn together(one: f64, two: f64) -> f64 {
    1.0 / (1.0 / one + 1.0 / two - 1.0)
}
