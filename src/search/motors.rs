//! Ratios that a motor can work with: from its peak torque and its highest speed.

use crate::design::Design;
use crate::ratings::motor::{self, Circuit, Supply};

/// What a motor allows, whatever the gears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotorWindow {
    /// Lowest ratio that gives the peak torque: exact, the check `motor-torque` is the same line.
    pub least_ratio: f64,
    /// Highest ratio that can reach the speed asked for. Flatters: reckoned without load and with a winding as cold as the
    /// air, while the check has the current of the continuous torque and the winding's heat, which both cost voltage.
    pub most_ratio: f64,
    /// Torque at the output a unit of ratio \[N m\].
    pub torque_by_ratio: f64,
    /// Speed of the rotor behind `most_ratio` \[rad/s\].
    pub rotor_speed: f64,
}

impl MotorWindow {
    pub fn of(design: &Design) -> MotorWindow {
        let current = f64::min(design.motor.current_limit, design.controller.current_limit);
        let torque_by_ratio = motor::rotor_torque(&design.motor, current) * design.gearset.efficiency;
        let circuit = Circuit::of(&design.motor, &design.controller);
        let supply = Supply::of(&design.controller);
        let rotor_speed = circuit.highest_speed(&supply, 0.0, design.ambient.temperature).unwrap_or(0.0);
        let most_ratio = match design.requirement.speed {
            Some(speed) if speed > 0.0 => rotor_speed / speed,
            _ => f64::INFINITY,
        };
        MotorWindow {
            // A hair less, so that rounding doesn't decide.
            least_ratio: design.requirement.peak_torque / torque_by_ratio.max(f64::MIN_POSITIVE)
                * (1.0 - 1e-9),
            most_ratio,
            torque_by_ratio,
            rotor_speed,
        }
    }

    pub fn allows(&self, ratio: f64) -> bool {
        (self.least_ratio..=self.most_ratio).contains(&ratio)
    }
}
