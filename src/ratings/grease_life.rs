//! How long grease lasts in a ball bearing: median life L50 by `log L = 6.33 - 1.58e-6 K V - 2.18e-2 T - 9.84 F + K1`, lithium grease.
//!
//! TPI catalogue 2202/TE, page 16, after Kawamura 2001 (read): `V = dm n`, T degC, `F = P / C`, K 1 with the inner ring turning; K1 -0.29
//! mineral, -0.05 synthetic, +0.42 ester oil. Range: V to 400 000, T 70 to 150; cooler joints last longer: 70 counts.

/// Base oil of a lithium grease.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BaseOil {
    Mineral,
    Ester,
}

/// Coolest the formula knows \[degC\].
const COOLEST: f64 = 70.0;

/// \[h\]; none out of range.
pub fn grease_life(
    oil: BaseOil,
    mean_diameter: f64,
    speed: f64,
    temperature: f64,
    load_share: f64,
) -> Option<f64> {
    let travel = mean_diameter * speed;
    if temperature > 150.0 || travel > 400_000.0 || travel.is_nan() || load_share < 0.0 {
        return None;
    }
    let by_oil = match oil {
        BaseOil::Mineral => -0.29,
        BaseOil::Ester => 0.42,
    };
    let log = 6.33 - 1.58e-6 * travel - 2.18e-2 * temperature.max(COOLEST) - 9.84 * load_share + by_oil;
    Some(libm::pow(10.0, log))
}

/// Least load \[N\] for the balls to roll and not to skid: `kr (nu n / 1000)^(2/3) (dm / 100)^2` kN (SKF General Catalogue, page 298, read;
/// kr 0.015 for series 618, from the row of a 61804, read).
pub fn minimum_load(factor: f64, viscosity: f64, speed: f64, mean_diameter: f64) -> f64 {
    let size = mean_diameter / 100.0;
    factor * libm::pow(viscosity * speed / 1000.0, 2.0 / 3.0) * size * size * 1e3
}
