//! Properties of dry air at sea level over temperature.
//!
//! Viscosity by Sutherland `1.458e-6 T^1.5 / (T + 110.4)`, conductivity `2.64638e-3 T^1.5 / (T + 245.4 10^(-12/T))`, both as in the
//! U.S. Standard Atmosphere 1976 (from memory; within 2.5 % of the handbook values of `tests/published`). Ideal gas at
//! 101 325 Pa. Range: 200 to 800 K. Not covered: humidity, altitude.

/// Zero of the Celsius scale \[K\].
pub const CELSIUS: f64 = 273.15;
/// Specific heat at constant pressure \[J/(kg K)\]; 1005 to 1009 from 250 to 400 K (from memory).
pub const SPECIFIC_HEAT: f64 = 1007.0;
const PRESSURE: f64 = 101_325.0;
/// Of dry air \[J/(kg K)\].
const GAS_CONSTANT: f64 = 287.05;

/// Properties at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// \[W/(m K)\]
    pub conductivity: f64,
    /// Kinematic viscosity \[m2/s\].
    pub viscosity: f64,
    /// Thermal diffusivity \[m2/s\].
    pub diffusivity: f64,
    /// Thermal expansion \[1/K\].
    pub expansion: f64,
    /// \[kg/m3\]
    pub density: f64,
}

impl Air {
    /// At a temperature \[degC\].
    pub fn at(temperature: f64) -> Air {
        // Beyond this range no surface of the joint exists; a solver may step there.
        let kelvin = (temperature + CELSIUS).clamp(200.0, 1500.0);
        let power = kelvin * kelvin.sqrt();
        let density = PRESSURE / (GAS_CONSTANT * kelvin);
        let conductivity =
            2.646_38e-3 * power / (kelvin + 245.4 * libm::exp(-12.0 * std::f64::consts::LN_10 / kelvin));
        Air {
            conductivity,
            viscosity: 1.458e-6 * power / (kelvin + 110.4) / density,
            diffusivity: conductivity / (density * SPECIFIC_HEAT),
            expansion: 1.0 / kelvin,
            density,
        }
    }

    /// Prandtl number.
    pub fn prandtl(&self) -> f64 {
        self.viscosity / self.diffusivity
    }

    /// Rayleigh number of a surface of `length` \[m\] that is `difference` \[K\] warmer or colder, under `gravity` \[m/s2\].
    pub fn rayleigh(&self, difference: f64, length: f64, gravity: f64) -> f64 {
        gravity * self.expansion * difference.abs() * length * length * length
            / (self.viscosity * self.diffusivity)
    }
}
