//! Carriers of tapered walls at a height between, and where two of them meet.

use super::error::{ShapeError, ShapeErrorKind};
use super::intersect::{SNAP, carrier_crossings};
use super::loops::Loop;
use super::point::Point;
use super::segment::{Curve, Segment};

/// Carriers whose directions differ by less meet tangentially: their crossing is ill-defined \[rad\].
const TANGENT: f64 = 1e-6;

/// Where two carriers meet, nearest to `near`; tangent or equal carriers meet at `near` itself.
pub(crate) fn meet(before: &Segment, after: &Segment, near: Point) -> Option<Point> {
    let turn = before.tangent_at(near).cross(after.tangent_at(near));
    if turn.abs() < TANGENT {
        return Some(near);
    }
    carrier_crossings(before, after).into_iter().min_by(|a, b| a.distance(near).total_cmp(&b.distance(near)))
}

/// A wall between a bottom and a top segment: its carrier at fraction `u` of the height.
///
/// # Errors
/// [`ShapeErrorKind::TaperWall`] unless lines are parallel and arcs concentric.
pub(crate) fn carrier_between(bottom: &Segment, top: &Segment, u: f64) -> Result<Segment, ShapeError> {
    const SAME: f64 = 1e-6; // mm or rad: above rounding, below anything printed
    let (from, to) = (bottom.from.lerp(top.from, u), bottom.to.lerp(top.to, u));
    let refused = || ShapeError::new(ShapeErrorKind::TaperWall).at_point(bottom.from);
    match (bottom.curve, top.curve) {
        (Curve::Line, Curve::Line) => {
            let (below, above) = (bottom.to - bottom.from, top.to - top.from);
            let turned = below.unit().cross(above.unit()).abs();
            // Ends are one within a snap, which turns a short edge by more: its wall is as flat as points are told apart.
            let flat = turned <= SAME || turned * f64::min(below.norm(), above.norm()) <= SNAP;
            if !flat || below.dot(above) < 0.0 {
                return Err(refused());
            }
            Ok(Segment { from, to, curve: Curve::Line })
        }
        (
            Curve::Arc { centre, radius, ccw },
            Curve::Arc { centre: top_centre, radius: top_radius, ccw: top_ccw },
        ) => {
            if centre.distance(top_centre) > SAME || ccw != top_ccw {
                return Err(refused());
            }
            let radius = radius + (top_radius - radius) * u;
            let end = |point: Point| centre + (point - centre).unit() * radius;
            Ok(Segment { from: end(from), to: end(to), curve: Curve::Arc { centre, radius, ccw } })
        }
        _ => Err(refused()),
    }
}

/// Where two neighbouring tapered walls meet at fraction `u`: `before` ends and `after` starts there.
pub(crate) fn corner_between(
    before: [&Segment; 2],
    after: [&Segment; 2],
    u: f64,
) -> Result<Point, ShapeError> {
    if u <= 0.0 {
        return Ok(after[0].from);
    }
    if u >= 1.0 {
        return Ok(after[1].from);
    }
    let (one, two) = (carrier_between(before[0], before[1], u)?, carrier_between(after[0], after[1], u)?);
    let near = two.from;
    meet(&one, &two, near).ok_or_else(|| ShapeError::new(ShapeErrorKind::TaperCorner).at_point(near))
}

/// The outline of a tapered loop at fraction `u` of its height.
pub(crate) fn loop_between(bottom: &Loop, top: &Loop, u: f64) -> Result<Loop, ShapeError> {
    let count = bottom.0.len();
    let corners: Vec<Point> = (0..count)
        .map(|index| {
            let before = (index + count - 1) % count;
            corner_between([&bottom.0[before], &top.0[before]], [&bottom.0[index], &top.0[index]], u)
        })
        .collect::<Result<_, _>>()?;
    let segment = |index: usize| -> Result<Segment, ShapeError> {
        let carrier = carrier_between(&bottom.0[index], &top.0[index], u)?;
        Ok(Segment { from: corners[index], to: corners[(index + 1) % count], curve: carrier.curve })
    };
    Ok(Loop((0..count).map(segment).collect::<Result<_, _>>()?))
}
