//! The geometry kernel: a printed part is a stack of slabs along z, each a plane region between two heights.
//!
//! ```text
//! Point -> Segment -> Loop -> Region --arrangement--> union, difference, intersection, contacts
//!                               |
//!                    Body (features by height) --evaluate at every break--> Stack of Slabs
//!                                                                             |-> exact volume, centroid, inertia
//!                                                                             '-> Brep --tessellate--> Mesh --> STL
//! ```
//!
//! There are no solid booleans: features are combined as plane regions in each interval of height, and where two slabs
//! meet, the horizontal faces are *below minus above* and *above minus below*. Lines stay lines and arcs stay arcs
//! through to the boundary representation.
//!
//! # Units
//! Millimetres and radians throughout; areas mm2, volumes mm3.
//!
//! # Assumptions
//! Parts are smaller than a metre and their features larger than 1e-3 mm; points nearer than 1e-5 mm are one point.

mod arrangement; // regions cut at every crossing, with what lies left and right
mod boolean; // union, minus, intersection
mod distance; // least distance between regions
mod error; // ShapeError: what clashed and where
mod intersect; // crossings of two carriers; the snap distance
mod loops; // Loop: a closed chain of segments
mod moments; // area, first and second moments in closed form
mod offset; // exact inset, general offset
mod point; // Point, Bounds
mod region; // Region: constructors and measures
mod segment; // Segment: a line or an arc

pub use error::{ShapeError, ShapeErrorKind};
pub use loops::Loop;
pub use moments::Moments;
pub use point::{Bounds, Point};
pub use region::{Piece, Region};
pub use segment::{Curve, Segment};
