//! The output bearing: loads from what hangs on the joint, life and safety.
//!
//! Radial load in work: hanging weight and further radial load; it sets the life. At its worst, for the static side: the
//! same with the shock factor, or the peak torque's force at the end of the lever, whichever is more. Moment: radial
//! load times its distance from the bearing.
//!
//! One bearing: a single deep groove bearing has no published moment capacity (SKF allows 2 to 10 arc minutes of tilt,
//! pages 296-299); the moment is taken as the couple of two opposite axial loads on the mean diameter, `4 M / dm`
//! added to the axial load (KAYDON, page 94, words it so for four-point bearings), and limited by the axial share of C0.
//! Two bearings: reactions `R = M / s +- F / 2` on the span of their middles; the worse one is rated.
//! A crossed roller bearing carries the moment itself ([`crossed_roller`](super::crossed_roller)).
//! Not covered: stiffness, clearance under load, preload.

use crate::ratings::{bearing_life, bearing_load, crossed_roller, static_load};
use crate::tables::{Bearing, BearingKind, ClearanceGroup};

/// What acts on the output, N and mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutputLoads {
    pub radial: f64,
    /// Positive pulls away from the housing.
    pub axial: f64,
    /// Largest radial load, shock and the peak torque's force on the lever included.
    pub peak_radial: f64,
    /// Of the radial load in front of the bearing's middle (of the pair's middle).
    pub overhang: f64,
    pub shock: f64,
    /// Turns or oscillations a second.
    pub rate: f64,
    /// Swing from one end to the other \[rad\]; none if it turns through.
    pub swing: Option<f64>,
    pub reliability: f64,
    pub clearance: ClearanceGroup,
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
    /// At the worst \[N\].
    pub equivalent_static: f64,
    /// Overturning moment at the worst \[N m\].
    pub peak_moment: f64,
    pub life_mrev: Option<f64>,
    /// At the reliability asked for.
    pub life_hours: Option<f64>,
    pub static_safety: f64,
    /// Axial load, with moment and shock, over what the bearing may carry.
    pub axial_share: f64,
    /// Why there is no life, if there is none.
    pub no_life: Option<&'static str>,
}

/// Radial and axial load on the rated bearing, and the moment \[N m\], for a radial load at the overhang.
fn on_bearing(
    bearing: &Bearing,
    count: u32,
    spacing: f64,
    overhang: f64,
    radial: f64,
    axial: f64,
) -> (f64, f64, f64) {
    let moment = radial * overhang * 1e-3;
    if count == 2 {
        let span = bearing.width + spacing;
        (moment * 1e3 / span + radial / 2.0, axial, moment)
    } else {
        (radial, axial + 4.0 * moment * 1e3 / bearing.mean_diameter(), moment)
    }
}

/// Equivalent dynamic load \[N\] on the rated bearing under a radial and an axial load \[N\] at the overhang; `arrangement` is the count
/// and the spacing. None beyond the standard's range.
pub fn equivalent(
    bearing: &Bearing,
    (count, spacing): (u32, f64),
    overhang: f64,
    [radial, axial]: [f64; 2],
    group: ClearanceGroup,
) -> Option<f64> {
    if let BearingKind::CrossedRoller { pitch_circle } = bearing.kind {
        return Some(crossed_roller::equivalent_load(radial, axial, radial * overhang * 1e-3, pitch_circle));
    }
    let (radial, axial, _) = on_bearing(bearing, count, spacing, overhang, radial, axial.abs());
    let found = bearing_load::equivalent_load(radial, axial, bearing.f0?, bearing.static_rating, group)?;
    Some(found.load)
}

