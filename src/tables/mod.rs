//! Catalogue values with their sources.
//!
//! Lengths in mm, forces in N, stresses in MPa. Every row says where it was printed, and whether it was read there or
//! stands from memory.

mod bearing; // one deep groove ball bearing
mod bearing_lookup; // "6810", "61810-2RS1", "6810@NSK" to a row
mod bearing_rows; // the makers' rows, a data file a source
mod catalogue; // all tables as text, for printing
mod clearance; // radial internal clearance groups
mod designation; // what was typed, taken apart
mod insert; // heat-set inserts
mod material; // print materials
mod pin; // dowel pins
mod screw; // socket screws: heads, lengths, mass
mod thread; // metric coarse threads
mod whole_balls; // ISO 281 and ISO 76 ratings from the balls, and back

pub use bearing::Bearing;
pub use bearing_lookup::{bearing, bearing_names_near, bearings, planet_bearings};
pub use catalogue::{NamedTable, catalogue};
pub use clearance::{ClearanceGroup, radial_clearance};
pub use designation::{Designation, Enclosure};
pub use insert::{Insert, InsertLength, heat_set_insert, insert_mass};
pub use material::{Material, material, material_names, materials};
pub use pin::next_pin_length;
pub use screw::{
    Head, HeadDimensions, head_dimensions, lengths, longest_length_within, next_length, screw_mass,
};
pub use thread::{HoleSeries, PropertyClass, Thread};
pub use whole_balls::{BallSet, FitError, dynamic_rating, find_ball_set, static_rating};
