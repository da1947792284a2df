//! Torque of a motor's current and current of a torque, with saturation: the law, its range and its source stand at
//! [`saturated_torque`](crate::design::motor_constants::saturated_torque).

use crate::design::Motor;
pub use crate::design::motor_constants::saturated_torque as torque;

use super::constants::torque_constants;

/// Torque at the rotor \[N m\] at a peak phase current \[A\], saturation included.
pub fn rotor_torque(motor: &Motor, current: f64) -> f64 {
    torque(torque_constants(motor.kv, motor.kv_is).peak_phase, motor.saturation, motor.current_limit, current)
}

/// Peak phase current \[A\] for a torque at the rotor \[N m\]. None beyond what the current limit gives.
pub fn current_for_torque(motor: &Motor, torque: f64) -> Option<f64> {
    let constant = torque_constants(motor.kv, motor.kv_is).peak_phase;
    current(constant, motor.saturation, motor.current_limit, torque)
}

/// The inverse of [`torque`] on its rising branch.
///
/// With `s = I / Imax` the torque is `s - a s^3` of the straight line's; `s = 2 sin(x) / sqrt(3 a)` turns that into
/// `sin(3 x)`, since `sin 3x = 3 sin x - 4 sin^3 x`.
pub fn current(constant: f64, saturation: f64, limit: f64, torque: f64) -> Option<f64> {
    /// Below it the cubic is a straight line to the last digit.
    const NONE: f64 = 1e-12;
    let share_of_line = torque / (constant * limit);
    let share = if saturation < NONE {
        share_of_line
    } else {
        let scale = libm::sqrt(3.0 * saturation);
        let sine = 1.5 * scale * share_of_line;
        if sine.abs() > 1.0 {
            return None;
        }
        2.0 / scale * libm::sin(libm::asin(sine) / 3.0)
    };
    // The last bit of the limit's own torque must not be refused.
    (share.abs() <= 1.0 + 1e-9).then_some(share * limit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn current_and_torque_are_inverse() {
        for saturation in [0.0, 0.05, 0.15, 0.33] {
            for current_in in [0.0, 1.0, 17.0, 36.0] {
                let out = torque(0.0919, saturation, 36.0, current_in);
                let back = current(0.0919, saturation, 36.0, out).expect("within the limit");
                assert!((back - current_in).abs() < 1e-6, "{back} for {current_in} at {saturation}");
            }
        }
    }

    #[test]
    fn more_than_the_limit_gives_is_refused() {
        let most = torque(0.0919, 0.15, 36.0, 36.0);
        assert_eq!(current(0.0919, 0.15, 36.0, most * 1.01), None);
        assert!(current(0.0919, 0.15, 36.0, most).is_some());
    }
}
