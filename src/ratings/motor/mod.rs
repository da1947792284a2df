//! The motor and its supply: torque, loss, voltage and speed, at the rotor and at the output.
//!
//! - [`constants`](crate::design::motor_constants): torque constant in all three conventions, ideal no-load speed, torque of a current
//! - [`saturation`]: torque of a motor's current and current of a torque
//! - [`losses`]: copper loss with temperature, drag of iron and bearings
//! - [`circuit`]: voltage with inductance, supply sag, supply current, field weakening
//! - [`speed_map`]: torque over speed at the output, and what limits it
//! - [`scale`]: what a scale under a lever should show
//!
//! A wye motor with sinusoidal currents throughout; a delta winding by its equivalent wye. Currents are peak values of
//! the sine in one phase unless a name says otherwise.

pub mod circuit;
pub mod losses;
pub mod saturation;
pub mod scale;
pub mod speed_map;

pub use crate::design::motor_constants as constants;
pub use circuit::{Circuit, Supply};
pub use constants::{TorqueConstants, no_load_speed, torque_constants};
pub use saturation::{current_for_torque, rotor_torque};
