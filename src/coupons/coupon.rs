//! A test print: its pieces as they lie on the bed, each with the number one reads on it, and what its steps stand for.

use crate::design::{Design, PartName};
use crate::geometry::{Mesh, ShapeError, ShapeErrorKind, Stack};
use crate::layout::Actuator;
use crate::parts::{self, PartFault};
use crate::printing::print_time;

/// Gap between pieces on the bed \[mm\]: a skirt fits, and they come off singly.
const GAP: f64 = 3.0;
/// Places on the bed are whole multiples of this \[mm\], so that moving a mesh keeps its 32-bit numbers exact.
const PLACE: f64 = 1.0 / 64.0;

/// What a coupon tests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Seats of a bearing's outside; steps: allowance on the diameter.
    Seat,
    /// Posts in a bearing's bore; steps: allowance on the diameter.
    Post,
    /// Holes of dowel pins; steps: allowance on the diameter.
    Pin,
    /// Clearance holes of a screw; steps: allowance over ISO 273, medium.
    Clearance,
    /// Pockets of heat-set inserts; steps: growth added to the diameter.
    Insert,
    /// Pilot holes of a screw that forms its thread; steps: growth added to the diameter.
    Pilot,
    /// Bores of the ring insert; steps: allowance on the diameter.
    RingInsert,
    /// The ring that is tried in them.
    RingInsertGauge,
    /// Toothed sockets of a bought sun; steps: allowance on the diameter.
    SunSocket,
    /// Mates of one gear; steps: growth of a flank that is taken off.
    GearPair,
    /// Bridges; steps: span.
    Bridge,
    /// Leaning walls; steps: angle from the vertical \[rad\].
    Overhang,
    /// A post to measure: growth and elephant foot.
    Gauge,
}

/// One printed body of a coupon.
#[derive(Clone, Debug)]
pub struct Piece {
    pub name: String,
    /// Numbers engraved in it, in the order of its steps.
    pub marks: Vec<u32>,
    /// As it prints, lowest face at z = 0.
    pub stack: Stack,
}

/// A test print.
#[derive(Clone, Debug)]
pub struct Coupon {
    /// Plain: "seat-65".
    pub name: String,
    pub kind: Kind,
    pub title: String,
    /// The size that is tested: a bearing's, pin's or screw's diameter; 0 where there is none.
    pub size: f64,
    /// The printed part whose material and settings it prints with.
    pub part: PartName,
    /// Step n is the n-th, tightest first.
    pub steps: Vec<f64>,
    pub pieces: Vec<Piece>,
}

/// Why a coupon has no shape.
#[derive(Debug, thiserror::Error)]
#[error("coupon {coupon}: {source}")]
pub struct CouponError {
    pub coupon: String,
    pub source: CouponFault,
}

/// What can go wrong with one.
#[derive(Debug, thiserror::Error)]
pub enum CouponFault {
    #[error(transparent)]
    Shape(#[from] PartFault),
    #[error("a piece of it is larger than the printer's bed")]
    LargerThanBed,
}

/// A piece's lower left corner on a bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    pub piece: usize,
    pub at: [f64; 2],
}

impl Coupon {
    /// The same, at the size at which it prints in its material. A bridge's span is what the printer spans.
    #[must_use]
    pub fn scaled(mut self, actuator: &Actuator) -> Coupon {
        let design = &actuator.design;
        let scale = design.printer.scale(&design.settings(self.part).material.name);
        if scale != 1.0 && self.kind != Kind::Bridge {
            for piece in &mut self.pieces {
                piece.stack = piece.stack.scaled(scale);
            }
        }
        self
    }

    /// Plastic \[mm3\]: coupons print solid.
    pub fn volume(&self) -> Result<f64, ShapeError> {
        self.pieces.iter().map(|piece| piece.stack.volume()).sum()
    }

    /// \[kg\]
    pub fn mass(&self, design: &Design) -> Result<f64, ShapeError> {
        // g/cm3 is 1e-6 kg/mm3.
        Ok(self.volume()? * design.settings(self.part).material.density * 1e-6)
    }

    /// Time on the printer, a stated estimate \[min\]. With all pieces on the bed no layer has to wait to cool.
    pub fn minutes(&self, design: &Design) -> Result<f64, ShapeError> {
        let flow = print_time::flow(&design.printer, design.settings(self.part).layer_height);
        Ok(self.volume()? / flow * print_time::OVERHEAD / 60.0)
    }

    /// The pieces in rows on as few beds as rows make of it; none if a piece is larger than the bed.
    pub fn plates(&self, bed: [f64; 3]) -> Option<Vec<Vec<Place>>> {
        let mut plates: Vec<Vec<Place>> = Vec::new();
        let mut corner = [0.0, 0.0];
        let mut row_depth = 0.0;
        for (piece, one) in self.pieces.iter().enumerate() {
            let size = one.stack.size();
            if (0..3).any(|axis| size[axis] > bed[axis]) {
                return None;
            }
            if corner[0] + size[0] > bed[0] {
                corner = [0.0, corner[1] + row_depth + GAP];
                row_depth = 0.0;
            }
            if plates.is_empty() || corner[1] + size[1] > bed[1] {
                plates.push(Vec::new());
                corner = [0.0, 0.0];
                row_depth = 0.0;
            }
            if let Some(plate) = plates.last_mut() {
                plate.push(Place { piece, at: corner });
            }
            corner[0] += size[0] + GAP;
            row_depth = f64::max(row_depth, size[1]);
        }
        Some(plates)
    }

    /// Triangles of one plate, every piece at its place.
    ///
    /// # Errors
    /// A boundary that doesn't close.
    pub fn mesh(&self, plate: &[Place]) -> Result<Mesh, ShapeError> {
        let mut all = Mesh::default();
        for place in plate {
            let Some(piece) = self.pieces.get(place.piece) else {
                return Err(ShapeError::new(ShapeErrorKind::Empty));
            };
            let mesh = parts::fine_mesh(&piece.stack, piece.stack.volume()?)?;
            let low = [0, 1]
                .map(|axis| mesh.vertices.iter().map(|vertex| vertex[axis]).fold(f64::INFINITY, f64::min));
            let by = [0, 1].map(|axis| ((place.at[axis] - low[axis]) / PLACE).ceil() * PLACE);
            let first = all.vertices.len() as u32; // an STL file of four thousand million corners can't be
            let faces = all.face_of.last().map_or(0, |face| face + 1);
            all.vertices.extend(mesh.vertices.iter().map(|[x, y, z]| [x + by[0], y + by[1], *z]));
            all.triangles.extend(mesh.triangles.iter().map(|corners| corners.map(|corner| corner + first)));
            all.face_of.extend(mesh.face_of.iter().map(|face| face + faces));
        }
        all.snapped()
    }
}
