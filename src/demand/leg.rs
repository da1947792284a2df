//! Knee or hip of a leg with two links that carries a robot, the foot on the ground below.
//!
//! The ground pushes upwards with `F = m g / legs`. Leg length `L^2 = a^2 + b^2 - 2 a b cos(knee)` with thigh a and shank b.
//!
//! - knee, the foot below the hip: `T = F a b sin(knee) / L` (force times its distance from the knee); by virtual work the same as
//!   `F dL/dknee`
//! - hip: `T = F x`, x the foot's distance ahead of the hip or behind it
//! - a jump from the crouch: the push over the stroke `s = L(stretched) - L(knee)` lifts by s and throws by the height, so its mean
//!   is `F = m g (1 + h / s) / legs`; it leaves the ground at `v = sqrt(2 g h)`, the knee turning at `v L / (a b sin(stretched))`
//!
//! Not covered: mass of the legs, sideways forces, landing (see the drop of the control's simulation), a push that isn't even.

use super::{Demand, GRAVITY, Lasting};

/// Which joint of the leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LegJoint {
    Knee,
    Hip,
}

/// The leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    pub joint: LegJoint,
    /// Moving mass of the robot \[kg\].
    pub mass: f64,
    /// That stand at once.
    pub legs: u32,
    /// \[mm\]
    pub thigh: f64,
    /// \[mm\]
    pub shank: f64,
    /// Between thigh and shank in the deepest crouch \[rad\]; straight is half a turn.
    pub knee_angle: f64,
    /// The same at the end of the push \[rad\].
    pub stretched: f64,
    /// The foot ahead of the hip or behind it \[mm\].
    pub foot_offset: f64,
    /// How high it jumps \[mm\].
    pub jump: Option<f64>,
    pub held: Lasting,
}

impl Leg {
    /// Hip to foot \[mm\].
    fn length(&self, knee: f64) -> f64 {
        let (a, b) = (self.thigh, self.shank);
        (a * a + b * b - 2.0 * a * b * libm::cos(knee)).max(0.0).sqrt()
    }

    /// Change of length per turn of the knee \[mm/rad\]: also the force's distance from the knee.
    fn knee_arm(&self, knee: f64) -> f64 {
        self.thigh * self.shank * libm::sin(knee) / self.length(knee)
    }

    pub fn demand(&self) -> Demand {
        let standing = self.mass * GRAVITY / f64::from(self.legs);
        let stroke = self.length(self.stretched) - self.length(self.knee_angle);
        let pushing = standing * self.jump.map_or(1.0, |height| 1.0 + height / stroke);
        let take_off = self.jump.map(|height| (2.0 * GRAVITY * height * 1e-3).sqrt());
        let arm = match self.joint {
            LegJoint::Knee => self.knee_arm(self.knee_angle),
            LegJoint::Hip => self.foot_offset.abs(),
        } * 1e-3;
        Demand {
            by: "leg",
            peak_torque: pushing * arm,
            continuous_torque: (self.held == Lasting::Hours).then_some(standing * arm),
            speed: match self.joint {
                LegJoint::Knee => take_off.map(|speed| speed / (self.knee_arm(self.stretched) * 1e-3)),
                // The hip turns half as fast for equal links, else by the angle the thigh makes: not covered.
                LegJoint::Hip => None,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn leg() -> Leg {
        Leg {
            joint: LegJoint::Knee,
            mass: 12.0,
            legs: 2,
            thigh: 200.0,
            shank: 200.0,
            knee_angle: std::f64::consts::FRAC_PI_2,
            stretched: 170.0_f64.to_radians(),
            foot_offset: 0.0,
            jump: None,
            held: Lasting::Hours,
        }
    }

    /// Statics by hand: equal links at a right angle, so the knee lies 200 / sqrt 2 = 141.42 mm ahead of the line from hip to foot.
    #[test]
    fn the_knee_of_a_right_angled_leg() {
        let torque = leg().demand().peak_torque;
        assert!((torque - 6.0 * GRAVITY * 0.141_421_356).abs() < 1e-6, "{torque}");
    }

    /// Energy: the push over its stroke does the work of lifting by stroke and height; what the knee's torque does over its
    /// angle at the mean force is the same. Integrated in small steps.
    #[test]
    fn a_jump_keeps_the_energy() {
        let jumping = Leg { jump: Some(150.0), ..leg() };
        let force = jumping.demand().peak_torque / (jumping.knee_arm(jumping.knee_angle) * 1e-3);
        let (steps, span) = (20_000, jumping.stretched - jumping.knee_angle);
        let work: f64 = (0..steps)
            .map(|step| {
                let knee = jumping.knee_angle + span * (f64::from(step) + 0.5) / f64::from(steps);
                force * jumping.knee_arm(knee) * 1e-3 * span / f64::from(steps)
            })
            .sum();
        let stroke = jumping.length(jumping.stretched) - jumping.length(jumping.knee_angle);
        let lifted = 6.0 * GRAVITY * (stroke + 150.0) * 1e-3;
        assert!((work - lifted).abs() < 1e-6 * lifted, "{work} against {lifted}");
    }

    /// The knee's speed against the leg's length ten nanoseconds apart.
    #[test]
    fn the_knee_turns_as_the_leg_grows() {
        let jumping = Leg { jump: Some(100.0), ..leg() };
        let speed = jumping.demand().speed.expect("jumps");
        // Near straight the arm changes fast: a short step.
        let step = 1e-8;
        let grown = jumping.length(jumping.stretched) - jumping.length(jumping.stretched - speed * step);
        let take_off = (2.0 * GRAVITY * 0.1f64).sqrt();
        assert!((grown * 1e-3 / step - take_off).abs() < 1e-3 * take_off);
    }

    #[test]
    fn the_hip_feels_the_foot_beside_it() {
        let hip = Leg { joint: LegJoint::Hip, foot_offset: 50.0, ..leg() };
        assert!((hip.demand().peak_torque - 6.0 * GRAVITY * 0.05).abs() < 1e-9);
    }
}
