//! Carriers that move, and where two of them meet: insets and tapered walls.

use super::error::{ShapeError, ShapeErrorKind};
use super::intersect::carrier_crossings;
use super::loops::Loop;
use super::point::Point;
use super::segment::{Curve, Segment};

/// Carriers whose directions differ by less meet tangentially: their crossing is ill-defined \[rad\].
const TANGENT: f64 = 1e-6;

/// The segment's carrier moved to the left by `distance`; ends moved along the normal.
fn moved_left(segment: &Segment, distance: f64) -> Option<Segment> {
    match segment.curve {
        Curve::Line => {
            let by = (segment.to - segment.from).unit().left_normal() * distance;
            Some(Segment::line(segment.from + by, segment.to + by))
        }
        Curve::Arc { centre, radius, ccw } => {
            let moved = if ccw { radius - distance } else { radius + distance };
            let scale = moved / radius;
            let end = |point: Point| centre + (point - centre) * scale;
            (moved > 0.0).then(|| Segment {
                from: end(segment.from),
                to: end(segment.to),
                curve: Curve::Arc { centre, radius: moved, ccw },
            })
        }
    }
}

/// Where two carriers meet, nearest to `near`; tangent or equal carriers meet at `near` itself.
pub(crate) fn meet(before: &Segment, after: &Segment, near: Point) -> Option<Point> {
    let turn = before.tangent_at(near).cross(after.tangent_at(near));
    if turn.abs() < TANGENT {
        return Some(near);
    }
    carrier_crossings(before, after).into_iter().min_by(|a, b| a.distance(near).total_cmp(&b.distance(near)))
}

impl Loop {
    /// See [`super::Region::inset`].
    pub(crate) fn inset(&self, distance: f64) -> Result<Loop, ShapeError> {
        let refused =
            |segment: &Segment| ShapeError::new(ShapeErrorKind::InsetTopology).at_point(segment.from);
        let moved: Vec<Segment> = self
            .0
            .iter()
            .map(|segment| moved_left(segment, distance).ok_or_else(|| refused(segment)))
            .collect::<Result<_, _>>()?;
        let count = moved.len();
        let corners: Vec<Point> = (0..count)
            .map(|index| {
                let (before, after) = (&moved[(index + count - 1) % count], &moved[index]);
                let near = (before.to + after.from) * 0.5;
                meet(before, after, near).ok_or_else(|| refused(&self.0[index]))
            })
            .collect::<Result<_, _>>()?;
        let inset = Loop(
            (0..count)
                .map(|index| Segment {
                    from: corners[index],
                    to: corners[(index + 1) % count],
                    curve: moved[index].curve,
                })
                .collect(),
        );
        for (old, new) in self.0.iter().zip(&inset.0) {
            // An edge that turned round or swept past a full turn has vanished.
            let kept = match old.curve {
                Curve::Line => (old.to - old.from).dot(new.to - new.from) > 0.0,
                Curve::Arc { .. } => (old.sweep() - new.sweep()).abs() < std::f64::consts::PI / 2.0,
            };
            if !kept {
                return Err(refused(old));
            }
        }
        Ok(inset)
    }

    /// Least distance between the two boundaries.
    pub(crate) fn gap_to(&self, other: &Loop) -> f64 {
        let mut least = f64::INFINITY;
        let theirs: Vec<_> = other.0.iter().map(|segment| (segment, segment.bounds())).collect();
        for segment in &self.0 {
            let bounds = segment.bounds();
            for (candidate, box_of) in &theirs {
                if bounds.gap_to(*box_of) < least {
                    least = least.min(segment_gap(segment, candidate));
                }
            }
        }
        least
    }
}

/// Least distance between two segments that may cross.
fn segment_gap(a: &Segment, b: &Segment) -> f64 {
    let on = |segment: &Segment, point: Point| segment.nearest(point).distance(point);
    let ends =
        [on(b, a.from), on(b, a.to), on(a, b.from), on(a, b.to)].into_iter().fold(f64::INFINITY, f64::min);
    // Inner candidates: crossings, and the points that face each other along the line of centres.
    let facing = facing_points(a, b)
        .into_iter()
        .map(|(p, q)| if on(a, p) < 1e-9 && on(b, q) < 1e-9 { p.distance(q) } else { f64::INFINITY });
    let crossing =
        carrier_crossings(a, b).into_iter().any(|point| on(a, point) < 1e-9 && on(b, point) < 1e-9);
    if crossing { 0.0 } else { facing.fold(ends, f64::min) }
}

/// Pairs of points on the two carriers whose joining line is normal to both.
fn facing_points(a: &Segment, b: &Segment) -> Vec<(Point, Point)> {
    match (a.curve, b.curve) {
        (Curve::Line, Curve::Line) => Vec::new(),
        (Curve::Line, Curve::Arc { centre, radius, .. }) => {
            let direction = (a.to - a.from).unit();
            let foot = a.from + direction * (centre - a.from).dot(direction);
            let away = (foot - centre).unit() * radius;
            vec![(foot, centre + away), (foot, centre - away)]
        }
        (Curve::Arc { .. }, Curve::Line) => facing_points(b, a).into_iter().map(|(p, q)| (q, p)).collect(),
        (Curve::Arc { centre: c1, radius: r1, .. }, Curve::Arc { centre: c2, radius: r2, .. }) => {
            let axis = (c2 - c1).unit();
            let ends = |c: Point, r: f64| [c + axis * r, c - axis * r];
            let (first, second) = (ends(c1, r1), ends(c2, r2));
            first.iter().flat_map(|&p| second.iter().map(move |&q| (p, q))).collect()
        }
    }
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
            let (a, b) = ((bottom.to - bottom.from).unit(), (top.to - top.from).unit());
            if a.cross(b).abs() > SAME || a.dot(b) < 0.0 {
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
