//! Tooth and planet counts that go together.

use std::f64::consts::PI;

/// Most planets that are looked at.
pub(super) const MOST_PLANETS: u32 = 12;
pub(super) const LEAST_PLANETS: u32 = 2;

/// Equally spaced planets go in when (zs + zr) / n is whole (SDP/SI, Elements of Metric Gear Technology, eq. 13-7).
pub(super) fn is_assemblable([sun, _, ring]: [u32; 3], planets: u32) -> bool {
    planets > 0 && (u64::from(sun) + u64::from(ring)).is_multiple_of(u64::from(planets))
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
