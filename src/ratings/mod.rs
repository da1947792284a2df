//! Ratings: one file each, with standard and clause, symbols, valid range, and what is not covered.
//!
//! - [`bearing_load`]: equivalent dynamic load of a deep groove ball bearing (ISO 281)
//! - [`bearing_life`]: basic and adjusted rating life, oscillating life (ISO 281)
//! - [`bearing_modified_life`], [`lubrication`]: a_ISO by film and cleanliness (ISO 281)
//! - [`crossed_roller`]: loads and life of crossed roller bearings
//! - [`grease_life`]: how long grease lasts, least load of a ball bearing
//! - [`mean_load`]: mean load and speed over changing work
//! - [`bearing_friction`], [`tilt_play`]: friction torque; tipping in the clearance
//! - [`static_load`]: equivalent static load, static safety, axial limits (ISO 76)
//! - [`output_bearing`]: from what hangs on the output to loads, life and safety
//! - [`planet_bearing`]: load on one planet bearing, the helix's tilting couple included
//! - [`joint`]: screws, inserts, pins, plates and press fits
//! - [`axial_chain`]: tolerance chains, worst case and root sum square
//! - [`tooth_root`]: nominal root stress, form and stress correction factors (ISO 6336-3)
//! - [`ring_root`]: root factors of a ring with an arc for a fillet, as printed
//! - [`tooth_flank`]: nominal contact stress of metal gears (ISO 6336-2)
//! - [`plastic_gear`]: plastic and printed gears: heat, strength, give, wear (VDI 2736-2, from memory)
//! - [`tooth_root_estimate`]: Lewis stress at the planet's root, a first form
//! - [`mesh_loss`]: sliding loss of a mesh (Niemann, Ohlendorf)
//! - [`planetary_efficiency`]: efficiency of the stage both ways, drag, back-drive torque
//! - [`gear_forces`]: forces at the meshes, on pins, motor and housing
//! - [`gear_strength`]: root stress of all gears of a stage, flank pressure of its metal pairs
//! - [`cycloidal`]: forces and losses of a cycloidal disc stage, for comparison
//! - [`wiring`]: phase leads: gauge for the current, room
//! - [`heat`]: what gets how hot, how soon, and the torque that leaves
//! - [`motor`]: torque constants, losses, voltage and supply, torque over speed
//! - [`mesh_stiffness`]: stiffness of a mesh (ISO 6336-1)
//! - [`stage_stiffness`]: torsional stiffness of the stage at the output, and its weakest part
//! - [`spring`]: the virtual spring: gains, stability, errors, motion over time, encoder
//! - [`reflected_inertia`]: inertia of all that turns as the output feels it, torque of a collision

pub mod axial_chain;
pub mod bearing_friction;
pub mod bearing_life;
pub mod bearing_load;
pub mod bearing_modified_life;
pub mod crossed_roller;
pub mod cycloidal;
pub mod gear_forces;
pub mod gear_strength;
pub mod grease_life;
pub mod heat;
pub mod joint;
pub mod lubrication;
pub mod mean_load;
pub mod mesh_loss;
pub mod mesh_stiffness;
pub mod motor;
pub mod output_bearing;
pub mod planet_bearing;
pub mod planetary_efficiency;
pub mod plastic_gear;
pub mod reflected_inertia;
pub mod ring_root;
pub mod spring;
pub mod stage_stiffness;
pub mod static_load;
pub mod tilt_play;
pub mod tooth_flank;
pub mod tooth_root;
pub mod tooth_root_estimate;
pub mod wiring;
