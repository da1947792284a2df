//! Whether the lubricant parts the surfaces of a rolling bearing: `kappa = nu / nu1`.
//!
//! - nu at temperature: `log log (nu + 0.7) = A - B log T` (Walther, ASTM D341 in its short form; from memory), through the base oil's
//!   viscosity at 40 degC with [`SLOPE`], that of mineral oils of viscosity index 95 about 100 mm2/s (11.1 mm2/s at 100 degC, from
//!   memory)
//! - nu1, what the bearing asks: `45000 n^-0.83 dm^-0.5` below 1000 turns a minute, `4500 n^-0.5 dm^-0.5` above (ISO 281:2007, 9.3.3.1,
//!   from memory)
//!
//! Range: mineral base oils, 0 to 120 degC. Not covered: thickener, additives, starvation of grease.

/// B of Walther's line.
const SLOPE: f64 = 3.566;
const CELSIUS: f64 = 273.15;

/// Kinematic viscosity \[mm2/s\] at a temperature \[degC\] of an oil of so much at 40 degC; none out of range.
pub fn viscosity(at_40: f64, temperature: f64) -> Option<f64> {
    if !(0.0..=120.0).contains(&temperature) || at_40 <= 1.0 {
        return None;
    }
    let double_log = |viscosity: f64| libm::log10(libm::log10(viscosity + 0.7));
    let kelvin = libm::log10(temperature + CELSIUS) - libm::log10(40.0 + CELSIUS);
    let found = double_log(at_40) - SLOPE * kelvin;
    Some(libm::pow(10.0, libm::pow(10.0, found)) - 0.7)
}

/// Viscosity that parts the surfaces \[mm2/s\], at `speed` \[1/min\] and mean diameter \[mm\]; none at rest.
pub fn reference_viscosity(speed: f64, mean_diameter: f64) -> Option<f64> {
    if speed <= 0.0 || mean_diameter <= 0.0 {
        return None;
    }
    let by_size = 1.0 / mean_diameter.sqrt();
    Some(if speed < 1000.0 {
        45_000.0 * libm::pow(speed, -0.83) * by_size
    } else {
        4500.0 / speed.sqrt() * by_size
    })
}
