//! Rating life of ball bearings.
//!
//! ISO 281:2007: `L10 = (C / P)^3` million revolutions, `L10h = 10^6 L10 / (60 n)`; reliability factor a1 of table 12
//! by the closed form `0.95 (ln(1/R) / ln(1/0.9))^(2/3) + 0.05`, which reproduces the table to two digits (0.638 0.555
//! 0.465 0.366 0.248 for 95 to 99 %; table from memory). Oscillation: revolutions a minute `n phi / 180` for swings of
//! phi degrees from one end to the other, there and back (Harmonic Drive SHG manual, equation 44.1, read: 180 degrees
//! there and 180 back make one turn); below 5 degrees fretting decides and
//! there is no life. Range: P up to C / 2 (ISO 281, 5.1). Not covered: a_ISO (lubricant, contamination), small-angle
//! corrections.

/// Largest load for which the life formula holds, as a share of C.
pub const LARGEST_LOAD: f64 = 0.5;
/// Swing, from one end to the other, below which fretting decides \[rad\].
pub const FRETTING_SWING: f64 = 5.0 * std::f64::consts::PI / 180.0;

/// Basic rating life \[million revolutions\]; none where the load is out of range.
pub fn basic_life(dynamic_rating: f64, load: f64) -> Option<f64> {
    if load <= 0.0 || load > LARGEST_LOAD * dynamic_rating {
        return None;
    }
    Some((dynamic_rating / load).powi(3))
}

/// a1 for a reliability of 0.9 to 0.9995.
pub fn reliability_factor(reliability: f64) -> Option<f64> {
    if !(0.9..=0.9995).contains(&reliability) {
        return None;
    }
    let slope = libm::log(1.0 / reliability) / libm::log(1.0 / 0.9);
    Some(0.95 * libm::pow(slope, 2.0 / 3.0) + 0.05)
}

/// Hours a life in million revolutions lasts at `rate` turns a second; for a swing of so much from one end to the other
/// \[rad\] `rate` counts the oscillations, each there and back. None where fretting decides.
pub fn hours(life_mrev: f64, rate: f64, swing: Option<f64>) -> Option<f64> {
    let turns = match swing {
        Some(swing) if swing < FRETTING_SWING => return None,
        Some(swing) => rate * swing / std::f64::consts::PI,
        None => rate,
    };
    (turns > 0.0).then(|| life_mrev * 1e6 / (turns * 3600.0))
}
