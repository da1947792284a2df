//! What a robot or a test rig asks of one joint: torque and speed at the output.
//!
//! - [`lever`]: a weight on a lever
//! - [`link`]: a link with a payload that is held and swung
//! - [`chain`]: the same of links that carry each other, with the actuators between them
//! - [`leg`]: knee or hip of a leg that carries a robot, and makes it jump
//!
//! Statics and kinematics of rigid links (any textbook of mechanics); friction of the joint is the actuator's own and not
//! in it. Gravity is the standard value.

pub mod chain;
pub mod leg;
pub mod lever;
pub mod link;

pub use chain::{Axis, Member};
pub use leg::{Leg, LegJoint};
pub use lever::Lever;
pub use link::Link;

/// Standard gravity \[m/s2\] (3rd CGPM, 1901): a defined value.
pub const GRAVITY: f64 = 9.806_65;

/// Whether a demand lasts for hours or only for a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lasting {
    Moment,
    Hours,
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand {
    /// Which section of the requirement it comes from.
    pub by: &'static str,
    /// Highest torque at the output \[N m\].
    pub peak_torque: f64,
    /// To be held for hours \[N m\].
    pub continuous_torque: Option<f64>,
    /// Highest speed of the output \[rad/s\].
    pub speed: Option<f64>,
}
