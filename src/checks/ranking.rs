//! Which part gives way first: all checks under one load, in the order in which they stop holding as the torque grows.
//!
//! A check says how its value goes with the torque, `value ~ T^power` (a stress 1, a safety factor -1, a contact pressure 1/2, a
//! bearing's life -3), so that it stops holding at `T (limit / value)^(1/power)`. A temperature's rise over the surroundings
//! goes with the square of the torque (copper loss). Everything else on the joint (hanging weight, shock) is taken to grow
//! along with the torque; what doesn't grow by a law is listed with its margin alone, after the rest.

use super::{Checked, Verdict};
use crate::product::Product;

/// The load a check is made under.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// No load: form, mass, speed.
    None,
    /// The peak torque.
    Peak(Growth),
    /// The continuous torque, over the life.
    Continuous(Growth),
}

/// How a check's value goes with the torque.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Growth {
    /// With this power of it.
    Power(f64),
    /// Its rise over the surroundings' temperature does.
    Rise(f64),
    /// By no simple law.
    Other,
}

impl Load {
    /// The load, and how the value goes with the torque; empty without a load.
    pub fn words(self) -> String {
        match self {
            Load::None => String::new(),
            Load::Peak(growth) => format!("peak torque; {}", growth.words()),
            Load::Continuous(growth) => format!("continuous torque; {}", growth.words()),
        }
    }
}

impl Growth {
    fn words(self) -> String {
        match self {
            Growth::Power(1.0) => "value goes with the torque".to_string(),
            Growth::Power(power) => format!("value goes with T^{power}"),
            Growth::Rise(power) => format!("rise over the surroundings goes with T^{power}"),
            Growth::Other => "no simple law".to_string(),
        }
    }
}

/// One check's place.
#[derive(Clone, Debug)]
pub struct Place<'a> {
    pub checked: &'a Checked,
    /// Torque at which it stops holding, of the torque it is made under; none where no law says.
    pub times: Option<f64>,
    /// The same at the output \[N m\].
    pub torque: Option<f64>,
}

/// Both lists, the first to give way first.
#[derive(Clone, Debug)]
pub struct Ranking<'a> {
    pub peak: Vec<Place<'a>>,
    /// At the continuous torque: what is asked, else what heat lets the motor hold.
    pub continuous: Vec<Place<'a>>,
}

impl<'a> Ranking<'a> {
    pub fn of(product: &Product, checks: &'a [Checked]) -> Ranking<'a> {
        let actuator = &product.actuator;
        let held =
            product.heat.as_ref().ok().and_then(|heat| heat.continuous.as_ref().ok()).map(|held| held.torque);
        let asked = actuator.design.requirement.continuous_torque;
        let ambient = actuator.design.ambient.temperature;
        let list = |growth: fn(Load) -> Option<Growth>, torque: Option<f64>| {
            let applies = |checked: &&Checked| checked.outcome.verdict != Verdict::NotApplicable;
            let mut places: Vec<Place> = checks
                .iter()
                .filter(applies)
                .filter_map(|checked| Some((checked, growth(checked.check.load)?)))
                .map(|(checked, growth)| {
                    let times = times(checked, growth, ambient);
                    Place { checked, times, torque: times.zip(torque).map(|(times, torque)| times * torque) }
                })
                .collect();
            // What fails without a number comes first, what no law covers last.
            let order = |place: &Place| match (place.times, place.checked.outcome.verdict) {
                (Some(times), _) => times,
                (None, Verdict::Fails) => 0.0,
                (None, _) => f64::INFINITY,
            };
            places.sort_by(|a, b| order(a).total_cmp(&order(b)));
            places
        };
        let peak = |load| match load {
            Load::Peak(growth) => Some(growth),
            _ => None,
        };
        let continuous = |load| match load {
            Load::Continuous(growth) => Some(growth),
            _ => None,
        };
        Ranking {
            peak: list(peak, Some(actuator.torques.output)),
            continuous: list(continuous, asked.or(held)),
        }
    }
}

/// Torque at which a check stops holding, of that which it is made under.
fn times(checked: &Checked, growth: Growth, ambient: f64) -> Option<f64> {
    let (value, limit) = (checked.outcome.value?, checked.outcome.limit?);
    let (ratio, power) = match growth {
        Growth::Power(power) => (limit / value, power),
        Growth::Rise(power) => ((limit - ambient) / (value - ambient), power),
        Growth::Other => return None,
    };
    let times = libm::pow(ratio, 1.0 / power);
    // A value of 0 is reached by no torque, or by all.
    (times.is_finite() && ratio > 0.0).then_some(times)
}
