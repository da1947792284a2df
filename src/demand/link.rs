//! A link with a payload at its end, held up and swung from rest to rest.
//!
//! - held: `T = (m c + p L) g cos(elevation)`
//! - swung: `T = J a`, `J = m L^2 / 12 + m c^2 + p L^2`, the link a slender rod about its own centre
//! - the swing follows the path of least jerk from rest to rest: highest speed `(15/8) angle / time`, highest acceleration
//!   `(10 / sqrt 3) angle / time^2`, r.m.s. acceleration `sqrt(120/7) angle / time^2` (Flash and Hogan, J. Neuroscience
//!   5(7), 1985, gives the path, from memory; the figures by differentiating it)
//!
//! The peak adds the two, wherever on the path they fall: on the safe side. Swings that follow each other for hours ask
//! for the r.m.s. of both.

use super::{Demand, GRAVITY, Lasting};

/// The link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// Of the link alone \[kg\].
    pub mass: f64,
    /// Joint to far end \[mm\].
    pub length: f64,
    /// Joint to the link's centre of mass \[mm\].
    pub centre: f64,
    /// At the far end \[kg\].
    pub payload: f64,
    /// Posture of the heaviest hold, over or under the horizontal \[rad\].
    pub elevation: f64,
    /// A swing from rest to rest: angle \[rad\] and time \[s\].
    pub swing: Option<Swing>,
    pub held: Lasting,
}

/// From rest to rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// \[rad\]
    pub angle: f64,
    /// \[s\]
    pub time: f64,
}

impl Swing {
    /// Highest acceleration times an inertia \[N m\].
    pub fn peak_torque(&self, inertia: f64) -> f64 {
        10.0 / 3.0_f64.sqrt() * inertia * self.angle / (self.time * self.time)
    }

    /// Root of the mean square of the same \[N m\].
    pub fn mean_torque(&self, inertia: f64) -> f64 {
        (120.0_f64 / 7.0).sqrt() * inertia * self.angle / (self.time * self.time)
    }

    /// Highest \[rad/s\].
    pub fn speed(&self) -> f64 {
        15.0 / 8.0 * self.angle / self.time
    }
}

impl Link {
    /// About the joint \[kg m2\].
    pub fn inertia(&self) -> f64 {
        let (length, centre) = (self.length * 1e-3, self.centre * 1e-3);
        self.mass * (length * length / 12.0 + centre * centre) + self.payload * length * length
    }

    pub fn demand(&self) -> Demand {
        let moment = (self.mass * self.centre + self.payload * self.length) * 1e-3;
        let hold = moment * GRAVITY * libm::cos(self.elevation);
        let peak = self.swing.map_or(0.0, |swing| swing.peak_torque(self.inertia()));
        let mean = self.swing.map_or(0.0, |swing| swing.mean_torque(self.inertia()));
        Demand {
            by: "link",
            peak_torque: hold + peak,
            continuous_torque: (self.held == Lasting::Hours).then(|| (hold * hold + mean * mean).sqrt()),
            speed: self.swing.map(|swing| swing.speed()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn link() -> Link {
        Link {
            mass: 1.2,
            length: 400.0,
            centre: 200.0,
            payload: 0.5,
            elevation: 0.0,
            swing: Some(Swing { angle: 1.2, time: 0.6 }),
            held: Lasting::Hours,
        }
    }

    /// The path of least jerk, `10 s^3 - 15 s^4 + 6 s^5`, differentiated in small steps: an independent way to the constants.
    #[test]
    fn constants_follow_from_the_path() {
        let path = |s: f64| 10.0 * s.powi(3) - 15.0 * s.powi(4) + 6.0 * s.powi(5);
        let (steps, h) = (20_000, 1.0 / 20_000.0);
        let (mut speed, mut acceleration, mut squares): (f64, f64, f64) = (0.0, 0.0, 0.0);
        for step in 1..steps {
            let s = f64::from(step) * h;
            speed = speed.max((path(s + h) - path(s - h)) / (2.0 * h));
            let second = (path(s + h) - 2.0 * path(s) + path(s - h)) / (h * h);
            acceleration = acceleration.max(second.abs());
            squares += second * second * h;
        }
        let demand = link().demand();
        let (turn, square) = (1.2 / 0.6, 1.2 / 0.36);
        assert!((demand.speed.expect("swings") - speed * turn).abs() < 1e-5);
        let hold = (1.2 * 0.2 + 0.5 * 0.4) * GRAVITY;
        assert!((demand.peak_torque - hold - link().inertia() * acceleration * square).abs() < 1e-4);
        let mean = link().inertia() * squares.sqrt() * square;
        assert!((demand.continuous_torque.expect("for hours") - hold.hypot(mean)).abs() < 1e-3);
    }

    /// Handbook: a slender rod about its end has m L^2 / 3.
    #[test]
    fn a_rod_about_its_end() {
        let rod = Link { payload: 0.0, ..link() };
        assert!((rod.inertia() - 1.2 * 0.16 / 3.0).abs() < 1e-12);
    }
}
