//! A plain post to measure with a caliper: how much it grows, and how far its first layers bulge.

use crate::design::Printer;
use crate::geometry::{Body, Point, Region, ShapeError};

use super::coupon::Piece;

/// Outside as drawn and printed, nothing taken off.
pub const DIAMETER: f64 = 20.0;
const HEIGHT: f64 = 6.0;
const WALL_IN_LINES: f64 = 6.0;

pub fn post(printer: &Printer) -> Result<Piece, ShapeError> {
    let radius = DIAMETER / 2.0;
    let inner = f64::max(1.0, radius - WALL_IN_LINES * printer.line_width);
    let mut body = Body::new();
    body.add("post", [0.0, HEIGHT], Region::annulus(Point::ORIGIN, inner, radius));
    Ok(Piece { name: "post".into(), marks: Vec::new(), stack: body.stack()? })
}
