//! From a requirement to motor, ratio, gears and bearings, with the ratings of this project.
//!
//! ```text
//! requirement file --requirement, text--> Space --gearsets--> strong gearsets --candidates--> groups, best first
//!     --rate (outline, layout, heat, checks, drawn)--> front --table, picture--> answer and design file
//! ```
//!
//! A candidate is left out early only where a bound that flatters it misses the requirement, or where the front covers even
//! that: each bound says why it flatters. What is ranked has been made and judged like any design.

mod at_home; // problems of made-up designs, told where the requirement has them
pub mod bounds; // which bounds are used; the front as they see it
pub mod candidates; // motor, gearset, bearing, materials together; bounds on them
pub mod front; // what no other beats
pub mod gearsets; // integers, assembly, tooth strength
pub mod heat_bound; // torque that no candidate of a motor holds
mod known_heat; // what can be held, solved once for each network
mod known_hubs; // bolts and crown, laid out once for each output bearing
pub mod lightest; // one motor with one bearing, weighed by mass alone
pub mod motors; // ratios a motor can work with
pub mod near_miss; // what came closest, when nothing holds
mod on_hand; // motors from folders, bearings of one's own
mod order; // which groups are looked at first
pub mod page; // the search as a page of its own
mod picture; // scatters of the choices
pub mod rate; // one candidate, from text to verdict
pub mod reducers; // a cycloidal and a servo-like drive beside the choice
pub mod requirement; // the file: keys and contradictions
pub mod run; // stage by stage, in waves that don't depend on the threads
pub mod table; // the answer as text and as a tree
pub mod text; // a candidate as a design file
mod trade; // what a choice gives against its neighbour

pub use bounds::Bounds;
pub use requirement::{Space, load, load_text};
pub use run::{Found, Watch, run, run_with};
