//! Least distance between two regions.

use super::intersect::{SNAP, carrier_crossings};
use super::point::{Bounds, Point};
use super::region::Region;
use super::segment::{Curve, Segment};

impl Region {
    /// Least distance between the two regions' material \[mm\]; 0 when they overlap or touch, infinite when one is
    /// empty.
    pub fn gap_to(&self, other: &Region) -> f64 {
        let overlaps = |a: &Region, b: &Region| {
            a.loops.iter().filter_map(|outline| outline.0.first()).any(|segment| b.contains(segment.from))
        };
        if overlaps(self, other) || overlaps(other, self) {
            return 0.0;
        }
        let boxed = |region: &Region| -> Vec<(Segment, Bounds)> {
            region.segments().map(|segment| (*segment, segment.bounds())).collect()
        };
        let (ours, theirs) = (boxed(self), boxed(other));
        let mut least = f64::INFINITY;
        for (a, a_box) in &ours {
            for (b, b_box) in &theirs {
                if a_box.gap_to(*b_box) < least {
                    least = least.min(a.distance_to(b));
                }
            }
        }
        if least < SNAP { 0.0 } else { least }
    }
}

impl Segment {
    /// Least distance between two segments \[mm\].
    pub fn distance_to(&self, other: &Segment) -> f64 {
        let on = |segment: &Segment, point: Point| segment.nearest(point).distance(point) < SNAP;
        if carrier_crossings(self, other).into_iter().any(|point| on(self, point) && on(other, point)) {
            return 0.0;
        }
        let from_end = |segment: &Segment, end: Point| segment.nearest(end).distance(end);
        let mut least = from_end(self, other.from)
            .min(from_end(self, other.to))
            .min(from_end(other, self.from))
            .min(from_end(other, self.to));
        for (a, b) in common_normals(self, other) {
            if on(self, a) && on(other, b) {
                least = least.min(a.distance(b));
            }
        }
        least
    }
}

/// Pairs of points of two carriers whose connection is normal to both.
fn common_normals(a: &Segment, b: &Segment) -> Vec<(Point, Point)> {
    match (a.curve, b.curve) {
        (Curve::Line, Curve::Line) => Vec::new(),
        (Curve::Line, Curve::Arc { centre, radius, .. }) => {
            let direction = (a.to - a.from).unit();
            let foot = a.from + direction * (centre - a.from).dot(direction);
            vec![(foot, centre + (foot - centre).unit() * radius)]
        }
        (Curve::Arc { .. }, Curve::Line) => common_normals(b, a).into_iter().map(|(p, q)| (q, p)).collect(),
        (Curve::Arc { centre: c1, radius: r1, .. }, Curve::Arc { centre: c2, radius: r2, .. }) => {
            let direction = (c2 - c1).unit();
            let mut pairs = Vec::with_capacity(4);
            for side1 in [r1, -r1] {
                for side2 in [r2, -r2] {
                    pairs.push((c1 + direction * side1, c2 + direction * side2));
                }
            }
            pairs
        }
    }
}
