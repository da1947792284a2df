//! Catalogue values with their sources.
//!
//! Lengths in mm, forces in N, stresses in MPa, masses in kg. Every row says where it was printed, and whether it was
//! read there or stands from memory.

mod bearing; // one deep groove ball bearing
mod bearing_lookup; // "6810", "61810-2RS1", "6810@NSK" to a row
mod bearing_rows; // the makers' rows, a data file a source
mod catalogue; // every table as text, for printing
mod cleanliness; // how clean a bearing runs
mod clearance; // radial internal clearance groups
mod crossed_rollers; // crossed roller bearings
mod designation; // what was typed, taken apart
pub mod fit; // ISO 286: tolerances and fits
mod gear_metal; // metals of bought gears
mod insert; // heat-set inserts, with the contradicting rules for their holes
mod material; // print materials
mod nut; // hexagon and square nuts
mod pin; // dowel pins
mod screw; // heads, lengths, masses of socket screws
mod thermal_expansion; // how materials grow with heat
mod thread; // metric coarse threads: holes, stress area, proof load
mod thread_forming; // screws that form their thread in plastic
mod washer; // plain washers
mod whole_balls; // ISO 281 and ISO 76 ratings from the balls, and back
mod wire; // stranded leads by gauge

pub use bearing::{Bearing, BearingKind};
pub use bearing_lookup::{bearing, bearing_names_near, bearings, planet_bearings};
pub use catalogue::{Table, catalogue};
pub use cleanliness::Cleanliness;
pub use clearance::{ClearanceGroup, radial_clearance};
pub use crossed_rollers::{crossed_roller, crossed_rollers};
pub use designation::{Designation, Enclosure};
pub use gear_metal::{GearMetal, gear_metal, gear_metal_names, gear_metals};
pub use insert::{HoleRule, Insert, InsertForm, insert_of, inserts, usual_insert};
pub use material::{Material, material, material_names, materials};
pub use nut::{Nut, NutStandard, nuts, trap_height};
pub use pin::{Pin, pin_of, pins};
pub use screw::{
    ScrewHead, ScrewStandard, cap_head, next_length, screw_head, screw_heads, screw_lengths, screw_mass,
    threaded_length,
};
pub use thermal_expansion::{STEEL_EXPANSION, thermal_expansion};
pub use thread::{HoleSeries, PropertyClass, Thread};
pub use thread_forming::{FormingBoss, FormingRule, FormingScrew, forming_rules, forming_screws};
pub use washer::{Washer, washer_of, washers};
pub use whole_balls::{BallSet, FitError, dynamic_rating, find_ball_set, static_rating};
pub use wire::{Wire, wires};
