//! A weight on a lever: `T = W l cos(elevation)`.

use super::{Demand, Lasting};

/// The lever.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lever {
    /// At its end \[N\].
    pub weight: f64,
    /// \[mm\]
    pub length: f64,
    /// Over or under the horizontal \[rad\].
    pub elevation: f64,
    pub held: Lasting,
}

impl Lever {
    pub fn demand(&self) -> Demand {
        let torque = self.weight * self.length * 1e-3 * libm::cos(self.elevation);
        Demand {
            by: "lever",
            peak_torque: torque,
            continuous_torque: (self.held == Lasting::Hours).then_some(torque),
            speed: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Common practice, no source: 10 lbf on a lever of 14.5 in are 16.4 N m.
    #[test]
    fn pounds_on_inches() {
        let lever = Lever {
            weight: 10.0 * 4.448_221_615,
            length: 14.5 * 25.4,
            elevation: 0.0,
            held: Lasting::Moment,
        };
        let demand = lever.demand();
        assert!((demand.peak_torque - 16.4).abs() < 0.05, "{}", demand.peak_torque);
        assert_eq!(demand.continuous_torque, None);
    }
}
