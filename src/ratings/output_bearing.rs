//! The output bearing: loads from what hangs on the joint, life and safety.
//!
//! Radial load: hanging weight and further radial load, times the shock factor for the static side. Moment: radial load
//! times its distance from the bearing, plus what the weight's lever adds when it hangs along the axis.
//!
//! One bearing: a single deep groove bearing has no published moment capacity (SKF allows 2 to 10 arc minutes of tilt,
//! pages 296-299); the moment is taken as the couple of two opposite axial loads on the mean diameter, `4 M / dm`
//! added to the axial load (KAYDON, page 94, words it so for four-point bearings), and limited by the axial share of C0.
//! Two bearings: reactions `R = M / s +- F / 2` on the span of their middles; the worse one is rated.
//! Not covered: stiffness, clearance under load, preload.

use crate::ratings::{bearing_life, bearing_load, static_load};
use crate::tables::Bearing;

/// What acts on the output, N and mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutputLoads {
    pub radial: f64,
    /// Positive pulls away from the housing.
    pub axial: f64,
    /// Of the radial load in front of the bearing's middle (of the pair's middle).
    pub overhang: f64,
    pub shock: f64,
    /// Turns or oscillations a second.
    pub rate: f64,
    pub oscillation: Option<f64>,
    pub reliability: f64,
}

/// The rated bearing (the worse of a pair).
#[derive(Clone, Debug, PartialEq)]
pub struct OutputBearing {
    /// Load on the rated bearing \[N\], without shock.
    pub radial: f64,
    /// With the moment's share for a single bearing \[N\].
    pub axial: f64,
    /// Overturning moment \[N m\], without shock.
    pub moment: f64,
    /// \[N\]; none beyond the standard's range.
    pub equivalent_dynamic: Option<f64>,
    /// With shock \[N\].
    pub equivalent_static: f64,
    pub life_mrev: Option<f64>,
    /// At the reliability asked for.
    pub life_hours: Option<f64>,
    pub static_safety: f64,
    /// Axial load, with moment and shock, over what the bearing may carry.
    pub axial_share: f64,
    /// Why there is no life, if there is none.
    pub no_life: Option<&'static str>,
}

/// Rates the bearing or the pair.
pub fn rate(bearing: &Bearing, count: u32, spacing: f64, loads: &OutputLoads) -> OutputBearing {
    let moment = loads.radial * loads.overhang * 1e-3;
    let (radial, axial) = if count == 2 {
        let span = bearing.width + spacing;
        (moment * 1e3 / span + loads.radial / 2.0, loads.axial.abs())
    } else {
        (loads.radial, loads.axial.abs() + 4.0 * moment * 1e3 / bearing.mean_diameter())
    };
    let dynamic =
        bearing.f0.and_then(|f0| bearing_load::equivalent_load(radial, axial, f0, bearing.static_rating));
    let equivalent_dynamic = dynamic.map(|found| found.load);
    let life = equivalent_dynamic.and_then(|load| bearing_life::basic_life(bearing.dynamic_rating, load));
    let adjusted = life.zip(bearing_life::reliability_factor(loads.reliability)).map(|(life, a1)| life * a1);
    let life_hours = adjusted.and_then(|life| bearing_life::hours(life, loads.rate, loads.oscillation));
    let equivalent_static = static_load::equivalent_static_load(radial, axial) * loads.shock;
    let no_life = match (bearing.f0, equivalent_dynamic, life, life_hours) {
        (None, ..) => Some("the bearing's row has no f0"),
        (_, None, ..) => Some("the axial load is beyond the standard's table"),
        (_, _, None, _) => Some("no load, or one over half of C"),
        (_, _, _, None) => Some("the swing is under 5 degrees (fretting decides), or the rate is zero"),
        _ => None,
    };
    OutputBearing {
        radial,
        axial,
        moment,
        equivalent_dynamic,
        equivalent_static,
        life_mrev: life,
        life_hours,
        static_safety: bearing.static_rating / equivalent_static.max(f64::MIN_POSITIVE),
        axial_share: axial * loads.shock / (static_load::axial_share(bearing) * bearing.static_rating),
        no_life,
    }
}
