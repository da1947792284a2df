//! A bench rig for one design: printed parts that hold, load and measure it, and a plan of what to measure.
//!
//! ```text
//! Product --sizes--> Sizes --parts--> Bodies --rating, clash--> checks       Product --plan--> steps with limits
//! ```
//!
//! Parts print as the base does (its material and settings), flat, without supports. Loads: the peak torque at the marked radius
//! where it is worst. Acceptance limits are the predictions of [`ratings`](crate::ratings) with the bands of a trial.

pub mod clash; // rig and actuator where they stand together
pub mod parts; // the bodies
pub mod plan; // what to measure, in order, with limits and cautions
pub mod plates; // as they print together
pub mod rating; // bending, bearing pressure, form
pub mod sheet; // test-plan.md, rig.json, the terminal
pub mod sizes; // every dimension

pub use parts::{RigPart, parts};
pub use plan::{Step, plan};
pub use rating::{RigCheck, checks};
pub use sizes::lever::lever_stress;
pub use sizes::{NoRig, Sizes};
