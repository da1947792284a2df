//! Ratings applied to a laid-out actuator: which of its sizes, materials and loads go into which rating.
//!
//! The ratings themselves know nothing of the layout, so that a search can run them on bare numbers.

pub mod control_inputs; // the virtual spring: loop, inertias, loads
pub mod gear_ratings; // gears at work: loads, heat, strength, wear
pub mod heat_inputs; // areas, walls and capacities of the heat network
pub mod stage_feel; // stiffness, play and inertia of the stage
