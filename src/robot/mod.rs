//! A robot of several joints, sized together.
//!
//! ```text
//! robot file --file, keys--> Robot --joint (what hangs on it, by demand::chain)--> a search space a joint and load
//!     --market (each pair of motor and bearing by itself)--> offers --combine--> robots that none beats
//!     --text, tree, page, shopping, plates--> answer; a design a joint, one shopping list, one plate plan
//! ```

pub mod alike; // joints of one motor and bearing take one gearset where they can
pub mod combine; // which motor and bearing at which joint: all that no other combination beats
pub mod file; // the file: what is shared, each joint, contradictions
pub mod joint; // a joint's requirement once it is known what hangs on it
mod keys; // the keys that a requirement file doesn't have
pub mod kinds; // kinds of motors and bearings
pub mod known; // a gearset of another joint, tried at this one
pub mod made; // the chosen robot, each joint by the calls of `make`
pub mod market; // actuators for a joint, a pair of motor and bearing at a time
pub mod outputs; // its folder
mod page; // its page
mod picture; // from the side, in its posture
pub mod plates; // all its printed parts on as few plates as may be
mod schema; // JSON Schema of the file
pub mod shopping; // the bills of its joints added up
pub mod size; // all joints together: asked, combined, ranked
pub mod text; // the answer for people
pub mod tree; // the answer for machines

pub use file::{Asked, load, load_text};
pub use joint::Robot;
pub use schema::schema;
pub use size::{Onlooker, Sized, size};