/// Rates the bearing or the pair.
pub fn rate(bearing: &Bearing, count: u32, spacing: f64, loads: &OutputLoads) -> OutputBearing {
    if let BearingKind::CrossedRoller { pitch_circle } = bearing.kind {
        return rate_crossed_roller(bearing, pitch_circle, loads);
    }
    let axial = loads.axial.abs();
    let on = |radial, axial| on_bearing(bearing, count, spacing, loads.overhang, radial, axial);
    let (radial, axial_in_work, moment) = on(loads.radial, axial);
    let (peak_radial, peak_axial, peak_moment) = on(loads.peak_radial, axial * loads.shock);

    let dynamic = bearing.f0.and_then(|f0| {
        bearing_load::equivalent_load(radial, axial_in_work, f0, bearing.static_rating, loads.clearance)
    });
    let equivalent_dynamic = dynamic.map(|found| found.load);
    let life = equivalent_dynamic.and_then(|load| bearing_life::basic_life(bearing.dynamic_rating, load));
    let adjusted = life.zip(bearing_life::reliability_factor(loads.reliability)).map(|(life, a1)| life * a1);
    let life_hours = adjusted.and_then(|life| bearing_life::hours(life, loads.rate, loads.swing));
    let no_life = match (bearing.f0, equivalent_dynamic, life, life_hours) {
        (None, ..) => Some("the bearing's row has no f0"),
        (_, None, ..) => Some("the axial load is beyond the standard's table"),
        (_, _, None, _) => Some("no load, or one over half of C"),
        (_, _, _, None) => Some("the swing is under 5 degrees (fretting decides), or the rate is zero"),
        _ => None,
    };
    let equivalent_static = static_load::equivalent_static_load(peak_radial, peak_axial);
    OutputBearing {
        radial,
        axial: axial_in_work,
        moment,
        equivalent_dynamic,
        equivalent_static,
        peak_moment,
        life_mrev: life,
        life_hours,
        static_safety: bearing.static_rating / equivalent_static.max(f64::MIN_POSITIVE),
        axial_share: peak_axial / (static_load::axial_share(bearing) * bearing.static_rating),
        no_life,
    }
}

/// One bearing that carries the moment itself.
fn rate_crossed_roller(bearing: &Bearing, pitch_circle: f64, loads: &OutputLoads) -> OutputBearing {
    let axial = loads.axial.abs();
    let moment = loads.radial * loads.overhang * 1e-3;
    let peak_moment = loads.peak_radial * loads.overhang * 1e-3;
    let load = crossed_roller::equivalent_load(loads.radial, axial, moment, pitch_circle);
    let life = crossed_roller::basic_life(bearing.dynamic_rating, load);
    let adjusted = life.zip(bearing_life::reliability_factor(loads.reliability)).map(|(life, a1)| life * a1);
    let life_hours = adjusted.and_then(|life| bearing_life::hours(life, loads.rate, loads.swing));
    let equivalent_static = crossed_roller::equivalent_static_load(
        loads.peak_radial,
        axial * loads.shock,
        peak_moment,
        pitch_circle,
    );
    OutputBearing {
        radial: loads.radial,
        axial,
        moment,
        equivalent_dynamic: Some(load),
        equivalent_static,
        peak_moment,
        life_mrev: life,
        life_hours,
        static_safety: bearing.static_rating / equivalent_static.max(f64::MIN_POSITIVE),
        axial_share: equivalent_static / (crossed_roller::STATIC_SHARE * bearing.static_rating),
        no_life: match (life, life_hours) {
            (None, _) => Some("no load, or one over half of C"),
            (_, None) => Some("the swing is under 5 degrees (fretting decides), or the rate is zero"),
            _ => None,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bearing() -> Bearing {
        Bearing {
            bore: 50.0,
            outer: 65.0,
            width: 7.0,
            dynamic_rating: 6000.0,
            static_rating: 6000.0,
            f0: Some(16.0),
            designation: "6810".to_string(),
            ..Bearing::default()
        }
    }

    fn loads(radial: f64, overhang: f64) -> OutputLoads {
        OutputLoads {
            radial,
            peak_radial: radial,
            axial: 0.0,
            overhang,
            shock: 1.0,
            rate: 1.0,
            swing: None,
            reliability: 0.9,
            clearance: ClearanceGroup::Normal,
        }
    }

    /// Statics by hand: 100 N, 40 mm out, on one bearing of mean diameter 57.5: 4 x 4000 / 57.5 = 278.26 N.
    #[test]
    fn a_moment_on_one_bearing_becomes_a_couple() {
        let rated = rate(&bearing(), 1, 0.0, &loads(100.0, 40.0));
        assert!((rated.axial - 278.26).abs() < 0.01, "{}", rated.axial);
        assert!((rated.moment - 4.0).abs() < 1e-12);
        assert!((rated.axial_share - 278.26 / 1500.0).abs() < 1e-4, "{}", rated.axial_share);
    }

    /// Statics by hand: the same on two bearings 13 mm apart: 4000 / 13 + 50 = 357.69 N on the outer one.
    #[test]
    fn a_moment_on_a_pair_becomes_reactions() {
        let rated = rate(&bearing(), 2, 6.0, &loads(100.0, 40.0));
        assert!((rated.radial - 357.69).abs() < 0.01, "{}", rated.radial);
        assert_eq!(rated.axial, 0.0);
    }

    #[test]
    fn no_load_has_no_life() {
        let rated = rate(&bearing(), 1, 0.0, &loads(0.0, 40.0));
        assert_eq!(rated.life_hours, None);
        assert!(rated.no_life.is_some());
    }
}
