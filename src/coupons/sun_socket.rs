//! Toothed sockets for a bought sun, in steps of the allowance on the diameter.

use crate::gears::ProfileFault;
use crate::geometry::{Body, Loop, Point, Region};
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

/// The outline in the first layers: widened against the elephant foot, as far as the root fillets of the teeth allow.
fn foot_outline(actuator: &Actuator, allowance: f64) -> Result<Loop, ProfileFault> {
    let printer = &actuator.design.printer;
    let foot = f64::min(printer.elephant_foot, printer.line_width);
    let widened =
        |share: f64| actuator.stage.sun.profile_grown(allowance / 2.0 + share * foot, PROFILE_TOLERANCE);
    [1.0, 0.75, 0.5, 0.25].into_iter().find_map(|share| widened(share).ok()).map_or_else(|| widened(0.0), Ok)
}

pub fn socket(actuator: &Actuator, allowance: f64, number: u32) -> Result<Piece, PartFault> {
    let printer = &actuator.design.printer;
    let gear = &actuator.stage.sun;
    let grown = gear.profile_grown(allowance / 2.0, PROFILE_TOLERANCE)?;
    let at_bed = foot_outline(actuator, allowance)?;
    let outer = gear.tip_diameter + 2.0 * WALL;
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
