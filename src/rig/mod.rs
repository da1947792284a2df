//! A bench rig for one design: printed parts that hold, load and measure it, and a plan of what to measure.
//!
//! ```text
//! Product --sizes--> Sizes --parts--> Bodies --form, rating--> checks       Product --plan--> steps with limits
//! ```
//!
//! Parts print as the base does (its material and settings), flat, without supports. Loads: the peak torque at the marked radius
//! where it is worst. Acceptance limits are the predictions of [`ratings`](crate::ratings) with the bands of a trial.

pub mod parts; // the bodies
pub mod plan; // what to measure, in order, with limits and cautions
pub mod rating; // bending, bearing pressure, slip, form
pub mod sheet; // test-plan.md, rig.json, the terminal
mod sizes; // every dimension

pub use parts::{RigPart, parts};
pub use plan::{Step, plan};
pub use rating::{RigCheck, checks};
pub use sizes::{NoRig, Sizes, lever_stress};
