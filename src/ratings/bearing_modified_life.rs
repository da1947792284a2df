//! Modified rating life of radial ball bearings: `Lnm = a1 aISO L10` (ISO 281:2007, 9.3).
//!
//! `aISO = 0.1 (1 - (2.5671 - A / kappa^B)^0.83 (eC Cu / P)^(1/3))^-9.3`, A and B by kappa: 2.2649 and 0.054381 up to 0.4, 1.9987 and
//! 0.19087 up to 1, 1.9987 and 0.071739 up to 4; at most 50 (equations 31 to 33, from memory; their continuity is tested).
//! Cu: the maker's fatigue limit, else C0 / 22 (from memory). eC by cleanliness (see [`Cleanliness`](crate::tables::Cleanliness)).
//! Range: kappa 0.1 to 4, above which 4 counts. Not covered: extreme-pressure additives, plastic wear dust.

use crate::tables::Bearing;

/// Largest that the standard allows.
const MOST: f64 = 50.0;
/// Of kappa.
const RANGE: [f64; 2] = [0.1, 4.0];

/// Fatigue load limit \[N\]: the row's, else C0 / 22.
pub fn fatigue_limit(bearing: &Bearing) -> f64 {
    bearing.fatigue_limit.unwrap_or(bearing.static_rating / 22.0)
}

/// aISO at `eC Cu / P` and kappa; none where kappa is under the standard's range.
pub fn life_factor(clean_share: f64, kappa: f64) -> Option<f64> {
    if kappa.is_nan() || kappa < RANGE[0] || clean_share < 0.0 {
        return None;
    }
    let kappa = kappa.min(RANGE[1]);
    let (a, b) = if kappa < 0.4 {
        (2.2649, 0.054381)
    } else if kappa < 1.0 {
        (1.9987, 0.19087)
    } else {
        (1.9987, 0.071739)
    };
    let by_film = libm::pow(2.5671 - a / libm::pow(kappa, b), 0.83);
    let left = 1.0 - by_film * libm::cbrt(clean_share);
    // Beyond the pole the factor is the cap.
    Some(if left <= 0.0 { MOST } else { (0.1 * libm::pow(left, -9.3)).min(MOST) })
}
