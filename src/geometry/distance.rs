//! Least distance between two regions.

use smallvec::{SmallVec, smallvec};

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
    /// Whether the two are surely farther apart than `reach`, by the circle or line that either is part of.
    pub(crate) fn is_surely_beyond(&self, other: &Segment, reach: f64) -> bool {
        self.carrier_is_beyond(other, reach) || other.carrier_is_beyond(self, reach)
    }

    fn carrier_is_beyond(&self, other: &Segment, reach: f64) -> bool {
        match (self.curve, other.curve) {
            (Curve::Arc { centre, radius, .. }, _) => {
                let (least, greatest) = other.radius_range(centre);
                radius + reach < least || greatest + reach < radius
            }
            (Curve::Line, Curve::Line) => {
                let along = self.to - self.from;
                let (one, two) = (along.cross(other.from - self.from), along.cross(other.to - self.from));
                // The nearer end, if both lie on one side.
                one * two > 0.0 && f64::min(one * one, two * two) > reach * reach * along.dot(along)
            }
            (Curve::Line, Curve::Arc { .. }) => false,
        }
    }

    /// Least distance between two segments \[mm\].
    pub fn distance_to(&self, other: &Segment) -> f64 {
        let [own, theirs] = self.nearest_points(other);
        own.distance(theirs)
    }

    /// Where two segments are nearest to each other: a point on each.
    pub fn nearest_points(&self, other: &Segment) -> [Point; 2] {
        let on = |segment: &Segment, point: Point| segment.nearest(point).distance(point) < SNAP;
        let meeting =
            carrier_crossings(self, other).into_iter().find(|point| on(self, *point) && on(other, *point));
        if let Some(point) = meeting {
            return [point, point];
        }
        let from_own = |end: Point| [end, other.nearest(end)];
        let from_theirs = |end: Point| [self.nearest(end), end];
        let mut nearest = from_own(self.from);
        let ends = [from_own(self.to), from_theirs(other.from), from_theirs(other.to)];
        let normals = common_normals(self, other).into_iter().filter(|(a, b)| on(self, *a) && on(other, *b));
        for pair in ends.into_iter().chain(normals.map(|(a, b)| [a, b])) {
            if pair[0].distance(pair[1]) < nearest[0].distance(nearest[1]) {
                nearest = pair;
            }
        }
        nearest
    }
}

/// Pairs of points of two carriers whose connection is normal to both.
fn common_normals(a: &Segment, b: &Segment) -> SmallVec<[(Point, Point); 4]> {
    match (a.curve, b.curve) {
        (Curve::Line, Curve::Line) => SmallVec::new(),
        (Curve::Line, Curve::Arc { centre, radius, .. }) => {
            let direction = (a.to - a.from).unit();
            let foot = a.from + direction * (centre - a.from).dot(direction);
            smallvec![(foot, centre + (foot - centre).unit() * radius)]
        }
        (Curve::Arc { .. }, Curve::Line) => common_normals(b, a).into_iter().map(|(p, q)| (q, p)).collect(),
        (Curve::Arc { centre: c1, radius: r1, .. }, Curve::Arc { centre: c2, radius: r2, .. }) => {
            let direction = (c2 - c1).unit();
            let mut pairs = SmallVec::new();
            for side1 in [r1, -r1] {
                for side2 in [r2, -r2] {
                    pairs.push((c1 + direction * side1, c2 + direction * side2));
                }
            }
            pairs
        }
    }
}
