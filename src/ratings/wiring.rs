//! Phase leads: the gauge the current asks, and the room it needs.
//!
//! - for hours: r.m.s. current over copper, `J = I / (sqrt 2 A)`, at most [`DENSITY`] for a short lead in moving air (common practice, no
//!   source; band 5 to 12 A/mm2)
//! - at the peak: heat that stays in the copper, `dT = J^2 rho t / (c d)`, at most [`RISE`] (textbook: adiabatic heating; values of
//!   copper from handbooks, from memory)
//!
//! Range: sinusoidal phase currents, times short against the lead's own minute or so. Not covered: bundles, hot surroundings, plugs.

use crate::tables::{Wire, wires};

/// \[A/mm2\]
pub const DENSITY: f64 = 8.0;
/// \[K\]
pub const RISE: f64 = 60.0;
/// Of copper: resistivity \[ohm mm2/m\], specific heat \[J/(kg K)\], density \[kg/m3\].
const RESISTIVITY: f64 = 0.0172;
const SPECIFIC_HEAT: f64 = 385.0;
const COPPER: f64 = 8960.0;
/// Share of an opening that round leads pulled through it fill (common practice, no source).
pub const FILL: f64 = 0.6;
/// Least bend radius at the lead's middle, of its outside (common practice, no source; silicone leads bend tighter).
pub const BEND: f64 = 2.0;

/// Currents of the leads, peak of the phase \[A\], and how long the higher one lasts \[s\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeadLoad {
    pub continuous: f64,
    pub peak: f64,
    pub peak_time: f64,
}

impl LeadLoad {
    /// r.m.s. density for hours in a copper section \[A/mm2\].
    pub fn density(&self, copper: f64) -> f64 {
        self.continuous / std::f64::consts::SQRT_2 / copper
    }

    /// Temperature rise over the peak in a copper section \[K\].
    pub fn rise(&self, copper: f64) -> f64 {
        let density = self.peak / std::f64::consts::SQRT_2 / copper;
        // ohm mm2/m and A/mm2: W/m per mm2; mass per metre and mm2 is density * 1e-6.
        density * density * RESISTIVITY * self.peak_time / (SPECIFIC_HEAT * COPPER * 1e-6)
    }

    /// The thinnest lead of the table that carries it.
    pub fn lead(&self) -> Option<&'static Wire> {
        wires().iter().find(|wire| self.density(wire.copper()) <= DENSITY && self.rise(wire.copper()) <= RISE)
    }
}

/// Area of opening that `count` leads of an outside ask \[mm2\].
pub fn opening(count: u32, outside: f64) -> f64 {
    f64::from(count) * std::f64::consts::PI / 4.0 * outside * outside / FILL
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 40 A peak is 28.28 A r.m.s. on 0.823 mm2: 34.37 A/mm2; for 2 s: 34.37^2 x 0.0172 x 2 / (385 x 8960e-6) = 11.78 K.
    #[test]
    fn adiabatic_heating_by_hand() {
        let load = LeadLoad { continuous: 8.0, peak: 40.0, peak_time: 2.0 };
        assert!((load.rise(0.823) - 11.78).abs() < 0.01, "{}", load.rise(0.823));
        // 8 A are 5.66 r.m.s.: 0.707 mm2 at 8 A/mm2, AWG 18.
        assert_eq!(load.lead().map(|wire| wire.gauge), Some(18));
    }

    #[test]
    fn more_than_the_table_has_no_lead() {
        assert_eq!(LeadLoad { continuous: 100.0, peak: 100.0, peak_time: 1.0 }.lead(), None);
    }
}
