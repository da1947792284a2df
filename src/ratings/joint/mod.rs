//! What holds parts together: screws, inserts, pins, plates, press fits.
//!
//! - [`metric_thread`]: a thread by its two numbers
//! - [`screw_torque`]: preload at yield, torque of a preload (VDI 2230 form), nut factor
//! - [`thread_strip`]: load that strips an engaged thread
//! - [`head_pressure`]: what plastic under a screw's head bears
//! - [`insert_hold`]: pull-out and torque-out of a heat-set insert, estimates with a band
//! - [`tightening`]: preload and torque of a screw in a printed joint, the least of the above
//! - [`clamp_loss`]: what creep and heat leave of a clamp force
//! - [`bolt_group`]: torque, shear and overturning moment shared among screws
//! - [`pin`]: bending, shear and bearing pressure of a pin
//! - [`press_fit`]: pressure, stress and torque of a cylindrical press fit (Lamé)
//! - [`circular_plate`]: bending of a round plate
//! - [`thin_ring`]: a ring under equal radial loads in its plane
//!
//! Bare numbers in and out: lengths mm, forces N, stresses MPa; torques and moments N mm unless said otherwise.

pub mod bolt_group;
pub mod circular_plate;
pub mod clamp_loss;
pub mod head_pressure;
pub mod insert_hold;
pub mod metric_thread;
pub mod pin;
pub mod press_fit;
pub mod screw_torque;
pub mod thin_ring;
pub mod thread_strip;
pub mod tightening;

/// Sustained, repeated and one-time strengths of printed plastic are estimates: the truth lies between 0.6 and 1.4 of them
/// (common practice, no source).
pub const BAND: [f64; 2] = [0.6, 1.4];
