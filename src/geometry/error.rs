//! What a shape can be refused for: one error type that names what clashed and where.

use std::fmt;

/// Why a shape was refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ShapeErrorKind {
    #[error("a number is not finite")]
    NotFinite,
    #[error("the height interval is empty or reversed")]
    EmptyInterval,
    #[error("nothing is left of the shape")]
    Empty,
    #[error("the outline is not a closed chain of segments that has an area")]
    BadOutline,
    #[error("the outlines could not be traced after cutting them at their crossings")]
    OpenBoundary,
    #[error("outlines touch at a point, which would leave an edge with four faces")]
    Contact,
    #[error("the material below and the material above meet in an edge or a corner only")]
    NonManifold,
    #[error("bottom and top outline of a taper do not correspond segment by segment")]
    TaperTopology,
    #[error("a tapered wall is neither a plane (parallel lines) nor a cone (concentric arcs)")]
    TaperWall,
    #[error("two tapered walls meet in a curve that is neither straight nor a conic")]
    TaperCorner,
    #[error("the outline changes its topology between bottom and top of the slab")]
    SlabTopology,
    #[error("a twisted outline is cut into or covered by another feature")]
    TwistedOutlineBroken,
    #[error("an outline comes nearer than 0.2 mm to twisted teeth within the slab")]
    TwistedClearance,
    #[error("the inset would change the outline's topology")]
    InsetTopology,
    #[error("an edge is not shared by exactly two faces")]
    OpenShell,
    #[error("the surface could not be triangulated, even finely")]
    Triangulation,
    #[error("more features share one height than the kernel lays over each other")]
    TooManyFeatures,
    #[error("the boundary is not one closed shell")]
    ManyShells,
    #[error("the mesh is not closed")]
    OpenMesh,
}

/// A refused shape: what is wrong, which features clash, where.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapeError {
    pub kind: ShapeErrorKind,
    /// Names of the features involved, in modelling order; empty where the operation knows of none.
    pub features: Vec<String>,
    /// x, y, z \[mm\]; z is NaN where the operation is in the plane.
    pub place: Option<[f64; 3]>,
}

impl ShapeError {
    pub fn new(kind: ShapeErrorKind) -> ShapeError {
        ShapeError { kind, features: Vec::new(), place: None }
    }

    #[must_use]
    pub fn at(mut self, x: f64, y: f64, z: f64) -> ShapeError {
        self.place = Some([x, y, z]);
        self
    }

    #[must_use]
    pub fn at_point(self, point: super::Point) -> ShapeError {
        self.at(point.x, point.y, f64::NAN)
    }

    /// The same error with the height filled in.
    #[must_use]
    pub fn at_height(mut self, z: f64) -> ShapeError {
        self.place = Some(self.place.map_or([f64::NAN, f64::NAN, z], |[x, y, _]| [x, y, z]));
        self
    }

    #[must_use]
    pub fn naming(mut self, features: impl IntoIterator<Item = String>) -> ShapeError {
        for name in features {
            if !self.features.contains(&name) {
                self.features.push(name);
            }
        }
        self
    }
}

impl fmt::Display for ShapeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.kind)?;
        match self.features.as_slice() {
            [] => {}
            [one] => write!(f, ": \"{one}\"")?,
            [first @ .., last] => write!(f, ": \"{}\" and \"{last}\"", first.join("\", \""))?,
        }
        let Some(place) = self.place else { return Ok(()) };
        let known: Vec<String> = ["x", "y", "z"]
            .iter()
            .zip(place)
            .filter(|(_, value)| value.is_finite())
            .map(|(axis, value)| format!("{axis} = {value:.3}"))
            .collect();
        if known.is_empty() { Ok(()) } else { write!(f, ", at {} mm", known.join(", ")) }
    }
}

impl std::error::Error for ShapeError {}

impl From<ShapeErrorKind> for ShapeError {
    fn from(kind: ShapeErrorKind) -> ShapeError {
        ShapeError::new(kind)
    }
}
