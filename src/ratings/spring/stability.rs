//! The stiffest virtual spring, by each rule, and which governs.
//!
//! - sampled loop: largest K whose closed loop is stable with the output free, loaded and blocked ([`sampled`](super::sampled));
//! - bandwidth: `wn <= 1 / (10 (T + filter))` with the least inertia, the joint without its load (common practice, no
//!   source);
//! - counts and friction: `K <= 2 fc / delta`, a sampled wall dissipates what a count adds (Abbott and Okamura, IEEE Transactions
//!   on Robotics 21(5), 2005, from memory);
//! - sampled wall: `b > K T / 2 + |B|`, b the mechanism's own viscous damping (Colgate and Schenkel, from memory): passive
//!   against anything; where no b is known it says nothing.

use super::gains::Gains;
use super::sampled::{Plant, Sampled, Timing};

/// Kept to a limit of stability: 6 dB (common practice, no source).
pub const GAIN_MARGIN: f64 = 2.0;

/// What gives out first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    SampledLoop,
    Bandwidth,
    CountsAndFriction,
}

impl Rule {
    pub const fn name(self) -> &'static str {
        match self {
            Rule::SampledLoop => "stability of the sampled loop",
            Rule::Bandwidth => "bandwidth a tenth of the loop's",
            Rule::CountsAndFriction => "encoder counts against friction",
        }
    }
}

/// Largest stiffness by each \[N m/rad\]; none where a rule is out of its range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    pub sampled_loop: Option<f64>,
    pub bandwidth: f64,
    pub counts_and_friction: Option<f64>,
}

impl Limits {
    /// The stiffest to use \[N m/rad\], and which rule says so: the limits by [`GAIN_MARGIN`], the rule of thumb as it is.
    pub fn governing(&self) -> (f64, Rule) {
        let others =
            [(self.sampled_loop, Rule::SampledLoop), (self.counts_and_friction, Rule::CountsAndFriction)];
        let lower = |least: (f64, Rule), (limit, rule): (Option<f64>, Rule)| match limit {
            Some(limit) if limit / GAIN_MARGIN < least.0 => (limit / GAIN_MARGIN, rule),
            _ => least,
        };
        others.into_iter().fold((self.bandwidth, Rule::Bandwidth), lower)
    }
}

/// `2 (b - |B|) / T` \[N m/rad\] of a wall sampled every `period` \[s\]; b and B in N m s/rad. 0 where B eats b up.
pub fn wall_by_damping(own_damping: f64, virtual_damping: f64, period: f64) -> f64 {
    (2.0 * (own_damping - virtual_damping.abs()) / period).max(0.0)
}

/// `2 fc / delta` \[N m/rad\]; friction N m, count rad, both at the same shaft. None without a count.
pub fn wall_by_friction(friction: f64, count: f64) -> Option<f64> {
    (count > 0.0).then(|| 2.0 * friction / count)
}

/// `J wn^2` with `wn = 1 / (10 (T + filter))`.
pub fn by_bandwidth(inertia: f64, timing: &Timing) -> f64 {
    let frequency = 0.1 / (timing.period + timing.filter);
    inertia * frequency * frequency
}

/// Largest K, damped by `2 zeta sqrt(K J)`, with which every one of the plants is stable; to a thousandth. None if a plant is out of
/// range, or unstable with the softest spring already.
pub fn by_sampled_loop(
    plants: &[Plant],
    timing: &Timing,
    damping_ratio: f64,
    damped_inertia: f64,
) -> Option<f64> {
    /// From a natural frequency of 0.1 rad/s to one beyond any loop.
    const SOFTEST: f64 = 0.01;
    const DOUBLINGS: u32 = 60;
    const CLOSE_ENOUGH: f64 = 1e-3;
    let plants: Vec<Sampled> =
        plants.iter().map(|plant| Sampled::of(plant, timing)).collect::<Option<_>>()?;
    let stable = |stiffness: f64| {
        let gains = Gains::damped(stiffness, damping_ratio, damped_inertia);
        plants.iter().try_fold(true, |all, plant| Some(all && plant.is_stable(&gains)?))
    };
    let mut reached = SOFTEST * damped_inertia;
    if !stable(reached)? {
        return None;
    }
    let mut missed = 2.0 * reached;
    let mut doublings = 0;
    while stable(missed)? {
        [reached, missed] = [missed, 2.0 * missed];
        doublings += 1;
        if doublings == DOUBLINGS {
            return Some(reached);
        }
    }
    while missed - reached > CLOSE_ENOUGH * reached {
        let middle = (reached + missed) / 2.0;
        if stable(middle)? {
            reached = middle;
        } else {
            missed = middle;
        }
    }
    Some(reached)
}
