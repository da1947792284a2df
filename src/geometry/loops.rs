//! A closed chain of segments: an outer boundary (counter-clockwise) or a hole (clockwise).

use std::f64::consts::PI;

use super::moments::Moments;
use super::point::{Bounds, Point, Rotation};
use super::segment::{Curve, Segment};

/// A closed chain: each segment starts where the one before it ends. Material lies to the left, so an outer boundary
/// runs counter-clockwise and a hole clockwise. A circle is always two arcs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loop(pub Vec<Segment>);

impl Loop {
    /// A counter-clockwise circle as two half arcs meeting on the x direction.
    pub fn circle(centre: Point, radius: f64) -> Loop {
        Loop::circle_from(centre, radius, 0.0)
    }

    /// A counter-clockwise circle as two half arcs; the first starts at `angle` \[rad\].
    pub fn circle_from(centre: Point, radius: f64, angle: f64) -> Loop {
        let arm = Point::polar(radius, angle);
        let (a, b) = (centre + arm, centre - arm);
        let half = |from, to| Segment { from, to, curve: Curve::Arc { centre, radius, ccw: true } };
        Loop(vec![half(a, b), half(b, a)])
    }

    /// Straight lines through the points, in their order.
    pub fn polygon(points: &[Point]) -> Loop {
        let next = points.iter().cycle().skip(1);
        Loop(points.iter().zip(next).map(|(a, b)| Segment::line(*a, *b)).collect())
    }

    #[must_use]
    pub fn reversed(&self) -> Loop {
        Loop(self.0.iter().rev().map(|segment| segment.reversed()).collect())
    }

    /// Whether it runs counter-clockwise: the sense of the polygon through its ends and middles, without trigonometry.
    pub fn runs_ccw(&self) -> bool {
        let cross = |segment: &Segment| {
            let middle = segment.middle();
            segment.from.cross(middle) + middle.cross(segment.to)
        };
        self.0.iter().map(cross).sum::<f64>() > 0.0
    }

    /// Enclosed area, positive when the loop runs counter-clockwise \[mm2\].
    pub fn signed_area(&self) -> f64 {
        self.0.iter().map(Segment::area).sum()
    }

    pub fn moments(&self) -> Moments {
        self.0.iter().map(Segment::moments).sum()
    }

    pub fn length(&self) -> f64 {
        self.0.iter().map(Segment::length).sum()
    }

    #[must_use]
    pub fn rotated(&self, angle: f64) -> Loop {
        let rotation = Rotation::by(angle);
        Loop(self.0.iter().map(|segment| segment.turned(rotation)).collect())
    }

    #[must_use]
    pub fn translated(&self, by: Point) -> Loop {
        Loop(self.0.iter().map(|segment| segment.translated(by)).collect())
    }

    /// About the origin.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Loop {
        Loop(self.0.iter().map(|segment| segment.scaled(by)).collect())
    }

    /// Reflected in the x axis and run backwards, so that outer boundaries stay counter-clockwise.
    #[must_use]
    pub fn mirrored(&self) -> Loop {
        Loop(self.0.iter().rev().map(|segment| segment.mirrored().reversed()).collect())
    }

    pub fn bounds(&self) -> Bounds {
        self.0.iter().fold(Bounds::EMPTY, |bounds, segment| bounds.merged(segment.bounds()))
    }

    /// Least distance of the loop's points from `about`.
    pub fn min_radius(&self, about: Point) -> f64 {
        self.0.iter().map(|segment| segment.radius_range(about).0).fold(f64::INFINITY, f64::min)
    }

    /// Greatest distance of the loop's points from `about`.
    pub fn max_radius(&self, about: Point) -> f64 {
        self.0.iter().map(|segment| segment.radius_range(about).1).fold(0.0, f64::max)
    }

    /// How often the loop runs round `point`: 1 inside a counter-clockwise loop, -1 inside a hole, 0 outside.
    pub fn winding(&self, point: Point) -> i32 {
        self.0.iter().map(|segment| segment.crossing(point)).sum()
    }

    /// Segment for segment the same, but for rounding.
    pub fn same_as(&self, other: &Loop) -> bool {
        const SAME: f64 = 1e-6; // mm
        self.0.len() == other.0.len()
            && self.0.iter().zip(&other.0).all(|(own, theirs)| {
                own.from.distance(theirs.from) < SAME && own.middle().distance(theirs.middle()) < SAME
            })
    }

    /// Whether it is the other one run backwards, wherever the two begin.
    pub fn is_reverse_of(&self, other: &Loop) -> bool {
        const SAME: f64 = 1e-6; // mm
        let count = other.0.len();
        let Some(first) = self.0.first().filter(|_| self.0.len() == count) else { return false };
        let Some(start) = other.0.iter().position(|theirs| theirs.to.distance(first.from) < SAME) else {
            return false;
        };
        self.0.iter().enumerate().all(|(place, own)| {
            let theirs = &other.0[(start + count - place) % count];
            own.from.distance(theirs.to) < SAME && own.middle().distance(theirs.middle()) < SAME
        })
    }

    /// The same loop starting `count` segments later.
    #[must_use]
    pub fn started_at(&self, count: usize) -> Loop {
        let mut segments = self.0.clone();
        if !segments.is_empty() {
            let count = count % segments.len();
            segments.rotate_left(count);
        }
        Loop(segments)
    }

    /// Consecutive segments on one line or circle joined (arcs up to half a turn).
    #[must_use]
    pub fn simplified(&self) -> Loop {
        let mut joined: Vec<Segment> = Vec::with_capacity(self.0.len());
        for segment in &self.0 {
            match joined.last_mut() {
                Some(last) if last.continued_by(segment) => last.to = segment.to,
                _ => joined.push(*segment),
            }
        }
        while joined.len() > 2 {
            let (Some(first), Some(last)) = (joined.first().copied(), joined.last().copied()) else { break };
            if !last.continued_by(&first) {
                break;
            }
            joined.pop();
            if let Some(start) = joined.first_mut() {
                start.from = last.from;
            }
        }
        Loop(joined)
    }

    /// The whole circle this loop is, if it is one: centre, radius, counter-clockwise.
    pub fn as_circle(&self) -> Option<(Point, f64, bool)> {
        let Curve::Arc { centre, radius, ccw } = self.0.first()?.curve else { return None };
        let same = |segment: &Segment| match segment.curve {
            Curve::Arc { centre: c, radius: r, ccw: w } => c == centre && r == radius && w == ccw,
            Curve::Line => false,
        };
        let turn: f64 = self.0.iter().map(|segment| segment.sweep().abs()).sum();
        (self.0.iter().all(same) && (turn - 2.0 * PI).abs() < 1e-6).then_some((centre, radius, ccw))
    }
}
