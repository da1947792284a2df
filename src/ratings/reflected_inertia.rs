//! Inertia of all that turns, as the output feels it, and the torque a blocked output costs.
//!
//! With the ring fixed and the carrier at `wc`: the sun and the rotor turn at `i wc`; a planet's middle runs at `a wc`
//! and the planet turns, seen from outside, at `(1 - zr / zp) wc`. Equal kinetic energy gives
//! `J = i^2 Js + n (m a^2 + Jp (1 - zr / zp)^2) + Jc` (kinematics, no source needed).
//!
//! Inertias kg m2, masses kg. Not covered: the balls of the output bearing, grease, the motor's cables.

use std::f64::consts::PI;

use crate::gears::Stage;

/// Speeds of the turning bodies when the carrier turns at 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Speeds {
    pub planets: f64,
    /// Sun, and everything on the rotor.
    pub sun: f64,
    /// Of a planet about its own middle, seen from outside.
    pub planet: f64,
    /// Distance of a planet's middle from the axis \[mm\].
    pub centre_distance: f64,
}

impl Speeds {
    pub fn of(stage: &Stage) -> Speeds {
        Speeds {
            planets: f64::from(stage.planets),
            sun: stage.ratio,
            planet: 1.0 - f64::from(stage.ring.teeth) / f64::from(stage.planet.teeth.max(1)),
            centre_distance: stage.centre_distance,
        }
    }
}

/// What turns, grouped by how it turns.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MovingBodies {
    /// Motor's rotor.
    pub rotor: f64,
    /// Sun, rotor adapter, magnet cup and what sits on them.
    pub sun: f64,
    /// One planet and what turns with it, about its own axis.
    pub planet: f64,
    /// Mass of one planet and of what turns with it.
    pub planet_mass: f64,
    /// Carrier and all that turns with it, pins included, about the actuator's axis.
    pub carrier: f64,
}

/// Inertia at the output and who has what part of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReflectedInertia {
    pub rotor: f64,
    pub sun: f64,
    /// Planets' middles running round.
    pub planets_round: f64,
    /// Planets turning.
    pub planets_turning: f64,
    pub carrier: f64,
    ratio: f64,
}

impl ReflectedInertia {
    pub fn of(bodies: &MovingBodies, speeds: &Speeds) -> ReflectedInertia {
        let square = speeds.sun * speeds.sun;
        let arm = speeds.centre_distance * 1e-3;
        ReflectedInertia {
            rotor: bodies.rotor * square,
            sun: bodies.sun * square,
            planets_round: speeds.planets * bodies.planet_mass * arm * arm,
            planets_turning: speeds.planets * bodies.planet * speeds.planet * speeds.planet,
            carrier: bodies.carrier,
            ratio: speeds.sun,
        }
    }

    /// At the output.
    pub fn output(&self) -> f64 {
        self.rotor + self.sun + self.planets_round + self.planets_turning + self.carrier
    }

    /// The same felt at the sun.
    pub fn motor(&self) -> f64 {
        self.output() / (self.ratio * self.ratio)
    }
}

/// Torque at the sun \[N m\] when the output, turning at `output_speed` \[rad/s\], is blocked: the rotor's inertia at the
/// sun (`Js`) runs into the stage's stiffness at the output, `w i J wn` with `wn = sqrt(K / (i^2 J))`.
///
/// Assumes a rigid obstacle, no slip, no damping and the motor's own torque left out: an upper end. None without a
/// positive stiffness, ratio and inertia.
pub fn collision_torque(
    output_speed: f64,
    ratio: f64,
    inertia_at_sun: f64,
    output_stiffness: f64,
) -> Option<f64> {
    let positive = ratio > 0.0 && inertia_at_sun > 0.0 && output_stiffness > 0.0;
    let natural = (output_stiffness / inertia_at_sun).sqrt() / ratio;
    positive.then(|| output_speed.abs() * ratio * inertia_at_sun * natural)
}

/// A solid or hollow cylinder, about its own axis: mass \[kg\] and inertia \[kg m2\]; lengths mm, density kg/mm3.
pub fn cylinder(outer: f64, bore: f64, length: f64, density: f64) -> [f64; 2] {
    let mass = PI / 4.0 * (outer * outer - bore * bore) * length * density;
    [mass, ring_inertia(mass, outer, bore)]
}

/// Inertia \[kg m2\] of a cylinder of known mass \[kg\] about its own axis.
pub fn ring_inertia(mass: f64, outer: f64, bore: f64) -> f64 {
    mass * (outer * outer + bore * bore) / 8.0 * 1e-6
}
