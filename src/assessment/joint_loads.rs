//! What each bolted joint has to carry at peak: torque, force across, pull and overturning moment.
//!
//! Forces N, torques and moments N m, lengths mm. The lever's force with shock acts at the overhang; pushing loads only press
//! joints together and are left out, on the safe side. The gears' thrust goes round from sun over rotor, mount and base
//! to the ring.

use crate::design::Joint;
use crate::layout::{Actuator, Bolting};
use crate::ratings::gear_forces::GearForces;

/// Standard gravity \[m/s2\].
const GRAVITY: f64 = 9.80665;
/// Share of the planets' load that reaches the back plate: half of it, the planet in the middle of its pin (statics).
pub const BACK_PLATE_SHARE: f64 = 0.5;

/// What takes a joint's torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Path {
    /// Clamp force and friction alone.
    Friction,
    /// Teeth or lobes; friction only helps.
    Teeth,
    /// The planets' pins hold meanwhile: the screws' friction keeps the back plate from settling.
    Pins,
    /// There is no torque.
    None,
}

/// Load on a whole joint at peak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointLoad {
    pub torque: f64,
    /// Across the axis, what no register carries.
    pub across: f64,
    /// Pulls the joint apart.
    pub pull: f64,
    pub moment: f64,
    /// Distance from the axis to the edge over which the moment tilts the joint.
    pub edge: f64,
    pub path: Path,
}

impl JointLoad {
    const NONE: JointLoad =
        JointLoad { torque: 0.0, across: 0.0, pull: 0.0, moment: 0.0, edge: 0.0, path: Path::None };
}

/// The lever's radial force at its worst: work with shock, or the peak torque at the lever's end.
pub fn peak_radial(actuator: &Actuator) -> f64 {
    let load = &actuator.design.load;
    // No lever, no force.
    let by_lever = if load.arm > 0.0 { actuator.torques.output / (load.arm * 1e-3) } else { 0.0 };
    f64::max((load.weight + load.radial) * load.shock, by_lever + load.radial)
}

/// Load that pushes the output in, off the keeper: with shock, and for a single bearing the moment's couple, of which one
/// side pushes.
pub fn keeper_push(actuator: &Actuator) -> f64 {
    let (design, stations) = (&actuator.design, &actuator.stations);
    let load = &design.load;
    let couple = if design.bearings.output_count == 1 {
        let middle = (stations.bearing_back + stations.bearing_front) / 2.0;
        4.0 * 1e3 * moment_at(actuator, middle) / design.bearings.output.mean_diameter()
    } else {
        0.0
    };
    f64::max(0.0, -load.axial) * load.shock + couple
}

/// Overturning moment of the lever at a height.
fn moment_at(actuator: &Actuator, z: f64) -> f64 {
    peak_radial(actuator) * (actuator.design.load.overhang + actuator.stations.output_face - z) * 1e-3
}

/// Load on a joint under the forces of the gears at peak; `mass` of the whole actuator \[kg\].
pub fn joint_load(actuator: &Actuator, joint: &Bolting, forces: &GearForces, mass: f64) -> JointLoad {
    let (design, torques, stations) = (&actuator.design, &actuator.torques, &actuator.stations);
    let thrust = forces.sun_thrust.abs();
    let shock = design.load.shock;
    let pulls = f64::max(0.0, design.load.axial) * shock;
    let motor = design.motor.mass * GRAVITY * shock;
    // The motor's weight on a joint that lies across it, at the middle of its height.
    let motor_moment = motor * (design.motor.height / 2.0) * 1e-3;
    match joint.joint {
        Joint::Machine => {
            let weight = mass * GRAVITY * shock;
            JointLoad {
                torque: torques.output,
                across: peak_radial(actuator) + weight,
                pull: pulls + weight,
                moment: moment_at(actuator, 0.0) + weight * stations.output_face / 2.0 * 1e-3,
                edge: actuator.base.outer / 2.0,
                path: Path::Friction,
            }
        }
        Joint::StatorMount => JointLoad {
            torque: torques.sun,
            across: 0.0,
            pull: thrust + motor,
            moment: motor_moment,
            edge: actuator.base.bore / 2.0,
            path: Path::Friction,
        },
        Joint::Service => JointLoad {
            torque: torques.ring,
            across: 0.0,
            pull: pulls + thrust,
            moment: moment_at(actuator, stations.service),
            edge: actuator.housing.rim_diameter / 2.0,
            path: Path::Friction,
        },
        Joint::MotorToMount => JointLoad {
            torque: torques.sun,
            across: motor,
            pull: thrust + motor,
            moment: motor_moment,
            edge: joint.radius(),
            path: Path::Friction,
        },
        Joint::AdapterToRotor => JointLoad {
            torque: torques.sun,
            across: forces.sun_unbalance,
            pull: thrust,
            edge: joint.radius(),
            path: Path::Friction,
            ..JointLoad::NONE
        },
        Joint::Sun => JointLoad { torque: torques.sun, pull: thrust, path: Path::Teeth, ..JointLoad::NONE },
        Joint::Keeper => JointLoad { pull: keeper_push(actuator), ..JointLoad::NONE },
        Joint::Pillars => {
            JointLoad { torque: BACK_PLATE_SHARE * torques.output, path: Path::Pins, ..JointLoad::NONE }
        }
        Joint::Output | Joint::ClampRing => JointLoad {
            torque: torques.output,
            across: 0.0,
            pull: pulls,
            moment: moment_at(actuator, stations.bearing_front),
            edge: actuator.clamp_ring.spigot_diameter / 2.0,
            path: Path::Teeth,
        },
        Joint::RingInsert => {
            JointLoad { torque: torques.ring, pull: thrust, path: Path::Teeth, ..JointLoad::NONE }
        }
        Joint::Board => JointLoad::NONE,
    }
}
