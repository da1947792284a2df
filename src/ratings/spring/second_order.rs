//! Step response of an inertia on a spring and a damper: textbook second-order system (Ogata, Modern Control Engineering, from
//! memory).
//!
//! Range: damping ratio over 0 and under 1, without zeros; beyond it there is no overshoot and no number. Not covered: play, delay,
//! limits.

use std::f64::consts::PI;

/// Natural frequency \[rad/s\] of a stiffness \[N m/rad\] and an inertia \[kg m2\].
pub fn natural_frequency(stiffness: f64, inertia: f64) -> f64 {
    (stiffness / inertia).sqrt()
}

/// First overshoot as a share of the step, `exp(-pi z / sqrt(1 - z^2))`.
pub fn overshoot(damping_ratio: f64) -> Option<f64> {
    let damped = damped_share(damping_ratio)?;
    Some(libm::exp(-PI * damping_ratio / damped))
}

/// Time of the first overshoot \[s\], `pi / (wn sqrt(1 - z^2))`.
pub fn peak_time(damping_ratio: f64, natural_frequency: f64) -> Option<f64> {
    Some(PI / (natural_frequency * damped_share(damping_ratio)?))
}

/// Time to first reach the end value \[s\], `(pi - acos z) / (wn sqrt(1 - z^2))`.
pub fn rise_time(damping_ratio: f64, natural_frequency: f64) -> Option<f64> {
    Some((PI - libm::acos(damping_ratio)) / (natural_frequency * damped_share(damping_ratio)?))
}

/// Time after which the response stays within `band` \[s\], by the textbook's round figures: 4 time constants for 2 %, 3 for 5 %.
pub fn settling_time(damping_ratio: f64, natural_frequency: f64, band: Band) -> Option<f64> {
    damped_share(damping_ratio)?;
    let time_constants = match band {
        Band::TwoPercent => 4.0,
        Band::FivePercent => 3.0,
    };
    Some(time_constants / (damping_ratio * natural_frequency))
}

/// Within which a response counts as settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Band {
    TwoPercent,
    FivePercent,
}

/// Damped over natural frequency; none outside the range.
fn damped_share(damping_ratio: f64) -> Option<f64> {
    (damping_ratio > 0.0 && damping_ratio < 1.0).then(|| (1.0 - damping_ratio * damping_ratio).sqrt())
}
