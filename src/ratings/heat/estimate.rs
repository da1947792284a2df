//! Heat data of a pancake outrunner from its mass and size, where nothing is measured.
//!
//! Shares of mass in winding, stator and rotor, a stator of 0.9 of the bell's diameter and 0.4 of its height, and insulation
//! around the winding: common practice, no source. Stated band: capacities 1.3, resistances 1.5, either way.

use std::f64::consts::PI;

/// Copper's share of the motor's mass.
const WINDING_SHARE: f64 = 0.25;
/// Stator iron with its carrier.
const STATOR_SHARE: f64 = 0.35;
/// Bell and magnets.
const ROTOR_SHARE: f64 = 0.40;
/// Specific heats \[J/(kg K)\]: copper 385, iron with some aluminium 500, iron with magnets 460 (from memory).
const WINDING_HEAT: f64 = 385.0;
const STATOR_HEAT: f64 = 500.0;
const ROTOR_HEAT: f64 = 460.0;
/// Of slot insulation, varnish and the air between wires \[K m2/W\]: about a millimetre of them together.
const INSULATION: f64 = 0.007;
/// Slot walls over the stator's outside.
const SLOT_WALLS: f64 = 3.0;
const STATOR_DIAMETER: f64 = 0.9;
const STATOR_HEIGHT: f64 = 0.4;
/// Between stator and magnets \[mm\].
pub const MAGNET_GAP: f64 = 0.8;

/// Estimated data; areas mm2, capacities J/K, resistance K/W.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotorHeat {
    pub winding_capacity: f64,
    pub stator_capacity: f64,
    pub rotor_capacity: f64,
    pub winding_to_mount: f64,
    pub stator_diameter: f64,
    /// Stator's outside, towards the magnets.
    pub gap_area: f64,
}

/// From mass \[kg\], outside diameter and height \[mm\].
pub fn motor_heat(mass: f64, diameter: f64, height: f64) -> MotorHeat {
    let stator_diameter = STATOR_DIAMETER * diameter;
    let gap_area = PI * stator_diameter * STATOR_HEIGHT * height;
    MotorHeat {
        winding_capacity: WINDING_SHARE * mass * WINDING_HEAT,
        stator_capacity: STATOR_SHARE * mass * STATOR_HEAT,
        rotor_capacity: ROTOR_SHARE * mass * ROTOR_HEAT,
        winding_to_mount: INSULATION / (SLOT_WALLS * gap_area * 1e-6),
        stator_diameter,
        gap_area,
    }
}
