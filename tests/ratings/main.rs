//! Ratings against published values, closed forms and second solvers, and at work in the demos.

mod bearing_ratings; // bearings at work
mod bearing_rows; // every row of the bearing table against ISO 281 and ISO 76
mod control; // the virtual spring
mod fits; // ISO 286
mod gear_forces; // balance of torques and axial forces in the stage
mod gear_ratings; // gears of the demos at work
mod joint_ratings; // screws, inserts, pins, plates, rings, press fits
mod losses; // mesh losses and efficiency
mod motor_heat; // motor and heat
mod plastic_gears; // plastic gears
mod published; // published values, one loop a kind
mod stage_feel; // stiffness, play and inertia of the stage
mod tooth_strength; // root and flank stress

#[path = "../support/mod.rs"]
mod support;
