//! Stiffness and damping at the output, and the same as motor-side gains.
//!
//! A spring `K_m` at the rotor is `i^2 K_m` at the output, in series with the gears' own stiffness; a damper likewise. Balance of
//! powers. Range: a stage without slip. Not covered: tooth friction; pushed by hand, the output feels up to 1 / eta_back more,
//! giving way less by as much (hysteresis).

use std::f64::consts::TAU;

/// A virtual spring and damper, at the output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gains {
    /// \[N m/rad\]
    pub stiffness: f64,
    /// \[N m s/rad\]
    pub damping: f64,
}

/// The same in the units a drive may ask for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotorGains {
    /// At the rotor \[N m/rad\].
    pub stiffness: f64,
    /// \[N m/turn\]
    pub stiffness_per_turn: f64,
    /// Peak phase current per angle of the rotor \[A/rad\].
    pub current_per_angle: f64,
    /// At the rotor \[N m s/rad\].
    pub damping: f64,
    /// \[N m s/turn\]
    pub damping_per_turn: f64,
    /// Peak phase current per speed of the rotor \[A s/rad\].
    pub current_per_speed: f64,
}

impl Gains {
    /// A spring of this stiffness \[N m/rad\], damped by `2 zeta sqrt(K J)`, J \[kg m2\].
    pub fn damped(stiffness: f64, damping_ratio: f64, inertia: f64) -> Gains {
        Gains { stiffness, damping: 2.0 * damping_ratio * (stiffness * inertia).sqrt() }
    }

    /// At a rotor that turns `ratio` times as fast and makes `torque_constant` \[N m\] per ampere of peak phase current.
    pub fn at_motor(&self, ratio: f64, torque_constant: f64) -> MotorGains {
        let square = ratio * ratio;
        let (stiffness, damping) = (self.stiffness / square, self.damping / square);
        MotorGains {
            stiffness,
            stiffness_per_turn: stiffness * TAU,
            current_per_angle: stiffness / torque_constant,
            damping,
            damping_per_turn: damping * TAU,
            current_per_speed: damping / torque_constant,
        }
    }
}

/// Stiffness of two springs in a row \[N m/rad\].
pub fn in_series(first: f64, second: f64) -> f64 {
    first * second / (first + second)
}

/// Virtual stiffness that feels as `wanted` through gears of stiffness `gears`; none if the gears alone are softer.
pub fn virtual_for(wanted: f64, gears: f64) -> Option<f64> {
    (wanted > 0.0 && wanted < gears).then(|| wanted * gears / (gears - wanted))
}
