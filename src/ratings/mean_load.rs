//! Mean load and speed of a bearing over changing work: `Fm = (sum n t F^p / sum n t)^(1/p)`, `nm = sum n t / sum t` (NSK, rolling
//! bearings, average of fluctuating load, read), p 3 for balls, 10/3 for rollers.
//!
//! Range: loads in range of the life formula each. Rests count for the speed, not for the load.

/// One stretch of work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// \[s\]
    pub time: f64,
    /// \[N\]
    pub load: f64,
    /// Any unit, the same for all.
    pub speed: f64,
}

/// Mean load and mean speed; none without any turning.
pub fn mean(stretches: impl IntoIterator<Item = Stretch>, exponent: f64) -> Option<(f64, f64)> {
    let (mut time, mut turns, mut work) = (0.0, 0.0, 0.0);
    for stretch in stretches {
        let turned = stretch.speed.abs() * stretch.time;
        time += stretch.time;
        turns += turned;
        work += turned * libm::pow(stretch.load.abs(), exponent);
    }
    (time > 0.0 && turns > 0.0).then(|| (libm::pow(work / turns, 1.0 / exponent), turns / time))
}
