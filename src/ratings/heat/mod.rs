//! Heat: what gets how hot, how soon, and what torque that leaves.
//!
//! - [`air`], [`convection`], [`radiation`], [`conduction`], [`vents`]: how heat moves, by published correlations
//! - [`inputs`]: areas, walls and stored heat of a joint
//! - [`network`]: the five nodes and what lies between them
//! - [`steady`]: temperatures that stay, or runaway
//! - `smooth`: powers of the correlations, by series
//! - [`transient`]: temperatures over time, time to a limit, cooling down
//! - [`estimate`]: a motor's heat data from its mass and size
//! - [`continuous`]: torque that can be held, what limits it, over the temperature of the air, and what would gain
//! - [`limiter`]: two-node constants for the drive's own model
//! - [`rating`]: all of it in one answer
//! - [`survey`]: what no check asks: derating, what would gain, cooling down, the drive's own model
//! - [`duty`]: torque and speed over time, from a file

pub mod air;
pub mod conduction;
pub mod continuous;
pub mod convection;
pub mod duty;
pub mod estimate;
pub mod inputs;
pub mod limiter;
pub mod network;
pub mod radiation;
pub mod rating;
mod smooth;
pub mod steady;
pub mod survey;
pub mod transient;
pub mod vents;

pub use inputs::HeatInputs;
pub use network::{Heat, Network, Node, Temperatures};
pub use rating::{Demand, Rating};
pub use survey::Survey;
