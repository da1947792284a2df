//! Strength of a printed tooth: an estimate with a band, every share of it an assumption stated here.
//!
//! `strength x heat x infill x case`:
//! - strength: the material's tensile strength in the direction that counts. Teeth stand in the layer plane, so a root
//!   bends within the layers; a helix's thrust loads across them. Printer to printer 0.75 to 1.2 (common practice).
//! - heat: straight from 1 at 23 degC to a half (0.35 to 0.7) at the material's service temperature, nothing gained below.
//! - infill: 1 for a solid root, else 0.6 (0.4 to 0.8).
//! - case: a peak counts whole; an impact 0.8 (0.5 to 1.2: a fast load finds more strength and less toughness); for a
//!   number of cycles `(N / 1000)^-0.2` (exponent 0.3 to 0.13), a quarter at 1e6. The exponent is that of the POM curve in
//!   [`Moulded`](super::Moulded); a printed root has the flaws to start lower.
//! - idler: a planet's teeth bend both ways, which costs 30 % of the strength in cycles (ISO 6336-5, Niemann, from memory)
//!   and nothing of a one-off peak.
//!
//! Plain bars were pulled for these strengths: compare them with the root's local stress, its stress correction included.
//! Not covered: creep under a standing load, moisture, weld lines, ageing.

use super::Band;
use super::not_applicable::NotApplicable;
use crate::tables::Material;

/// Of the strength in cycles.
pub const IDLER_SHARE: f64 = 0.7;

/// The first yield under a line contact begins at this pressure over the yield stress (Tresca; Johnson, Contact
/// Mechanics, from memory).
const FIRST_YIELD: f64 = 1.67;

const ROOM_TEMPERATURE: f64 = 23.0;
const LEFT_AT_SERVICE_TEMPERATURE: Band = Band { value: 0.5, low: 0.35, high: 0.7 };
const PRINTER_TO_PRINTER: Band = Band { value: 1.0, low: 0.75, high: 1.2 };
const SPARSE_ROOT: Band = Band { value: 0.6, low: 0.4, high: 0.8 };
const IMPACT: Band = Band { value: 0.8, low: 0.5, high: 1.2 };
const STATIC_CYCLES: f64 = 1e3;
const MOST_CYCLES: f64 = 1e9;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayerDirection {
    /// Root bending of a gear printed flat.
    InLayers,
    /// Thrust of a helix.
    AcrossLayers,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadCase {
    /// Static, at most a thousand times in a life.
    Peak,
    /// Load cycles of one tooth in a life.
    Continuous { cycles: f64 },
    /// A blow.
    Impact,
}

/// A printed gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Printed<'a> {
    pub material: &'a Material,
    pub solid_root: bool,
    /// Bends both ways: a planet.
    pub idler: bool,
}

impl Printed<'_> {
    /// Strength of the tooth \[MPa\].
    ///
    /// # Errors
    /// Over the material's service temperature, and for a number of cycles that isn't one.
    pub fn strength(
        &self,
        direction: LayerDirection,
        temperature: f64,
        case: LoadCase,
    ) -> Result<Band, NotApplicable> {
        let base = match direction {
            LayerDirection::InLayers => self.material.strength_in_plane,
            LayerDirection::AcrossLayers => self.material.strength_across,
        };
        let infill = if self.solid_root { Band::ONE } else { SPARSE_ROOT };
        let shares =
            temperature_share(self.material, temperature)?.times(infill).times(self.case_share(case)?);
        Ok(PRINTER_TO_PRINTER.times(shares).scaled(base))
    }

    /// Flank pressure \[MPa\] that the surface bears: first yield, lowered by cycles. Teeth are compressed within layers.
    ///
    /// # Errors
    /// As [`Printed::strength`].
    pub fn flank_strength(&self, temperature: f64, case: LoadCase) -> Result<Band, NotApplicable> {
        // Each flank of a planet meets one mate only: no idler's cost here.
        let flank = Printed { idler: false, ..*self };
        Ok(flank.strength(LayerDirection::InLayers, temperature, case)?.scaled(FIRST_YIELD))
    }

    fn case_share(&self, case: LoadCase) -> Result<Band, NotApplicable> {
        match case {
            LoadCase::Peak => Ok(Band::ONE),
            LoadCase::Impact => Ok(IMPACT),
            LoadCase::Continuous { cycles } => {
                let both_ways = if self.idler { IDLER_SHARE } else { 1.0 };
                Ok(cycles_share(cycles)?.scaled(both_ways))
            }
        }
    }
}

/// # Errors
/// Cycles under 1 or over 1e9.
pub fn cycles_share(cycles: f64) -> Result<Band, NotApplicable> {
    if !(1.0..=MOST_CYCLES).contains(&cycles) {
        return Err(NotApplicable::Cycles { cycles, from: 1.0, to: MOST_CYCLES });
    }
    let logarithm = libm::log((cycles / STATIC_CYCLES).max(1.0));
    let share = |exponent: f64| libm::exp(-exponent * logarithm);
    Ok(Band { value: share(0.2), low: share(0.3), high: share(0.13) })
}

/// What is left of a material's strength and stiffness at a temperature \[degC\].
///
/// # Errors
/// Over its service temperature.
pub fn temperature_share(material: &Material, temperature: f64) -> Result<Band, NotApplicable> {
    let limit = material.service_temperature;
    if temperature.is_nan() || temperature > limit {
        return Err(NotApplicable::TooHot { temperature, limit });
    }
    if temperature <= ROOM_TEMPERATURE {
        return Ok(Band::ONE);
    }
    let way = (temperature - ROOM_TEMPERATURE) / (limit - ROOM_TEMPERATURE);
    let share = |left: f64| 1.0 - (1.0 - left) * way;
    let left = LEFT_AT_SERVICE_TEMPERATURE;
    Ok(Band { value: share(left.value), low: share(left.low), high: share(left.high) })
}
