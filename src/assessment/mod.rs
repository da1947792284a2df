//! Ratings applied to a laid-out actuator: which of its sizes, materials and loads go into which rating.
//!
//! The ratings themselves know nothing of the layout, so that a search can run them on bare numbers.

pub mod axial; // tolerance chains along the axis
pub mod back_drive; // torque that turns the unloaded joint by hand
pub mod bearing_ratings; // lives, friction and play of the bearings
pub mod boss_walls; // plastic around insert holes
pub mod control_inputs; // the virtual spring: loop, inertias, loads
pub mod fastening; // screws, inserts and holes, measured on the bodies
pub mod fit_classes; // classes of ISO 286 of what sits in what
pub mod gear_ratings; // gears at work: loads, heat, strength, wear
pub mod heat_inputs; // areas, walls and capacities of the heat network
pub mod joint_loads; // what each bolted joint has to carry
pub mod joints; // bolted joints: clamp, slip, opening, shear, threads, walls
pub mod stage_feel; // stiffness, play and inertia of the stage
pub mod structure; // planet pins, plates, hub, lobes
pub mod tightening; // preload and torque of each screw
pub mod wiring; // leads and the openings they go through
