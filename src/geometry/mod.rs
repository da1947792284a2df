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
mod body; // Body: the modeller, features that add and cut by height
mod boolean; // union, minus, intersection
mod brep; // Brep: vertices, edges, faces with analytic curves and surfaces
mod concentric; // what figures of circles about one centre share
mod corner; // carriers of tapered walls, and where two of them meet
mod distance; // least distance between regions
mod error; // ShapeError: what clashed and where
mod intersect; // crossings of two carriers; the snap distance
mod loops; // Loop: a closed chain of segments
mod mesh; // Mesh: triangles, snapped to what an STL file holds
mod moments; // area, first and second moments in closed form
mod offset; // exact inset, general offset
mod point; // Point, Bounds
mod region; // Region: constructors and measures
mod runs; // Run: edges that follow each other, in one box
mod section; // Section: a region that is asked many questions
mod segment; // Segment: a line or an arc
mod stack; // Stack: slabs with straight, twisted and tapered walls
mod triangulate; // constrained triangulation of a face

pub use body::Body;
pub use brep::{Brep, Corner, Edge, EdgeCurve, EdgeUse, Face, Surface, Vertex};
pub use error::{ShapeError, ShapeErrorKind};
pub use loops::Loop;
pub use mesh::Mesh;
pub(crate) use mesh::{norm, normal};
pub use moments::Moments;
pub use point::{Bounds, Point};
pub use region::{Piece, Region};
pub use section::{Lateral, Pick, Section};
pub use segment::{Curve, Segment};
pub use stack::{MassProperties, Slab, SlabLoop, Stack, Wall};
