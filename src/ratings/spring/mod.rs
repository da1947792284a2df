//! The virtual spring: a motor that acts as a spring and damper through the gears, and how well it can.
//!
//! - [`second_order`]: overshoot and times of a spring, a damper and an inertia
//! - [`gains`]: stiffness and damping at output and motor, gears in series
//! - [`dead_band`]: what backlash leaves of a stiffness
//! - [`encoder`]: a sensor beside the axis, to electrical angle, to torque
//! - [`static_error`]: where the output may stand still beside its place
//! - [`matrix`]: exponential and spectral radius of small matrices
//! - [`sampled`]: the loop as the drive runs it: sampled, held, late, filtered
//! - [`stability`]: the stiffest spring by each rule, and which governs
//! - [`two_masses`]: motor and load with the gears' play between them, over time
//! - [`impact`]: bounds of a blow in closed form
//! - [`rating`]: all of it in one answer
//!
//! Everything is at the output unless a name says otherwise: stiffness N m/rad, damping N m s/rad, inertia kg m2, angles rad.

pub mod dead_band;
pub mod encoder;
pub mod gains;
pub mod impact;
pub mod matrix;
pub mod rating;
pub mod sampled;
pub mod second_order;
pub mod stability;
pub mod static_error;
pub mod two_masses;

pub use rating::{Inputs, Rating};
