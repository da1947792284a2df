//! The laid-out actuator and what is drawn and written of it.

mod assembly; // how it goes together and comes apart
mod book; // the build book
mod drawings; // sections and sheets
mod interference; // every pair of bodies
mod parts; // shapes, printability, masses, the same bytes every time
mod plates; // pieces on the bed, and the 3MF
mod ranking; // what gives way first
mod scene; // bought parts in place, and the binary glTF
mod step; // STEP files as text

#[path = "../support/mod.rs"]
mod support;
