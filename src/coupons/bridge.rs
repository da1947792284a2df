//! Bridges and leaning walls, up to what the profile says the printer can.

use crate::design::Printer;
use crate::geometry::{Body, Point, Region, ShapeError};

use super::coupon::Piece;
use super::marks::Digit;
use super::ring_ladder::{engrave, flag_thickness};

/// Height of the air under a bridge.
const AIR: f64 = 6.0;
/// Layers of a bridge.
const DECK_IN_LAYERS: f64 = 5.0;
/// Height of a leaning wall, and its thickness in lines.
const WALL_HEIGHT: f64 = 8.0;
const WALL_IN_LINES: f64 = 6.0;

/// Two posts and a deck of this span between them.
pub fn bridge(printer: &Printer, span: f64, number: u32) -> Result<Piece, ShapeError> {
    let digit = Digit::of(printer.line_width);
    let post = digit.width + 2.0 * digit.stroke;
    let depth = digit.height + 2.0 * digit.stroke;
    let top = AIR + DECK_IN_LAYERS * printer.layer_height;
    let block = |from: f64, to: f64| Region::rectangle(Point::new(from, 0.0), Point::new(to, depth));
    let mut body = Body::new();
    body.add("post", [0.0, top], block(0.0, post));
    body.add("far post", [0.0, top], block(post + span, 2.0 * post + span));
    body.add("deck", [AIR, top], block(0.0, 2.0 * post + span));
    engrave(&mut body, printer, number, Point::new(post / 2.0, depth / 2.0), top)?;
    Ok(Piece { name: format!("bridge {number}"), marks: vec![number], stack: body.stack()? })
}

/// A wall that leans by this angle from the vertical \[rad\], on a foot.
pub fn leaning_wall(printer: &Printer, angle: f64, number: u32) -> Result<Piece, ShapeError> {
    let digit = Digit::of(printer.line_width);
    let (thickness, depth) = (flag_thickness(printer), digit.height + 2.0 * digit.stroke);
    let wall = WALL_IN_LINES * printer.line_width;
    let start = digit.width + 2.0 * digit.stroke;
    let lean = WALL_HEIGHT * libm::tan(angle);
    let block = |from: f64, to: f64| Region::rectangle(Point::new(from, 0.0), Point::new(to, depth));
    let mut body = Body::new();
    // The foot reaches under the wall's middle of mass, so that it stands.
    body.add("foot", [0.0, thickness], block(0.0, start + wall + lean / 2.0));
    body.add_taper(
        "wall",
        [thickness, thickness + WALL_HEIGHT],
        block(start, start + wall),
        block(start + lean, start + wall + lean),
    );
    engrave(&mut body, printer, number, Point::new(start / 2.0, depth / 2.0), thickness)?;
    Ok(Piece { name: format!("wall {number}"), marks: vec![number], stack: body.stack()? })
}
