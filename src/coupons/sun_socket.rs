//! Toothed sockets for a bought sun, in steps of the allowance on the diameter.

use crate::geometry::{Body, Point, Region};
use crate::layout::Actuator;
use crate::parts::{PROFILE_TOLERANCE, PartFault};

use super::coupon::Piece;
use super::marks::Digit;
use super::ring_ladder::{engrave, flag_thickness};

/// Wall around the teeth.
const WALL: f64 = 2.5;
/// Depth of engagement: a short stretch of the joint.
const DEPTH: f64 = 5.0;
/// The first layers are widened against the elephant foot over this height.
const FOOT_HEIGHT: f64 = 0.3;

pub fn socket(actuator: &Actuator, allowance: f64, number: u32) -> Result<Piece, PartFault> {
    let printer = &actuator.design.printer;
    let gear = &actuator.stage.sun;
    let grown = gear.profile_grown(allowance / 2.0, PROFILE_TOLERANCE)?;
    let foot = f64::min(printer.elephant_foot, printer.line_width);
    let at_bed = gear.profile_grown(allowance / 2.0 + foot, PROFILE_TOLERANCE)?;
    let outer = gear.tip_diameter + 2.0 * (WALL + foot);
    let digit = Digit::of(printer.line_width);
    let half = digit.height / 2.0 + digit.stroke;
    let to = outer / 2.0 + digit.width + 2.0 * digit.stroke;
    let thickness = flag_thickness(printer);
    let from = gear.tip_diameter / 2.0 + WALL / 2.0;
    let mut body = Body::new();
    // The flag begins in the wall, clear of the teeth: no wider than the boss there.
    body.add("flag", [0.0, thickness], Region::rectangle(Point::new(from, -half), Point::new(to, half)));
    body.add("boss", [0.0, DEPTH], Region::disc(Point::ORIGIN, outer / 2.0));
    let centre = Point::new(to - digit.stroke - digit.width / 2.0, 0.0);
    engrave(&mut body, printer, number, centre, thickness)?;
    body.cut_twisted("socket foot", [0.0, FOOT_HEIGHT], at_bed, gear.twist_per_mm());
    body.cut_twisted("socket", [FOOT_HEIGHT, DEPTH], grown, gear.twist_per_mm());
    Ok(Piece { name: format!("socket {number}"), marks: vec![number], stack: body.stack()? })
}
