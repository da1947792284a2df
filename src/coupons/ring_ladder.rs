//! Ladders of thin rings: seats that a bearing goes into, posts that go into a bearing. A flag on the bed carries the
//! number of the step.

use crate::design::Printer;
use crate::geometry::{Body, Point, Region, ShapeError};

use super::coupon::Piece;
use super::marks::{DEPTH_IN_LAYERS, Digit};

/// Wall of a ring, in lines: few enough to print in minutes, more than the two that give way to a thumb.
const WALL_IN_LINES: f64 = 3.0;
/// Height on which the fit is tried: enough that a bearing doesn't tilt.
const LAND: f64 = 2.6;
/// Lead-in at the mouth, on the radius.
const LEAD_IN: f64 = 0.4;
/// Thickness of flags, in layers.
const FLAG_IN_LAYERS: f64 = 8.0;
/// An overhang nearer to the vertical than this can't carry a chamfer worth printing.
const LEAST_SLOPE: f64 = 0.3;

/// Thickness of what carries a number.
pub fn flag_thickness(printer: &Printer) -> f64 {
    FLAG_IN_LAYERS * printer.layer_height
}

/// Cuts a number into the face at height `top`.
pub fn engrave(
    body: &mut Body,
    printer: &Printer,
    number: u32,
    centre: Point,
    top: f64,
) -> Result<(), ShapeError> {
    let digit = Digit::of(printer.line_width).region(number, centre)?;
    body.cut("number", [top - DEPTH_IN_LAYERS * printer.layer_height, top], digit);
    Ok(())
}

/// Widens a round hole at the bed, where the first layers bulge into it.
pub fn foot_chamfer(body: &mut Body, printer: &Printer, centre: Point, diameter: f64, most: f64) {
    let by = f64::min(f64::max(printer.bed_chamfer, printer.elephant_foot), most);
    let slope = f64::min(1.0, libm::tan(printer.overhang));
    if by <= 0.0 || slope < LEAST_SLOPE {
        return;
    }
    let wide = Region::disc(centre, diameter / 2.0 + by);
    body.cut_taper("foot", [0.0, by / slope], wide, Region::disc(centre, diameter / 2.0));
}

/// A flag outside a round body: its outline and the middle of its number.
fn flag(printer: &Printer, outer: f64) -> (Region, Point) {
    let digit = Digit::of(printer.line_width);
    let margin = digit.stroke;
    // It begins inside the wall, as deep as the chord across it falls short of the circle, and a line more.
    let half = digit.height / 2.0 + margin;
    let radius = outer / 2.0;
    let from = (radius * radius - f64::min(half, 0.8 * radius) * f64::min(half, 0.8 * radius)).sqrt();
    let from = from - printer.line_width;
    let to = radius + 2.0 * margin + digit.width;
    let region = Region::rectangle(Point::new(from, -half), Point::new(to, half));
    (region, Point::new(to - margin - digit.width / 2.0, 0.0))
}

/// A ring with a bore to go into.
pub fn seat(printer: &Printer, bore: f64, number: u32) -> Result<Piece, ShapeError> {
    let wall = WALL_IN_LINES * printer.line_width;
    let outer = bore + 2.0 * wall;
    let thickness = flag_thickness(printer);
    let top = LAND + 2.0 * LEAD_IN;
    let (region, middle) = flag(printer, outer);
    let mut body = Body::new();
    body.add("flag", [0.0, thickness], region);
    body.add("ring", [0.0, top], Region::disc(Point::ORIGIN, outer / 2.0));
    body.cut("bore", [0.0, top], Region::disc(Point::ORIGIN, bore / 2.0));
    let lead_in = f64::min(LEAD_IN, wall / 2.0);
    foot_chamfer(&mut body, printer, Point::ORIGIN, bore, lead_in);
    let (narrow, wide) = (bore / 2.0, bore / 2.0 + lead_in);
    body.cut_taper(
        "lead-in",
        [top - lead_in, top],
        Region::disc(Point::ORIGIN, narrow),
        Region::disc(Point::ORIGIN, wide),
    );
    engrave(&mut body, printer, number, middle, thickness)?;
    Ok(Piece { name: format!("ring {number}"), marks: vec![number], stack: body.stack()? })
}

/// A ring that goes into a bore; its flag stops what slides onto it. No number: 0.
pub fn post(printer: &Printer, diameter: f64, number: u32) -> Result<Piece, ShapeError> {
    let wall = WALL_IN_LINES * printer.line_width;
    let thickness = flag_thickness(printer);
    let top = thickness + LAND + LEAD_IN;
    let lead_in = f64::min(LEAD_IN, wall / 2.0);
    let disc = |radius: f64| Region::disc(Point::ORIGIN, radius);
    let radius = diameter / 2.0;
    let mut body = Body::new();
    if number > 0 {
        let (region, middle) = flag(printer, diameter);
        body.add("flag", [0.0, thickness], region);
        engrave(&mut body, printer, number, middle, thickness)?;
    }
    body.add("post", [0.0, top - lead_in], disc(radius));
    body.add_taper("lead-in", [top - lead_in, top], disc(radius), disc(radius - lead_in));
    if radius > 3.0 * wall {
        body.cut("inside", [0.0, top], disc(radius - wall));
    }
    let marks = if number > 0 { vec![number] } else { Vec::new() };
    Ok(Piece { name: format!("post {number}"), marks, stack: body.stack()? })
}
