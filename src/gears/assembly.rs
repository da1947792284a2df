//! Tooth and planet counts that go together.

use std::f64::consts::{PI, TAU};

use crate::design::Spacing;

/// Most planets that are looked at.
pub(super) const MOST_PLANETS: u32 = 12;
pub(super) const LEAST_PLANETS: u32 = 2;

/// Equally spaced planets go in when (zs + zr) / n is whole (SDP/SI, Elements of Metric Gear Technology, eq. 13-7).
pub(super) fn is_assemblable([sun, _, ring]: [u32; 3], planets: u32) -> bool {
    planets > 0 && (u64::from(sun) + u64::from(ring)).is_multiple_of(u64::from(planets))
}

/// Where the planets stand.
///
/// With sun and ring held, a planet goes in at every multiple of `2 pi / (zs + zr)` (SDP/SI, eq. 13-7 before it asks for
/// equal spacing). Where equal places aren't such multiples, the nearest ones are taken: a planet then stands at most half
/// a step from its equal place, and forces between the planets don't cancel altogether.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanetSpacing {
    planets: u32,
    /// `zs + zr` for the nearest places; 0 for equal spacing.
    places: u32,
}

impl PlanetSpacing {
    pub fn of([sun, ring]: [u32; 2], planets: u32, spacing: Spacing) -> PlanetSpacing {
        let equal = spacing == Spacing::Equal || is_assemblable([sun, 0, ring], planets);
        PlanetSpacing { planets: planets.max(1), places: if equal { 0 } else { sun.saturating_add(ring) } }
    }

    pub fn is_equal(&self) -> bool {
        self.places == 0
    }

    /// Of planet `index` \[rad\], the first at 0.
    pub fn position(&self, index: u32) -> f64 {
        if self.places == 0 {
            return TAU * f64::from(index) / f64::from(self.planets);
        }
        let place = (f64::from(index) * f64::from(self.places) / f64::from(self.planets)).round();
        TAU * place / f64::from(self.places)
    }

    /// Between the two nearest neighbours \[rad\].
    pub fn least_angle(&self) -> f64 {
        if self.places == 0 {
            return TAU / f64::from(self.planets);
        }
        (0..self.planets).map(|index| self.position(index + 1) - self.position(index)).fold(TAU, f64::min)
    }

    /// Between any planet and the middle between two equally spaced ones, where a pillar stands \[rad\].
    pub fn least_angle_to_middle(&self) -> f64 {
        let half = PI / f64::from(self.planets);
        let aside = |index| (self.position(index) - TAU * f64::from(index) / f64::from(self.planets)).abs();
        half - (0..self.planets).map(aside).fold(0.0, f64::max)
    }

    /// Unbalanced share of the planets' radial forces: length of the mean of the planets' directions, 0 when equal.
    pub fn imbalance(&self) -> f64 {
        if self.places == 0 {
            return 0.0;
        }
        let directions = (0..self.planets).map(|index| self.position(index));
        let (x, y) =
            directions.fold((0.0, 0.0), |(x, y), angle| (x + libm::cos(angle), y + libm::sin(angle)));
        libm::hypot(x, y) / f64::from(self.planets)
    }
}

/// The nearest sets with fewer and with more sun teeth, the same planet and the same excess of the ring over
/// `zs + 2 zp`, that take `planets` planets.
pub(super) fn nearest_assemblable([sun, planet, ring]: [u32; 3], planets: u32, least: u32) -> Vec<[u32; 3]> {
    // A step of the sun changes zs + zr by two, so the remainder repeats after `planets` steps.
    let with_sun = |other: u32| {
        let ring = ring.checked_add(other)?.checked_sub(sun)?;
        Some([other, planet, ring]).filter(|set| is_assemblable(*set, planets))
    };
    let below = (1..=planets).filter_map(|step| sun.checked_sub(step)).filter(|other| *other >= least);
    let above = (1..=planets).filter_map(|step| sun.checked_add(step));
    [below.map(with_sun).find_map(|set| set), above.map(with_sun).find_map(|set| set)]
        .into_iter()
        .flatten()
        .collect()
}

/// The planet count nearest to `planets` that goes in and does not touch (eq. 13-9: `zp + 2 < (zs + zp) sin(pi/n)`);
/// of two equally near the larger.
pub(super) fn other_planet_count(teeth: [u32; 3], planets: u32) -> Option<u32> {
    let [sun, planet, _] = teeth.map(f64::from);
    (LEAST_PLANETS..=MOST_PLANETS)
        .filter(|count| *count != planets && is_assemblable(teeth, *count))
        .filter(|count| planet + 2.0 < (sun + planet) * libm::sin(PI / f64::from(*count)))
        .min_by_key(|count| (count.abs_diff(planets), u32::MAX - count))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The wording example of the layout rules, and SDP/SI T-117 (16/16/48, recomputed).
    #[test]
    fn neighbours_of_an_impossible_set() {
        assert!(!is_assemblable([16, 24, 64], 3));
        assert_eq!(nearest_assemblable([16, 24, 64], 3, 6), vec![[15, 24, 63], [18, 24, 66]]);
        assert_eq!(other_planet_count([16, 24, 64], 3), Some(4));
        let possible: Vec<u32> = (3..=6).filter(|count| is_assemblable([16, 16, 48], *count)).collect();
        assert_eq!(possible, vec![4]);
    }
}
