//! A log of bench measurements against the prediction: what was measured, what was predicted, and what the joint really is.
//!
//! ```text
//! CSV --log--> rows by test --impossible--> sound rows --least_squares--> Fit --findings--> Trial --> page, plots, design file
//! ```
//!
//! Each quantity comes from the kind of test that identifies it; predictions are the project's own
//! ([`ratings::motor`](crate::ratings::motor), [`ratings::heat`](crate::ratings::heat), [`assessment`](crate::assessment)).
//! Intervals hold the scatter of the readings alone: a scale or lever that is wrong by 2 % makes a torque constant wrong by 2 %.

pub mod columns; // kinds of test, and the columns of a log
pub mod columns_sheet; // what a log may hold, as text
pub mod findings; // Trial: all tests, what they identify
pub mod least_squares; // fit, covariance, outliers
pub mod log; // the CSV
pub mod plot; // measured, predicted with its band, fitted
pub mod sheet; // trial.md, trial.json, the terminal
pub mod student; // quantiles of t
pub mod write_back; // measured values into the design file

mod bands; // of predictions
mod bench; // the joint as predicted, and the tests' common shape
mod cells; // where a line's cells stand, and the numbers in them
mod electric; // spin, resistance, no-load
mod give; // backlash, stiffness
mod heads; // a log's first line
mod impossible; // readings that physics rules out
mod means; // readings of one and the same thing
mod torque; // torque over current, free run
mod uncertain; // values with errors, put together
mod warming; // temperatures over time

pub use bands::{BANDS, Bands};
pub use bench::{Axis, Bench, Identified, Impossible, Measure, Point, TestResult};
pub use findings::Trial;
pub use log::{Log, Row};
