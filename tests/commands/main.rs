//! The commands, inside and as a user runs them.

mod cli; // streams, exit codes, nothing written when something is wrong
mod comparison; // two designs side by side; a design on another motor
mod coupons; // test prints, and what findings turn into
mod live; // the live page's server
mod rig; // printed parts for the bench
mod robot; // several joints sized together
mod size; // from a requirement to motor, gears and bearings
mod trial; // bench logs against the prediction

#[path = "../support/command.rs"]
mod command;
#[path = "../support/mod.rs"]
mod support;
