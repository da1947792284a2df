//! STEP files (ISO 10303-21, application protocol 214): each part alone, and all of them in their places.
//!
//! Surfaces are what they are: planes, cylinders, cones; only helical flanks are B-splines, within 1e-7 mm of the helix.
//! The entities are written here and not by truck-stepio: that crate knows neither product names nor colours nor
//! assemblies, its faces and header need mending before other programs read them without remarks, and it neither shares
//! points nor rounds them, which doubles the files.
//!
//! Same design, same bytes: the header has no time and no path.

mod assembly; // parts in their places
mod conic; // where tapered walls meet: exact rational quadratics
mod curve; // the curve of an edge
mod entities; // numbering, numbers and text
mod helix; // splines that turn about the z axis
mod product; // a named, coloured part
mod solid; // a boundary as shells, faces, edges, vertices
mod spline; // B-spline curves and surfaces
mod surface; // the surface of a face

pub use assembly::{Placed, Placement, assembly};
pub use product::part;

/// What a file says of a part besides its shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    pub name: String,
    pub description: String,
}
