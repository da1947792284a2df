//! Parts as stacks of slabs: exact, as the printer sees them, and a source for triangles and B-rep alike.
//!
//! ```text
//! features --body--> slab stack --brep--> indexed boundary --mesh--> triangles
//!    (2D regions of lines and arcs, laid over each other by one arrangement)
//! ```
//!
//! - [`Point`], [`Segment`], [`Loop`], [`Region`]: the plane; `moments`, `intersect`, `corner`, `offset` serve them
//! - `arrangement`: the heart; booleans and interfaces are read off it
//! - [`Body`]: the modeller: adds and cuts in order
//! - [`Stack`]: slabs with straight, twisted and tapered walls; volume, section, turning over
//! - [`Brep`]: vertices, edges, faces with analytic curves and surfaces
//! - [`Mesh`]: triangles, snapped to what an STL file holds
//! - [`ShapeError`]: what clashed, by feature names and place

mod arrangement;
mod body;
mod brep;
mod corner;
mod error;
mod intersect;
mod loops;
mod mesh;
mod moments;
mod offset;
mod point;
mod region;
mod segment;
mod stack;
mod triangulate;

pub use body::Body;
pub use brep::{Brep, Edge, EdgeCurve, EdgeUse, Face, Surface, Vertex};
pub use error::{ShapeError, ShapeErrorKind};
pub use loops::Loop;
pub use mesh::Mesh;
pub(crate) use mesh::{norm, normal};
pub use moments::Moments;
pub use point::{Bounds, Point};
pub use region::Region;
pub use segment::{Curve, Segment};
pub use stack::{MassProperties, Slab, SlabLoop, Stack, Wall};
