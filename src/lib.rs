//! hubwright: from one design file to a printed robot joint.
//!
//! The way data flows, one direction only:
//!
//! ```text
//! design file (TOML) --design--> Design --layout--> Actuator --parts--> slab stacks --geometry--> meshes
//!                                                      |                                             |
//!                                                      +--ratings--> checks --+--> report, bill of materials, STL, STEP
//! ```
//!
//! # Units
//! Lengths are millimetres (the unit of the drawing), angles radians; everything else is SI base units: N, N m, kg,
//! s, K, A, V, ohm. Stresses are MPa, which is N/mm2. Units are read and written only at the edge
//! ([`quantity`], [`export`]).

pub mod assembly; // how it goes together and comes apart
pub mod assessment; // ratings applied to a laid-out actuator
pub mod bom; // the bill of materials
pub mod book; // the build book: one page with everything
pub mod bought; // bought parts as simple bodies
pub mod cautions; // what can hurt, in one wording
pub mod checks; // each check: value, limit, margin, verdict, basis
pub mod commands; // the command line, one file a command
pub mod comparison; // two designs side by side; a design on another motor
pub mod coupons; // test prints, and what they say about the printer
pub mod demand; // what a robot or a rig asks of a joint
pub mod design; // the design file: text, spans, defaults, validation
pub mod diagnostic; // one type for everything the tool has to say about an input
pub mod drawing; // section of the assembly, a sheet a part, as SVG
pub mod drive_sheet; // all that is typed into a motor drive, and in what order
pub mod export; // STL, STEP, bill of materials, report, summary
pub mod gear_sheet; // all that a gear maker asks about a gear
pub mod gears; // tooth geometry of the planetary stage
pub mod geometry; // points to regions to slab stacks to B-rep to mesh
pub mod interference; // every pair of bodies: gap, meant contact, or overlap
pub mod layout; // where everything sits: the Actuator
pub mod live; // a design looked at and changed in a browser
pub mod parts; // one file a printed part
pub mod pipeline; // a resolved design to a judged product
pub mod plates; // printed parts arranged on the bed
pub mod printing; // walls, hold on the bed, time, which way up
pub mod product; // all that is made of an actuator, before it is judged
pub mod quantity; // units: "14.5 in" to a number and back
pub mod ratings; // one file a rating: bearing life, static load, ...
pub mod rig; // printed parts for the bench, and what to measure on them
pub mod robot; // several joints sized together: one shopping list, one plate plan
pub mod scene; // the whole actuator to look at
pub mod search; // from a requirement to motor, gears and bearings
pub mod tables; // bearings, screws, inserts, pins, materials, with their sources
pub mod trial; // a log of the bench against the prediction, and what it says of the joint
pub mod web; // the 3D view and the style that pages share
pub mod words; // what is said about a design, written when it is read
