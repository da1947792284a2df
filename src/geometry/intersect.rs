//! Where two segments' carriers (the whole line or circle) meet, and whether a point lies on a segment.

use smallvec::{SmallVec, smallvec};

use super::point::Point;
use super::segment::{Curve, Segment};

/// Points nearer than this are one point \[mm\]. Crossings are computed to about 1e-12, but a crossing of tangent
/// carriers only to the square root of that, about 2e-6; ten nanometres covers it and is far below any print.
pub(crate) const SNAP: f64 = 1e-5;

/// A line or circle that comes this near to a circle without crossing it touches it \[mm\].
const TANGENT: f64 = 1e-6;

/// Whether two points are nearer than [`SNAP`].
pub(crate) fn are_one(a: Point, b: Point) -> bool {
    let off = a - b;
    off.dot(off) < SNAP * SNAP
}

/// True when `point` lies within [`SNAP`] of the segment's interior, away from its ends.
pub(crate) fn lies_inside(segment: &Segment, point: Point) -> bool {
    let on = match segment.curve {
        Curve::Line => {
            let (d, off) = (segment.to - segment.from, point - segment.from);
            let (square, along) = (d.dot(d), off.dot(d));
            along > 0.0 && along < square && d.cross(off).abs() <= SNAP * square.sqrt()
        }
        Curve::Arc { centre, radius, .. } => {
            (point.distance(centre) - radius).abs() <= SNAP && segment.passes(point - centre)
        }
    };
    on && !are_one(point, segment.from) && !are_one(point, segment.to)
}

/// Two at most.
pub(crate) type Crossings = SmallVec<[Point; 2]>;

/// The points in which the carriers of two segments cross or touch; none when they are the same carrier.
pub(crate) fn carrier_crossings(a: &Segment, b: &Segment) -> Crossings {
    match (a.curve, b.curve) {
        (Curve::Line, Curve::Line) => line_line(a, b).into_iter().collect(),
        (Curve::Line, Curve::Arc { centre, radius, .. }) => line_circle(a, centre, radius),
        (Curve::Arc { centre, radius, .. }, Curve::Line) => line_circle(b, centre, radius),
        (Curve::Arc { centre: c1, radius: r1, .. }, Curve::Arc { centre: c2, radius: r2, .. }) => {
            circle_circle(c1, r1, c2, r2)
        }
    }
}

fn line_line(a: &Segment, b: &Segment) -> Option<Point> {
    let (d, e) = (a.to - a.from, b.to - b.from);
    let determinant = d.cross(e);
    if determinant.abs() <= 1e-12 * d.norm() * e.norm() {
        return None;
    }
    Some(a.from + d * ((b.from - a.from).cross(e) / determinant))
}

fn line_circle(line: &Segment, centre: Point, radius: f64) -> Crossings {
    let direction = (line.to - line.from).unit();
    let foot = line.from + direction * (centre - line.from).dot(direction);
    let height = foot.distance(centre);
    if height < radius - TANGENT {
        let half_chord = (radius * radius - height * height).sqrt();
        smallvec![foot + direction * half_chord, foot - direction * half_chord]
    } else if height < radius + TANGENT {
        smallvec![centre + (foot - centre).unit() * radius]
    } else {
        Crossings::new()
    }
}

fn circle_circle(c1: Point, r1: f64, c2: Point, r2: f64) -> Crossings {
    let between = c2 - c1;
    let distance = between.norm();
    let (outside, inside) = (r1 + r2, (r1 - r2).abs());
    if distance < TANGENT || distance > outside + TANGENT || distance < inside - TANGENT {
        return Crossings::new();
    }
    let direction = between * (1.0 / distance);
    let along = (distance * distance + r1 * r1 - r2 * r2) / (2.0 * distance);
    let square = r1 * r1 - along * along;
    if distance > outside - TANGENT || distance < inside + TANGENT || square <= 0.0 {
        return smallvec![c1 + direction * if along >= 0.0 { r1 } else { -r1 }];
    }
    let (foot, across) = (c1 + direction * along, direction.left_normal() * square.sqrt());
    smallvec![foot + across, foot - across]
}
