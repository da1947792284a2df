//! A straight line or circular arc between two points: the only curves an outline is made of.

use std::f64::consts::{PI, TAU};

use super::moments::Moments;
use super::point::{Bounds, Point, Rotation};

/// An arc through three points whose rise above its chord is less than this is a line \[mm\]: one nanometre, below
/// anything the arrangement tells apart.
const LEAST_SAGITTA: f64 = 1e-6;

/// What joins the two ends of a [`Segment`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Curve {
    Line,
    /// Part of a circle, from the segment's start to its end counter-clockwise or clockwise. Never a whole circle.
    Arc {
        centre: Point,
        radius: f64,
        ccw: bool,
    },
}

/// A directed line or arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    pub from: Point,
    pub to: Point,
    pub curve: Curve,
}

impl Segment {
    pub fn line(from: Point, to: Point) -> Segment {
        Segment { from, to, curve: Curve::Line }
    }

    /// The arc about `centre`; its radius is the distance of `from`, and `to` is taken to lie on the same circle.
    pub fn arc(from: Point, to: Point, centre: Point, ccw: bool) -> Segment {
        Segment { from, to, curve: Curve::Arc { centre, radius: from.distance(centre), ccw } }
    }

    /// The arc from `from` through `middle` to `to`; a line when the three lie within a nanometre of one.
    pub fn arc_through(from: Point, middle: Point, to: Point) -> Segment {
        let (u, v) = (middle - from, to - from);
        let chord = v.norm();
        let sagitta = if chord > 0.0 { v.cross(u).abs() / chord } else { 0.0 };
        if sagitta < LEAST_SAGITTA {
            return Segment::line(from, to);
        }
        // Circumcentre relative to `from`.
        let d = 2.0 * u.cross(v);
        let (u2, v2) = (u.dot(u), v.dot(v));
        let centre = from + Point::new((v.y * u2 - u.y * v2) / d, (u.x * v2 - v.x * u2) / d);
        Segment::arc(from, to, centre, d > 0.0)
    }

    pub fn reversed(self) -> Segment {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, radius, ccw } => Curve::Arc { centre, radius, ccw: !ccw },
        };
        Segment { from: self.to, to: self.from, curve }
    }

    /// Signed angle swept about the arc's centre, in (-2 pi, 2 pi) \[rad\], counter-clockwise positive; 0 for a line.
    pub fn sweep(&self) -> f64 {
        let Curve::Arc { centre, ccw, .. } = self.curve else { return 0.0 };
        let (u, v) = (self.from - centre, self.to - centre);
        // One number gives side and angle; + 0.0 turns -0.0 into 0.0, whose atan2 would be -pi for a half circle.
        let turn = libm::atan2(u.cross(v) + 0.0, u.dot(v));
        match (ccw, turn < 0.0) {
            (true, true) => turn + TAU,
            (false, false) if turn > 0.0 => turn - TAU,
            _ => turn,
        }
    }

    /// The point at fraction `t` of the length.
    pub fn at(&self, t: f64) -> Point {
        match self.curve {
            Curve::Line => self.from.lerp(self.to, t),
            Curve::Arc { centre, .. } => centre + (self.from - centre).rotated(self.sweep() * t),
        }
    }

    /// The point half way, without trigonometry. An arc bulges to the right of its chord when it runs ccw; a short chord whose ends
    /// were moved may point anywhere, but its own middle lies where the arc's does, or, of an arc longer than half a turn, opposite.
    pub fn middle(&self) -> Point {
        match self.curve {
            Curve::Line => (self.from + self.to) * 0.5,
            Curve::Arc { centre, radius, ccw } => {
                let (u, v, chord) = (self.from - centre, self.to - centre, self.to - self.from);
                if chord.dot(chord) < radius * radius {
                    let is_short = (u.cross(v) > 0.0) == ccw;
                    return centre + (u + v).unit() * if is_short { radius } else { -radius };
                }
                let right = -chord.left_normal().unit();
                centre + right * if ccw { radius } else { -radius }
            }
        }
    }

    /// Fraction of the length at which `point`, known to be on the carrier, lies; outside 0..1 beyond the ends (an
    /// arc's complement is shared out evenly before and behind it).
    pub fn fraction_of(&self, point: Point) -> f64 {
        match self.curve {
            Curve::Line => {
                let d = self.to - self.from;
                (point - self.from).dot(d) / d.dot(d)
            }
            Curve::Arc { centre, ccw, .. } => {
                let sweep = self.sweep().abs();
                let (u, v) = (self.from - centre, point - centre);
                let turn = libm::atan2(u.cross(v) + 0.0, u.dot(v));
                let mut ahead = if ccw { turn } else { -turn };
                // `ahead` is in [-pi, pi]; the branch wanted runs from -(TAU - sweep)/2 to sweep + (TAU - sweep)/2.
                if ahead < -0.5 * (TAU - sweep) {
                    ahead += TAU;
                } else if ahead > sweep + 0.5 * (TAU - sweep) {
                    ahead -= TAU;
                }
                ahead / sweep
            }
        }
    }

    pub fn length(&self) -> f64 {
        match self.curve {
            Curve::Line => self.from.distance(self.to),
            Curve::Arc { radius, .. } => radius * self.sweep().abs(),
        }
    }

    /// Unit tangent at the start.
    pub fn start_tangent(&self) -> Point {
        self.tangent_at(self.from)
    }

    /// Unit tangent at the end.
    pub fn end_tangent(&self) -> Point {
        self.tangent_at(self.to)
    }

    /// Unit direction of travel at `point`, which lies on the carrier.
    pub fn tangent_at(&self, point: Point) -> Point {
        match self.curve {
            Curve::Line => (self.to - self.from).unit(),
            Curve::Arc { centre, ccw, .. } => {
                let left = (point - centre).left_normal().unit();
                if ccw { left } else { -left }
            }
        }
    }

    /// Curvature, positive when the segment bends to the left \[1/mm\].
    pub fn curvature(&self) -> f64 {
        match self.curve {
            Curve::Line => 0.0,
            Curve::Arc { radius, ccw, .. } => (if ccw { 1.0 } else { -1.0 }) / radius,
        }
    }

    /// True when the arc passes strictly through `direction` (seen from its centre); false for a line.
    pub(crate) fn passes(&self, direction: Point) -> bool {
        let Curve::Arc { centre, ccw, .. } = self.curve else { return false };
        let (u, v) = if ccw { (self.from, self.to) } else { (self.to, self.from) };
        let (u, v) = (u - centre, v - centre);
        let (after_start, before_end) = (u.cross(direction) > 0.0, direction.cross(v) > 0.0);
        if u.cross(v) >= 0.0 { after_start && before_end } else { after_start || before_end }
    }

    pub fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::of(self.from, self.to);
        if let Curve::Arc { centre, radius, .. } = self.curve {
            for (x, y) in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
                let direction = Point::new(x, y);
                if self.passes(direction) {
                    bounds = bounds.with(centre + direction * radius);
                }
            }
        }
        bounds
    }

    /// Signed area between the segment and the origin, 1/2 integral of (x dy - y dx) \[mm2\].
    pub fn area(&self) -> f64 {
        match self.curve {
            Curve::Line => 0.5 * self.from.cross(self.to),
            Curve::Arc { centre, radius, .. } => {
                0.5 * (radius * radius * self.sweep() + centre.cross(self.to - self.from))
            }
        }
    }

    /// Area moments of the figure between the segment and the origin.
    pub fn moments(&self) -> Moments {
        let chord = Moments::of_triangle(self.from, self.to);
        match self.curve {
            Curve::Line => chord,
            Curve::Arc { centre, radius, .. } => {
                let (u, v) = (self.from - centre, self.to - centre);
                let sector = Moments::of_sector(u, v, radius, self.sweep());
                chord + (sector - Moments::of_triangle(u, v)).translated(centre)
            }
        }
    }

    /// The nearest point of the segment to `point`.
    pub fn nearest(&self, point: Point) -> Point {
        let nearer_end =
            if point.distance(self.from) <= point.distance(self.to) { self.from } else { self.to };
        match self.curve {
            Curve::Line => {
                let t = self.fraction_of(point);
                if t > 0.0 && t < 1.0 { self.at(t) } else { nearer_end }
            }
            Curve::Arc { centre, radius, .. } => {
                let direction = point - centre;
                if self.passes(direction) { centre + direction.unit() * radius } else { nearer_end }
            }
        }
    }

    /// Least and greatest distance of the segment's points from `about`.
    pub fn radius_range(&self, about: Point) -> (f64, f64) {
        let ends = (self.from.distance(about), self.to.distance(about));
        let (mut least, mut greatest) = (ends.0.min(ends.1), ends.0.max(ends.1));
        match self.curve {
            Curve::Line => {
                let (along, off) = (self.to - self.from, about - self.from);
                let foot = off.dot(along);
                if foot > 0.0 && foot < along.dot(along) {
                    least = off.cross(along).abs() / along.norm();
                }
            }
            Curve::Arc { centre, radius, .. } if centre == about => {
                (least, greatest) = (least.min(radius), greatest.max(radius));
            }
            Curve::Arc { centre, radius, .. } => {
                let off = about - centre;
                let away = off.norm();
                if self.passes(off) {
                    least = (away - radius).abs();
                }
                if self.passes(-off) {
                    greatest = away + radius;
                }
            }
        }
        (least, greatest)
    }

    /// Turned about the origin by `angle` \[rad\].
    pub fn rotated(&self, angle: f64) -> Segment {
        self.turned(Rotation::by(angle))
    }

    pub(crate) fn turned(&self, rotation: Rotation) -> Segment {
        self.moved(|point| rotation.apply(point))
    }

    pub fn translated(&self, by: Point) -> Segment {
        self.moved(|point| point + by)
    }

    /// About the origin.
    pub fn scaled(&self, by: f64) -> Segment {
        let mut scaled = self.moved(|point| point * by);
        if let Curve::Arc { radius, .. } = &mut scaled.curve {
            *radius *= by;
        }
        scaled
    }

    /// Reflected in the x axis; an arc changes its sense.
    pub fn mirrored(&self) -> Segment {
        let mut mirrored = self.moved(Point::mirrored);
        if let Curve::Arc { ccw, .. } = &mut mirrored.curve {
            *ccw = !*ccw;
        }
        mirrored
    }

    /// Moved by a map that keeps lengths; arcs keep their sense.
    fn moved(&self, map: impl Fn(Point) -> Point) -> Segment {
        let curve = match self.curve {
            Curve::Line => Curve::Line,
            Curve::Arc { centre, radius, ccw } => Curve::Arc { centre: map(centre), radius, ccw },
        };
        Segment { from: map(self.from), to: map(self.to), curve }
    }

    /// True when `next` continues this segment on the same line or circle, and both together are at most half a turn.
    pub(crate) fn continued_by(&self, next: &Segment) -> bool {
        const SAME: f64 = 1e-6; // mm: well above rounding, below what the arrangement tells apart
        match (self.curve, next.curve) {
            (Curve::Line, Curve::Line) => {
                let (d, e) = (self.to - self.from, next.to - next.from);
                let deviation = d.cross(e).abs() / d.norm().max(e.norm());
                deviation < SAME && d.dot(e) > 0.0
            }
            (
                Curve::Arc { centre, radius, ccw },
                Curve::Arc { centre: next_centre, radius: next_radius, ccw: next_ccw },
            ) => {
                ccw == next_ccw
                    && centre.distance(next_centre) < SAME
                    && (radius - next_radius).abs() < SAME
                    && self.sweep().abs() + next.sweep().abs() <= PI + 1e-9
            }
            _ => false,
        }
    }

    /// Signed crossing of the ray from `point` towards +x: 1 upwards, -1 downwards. Exact bookkeeping on the y values of
    /// shared ends (half-open), so that a chain's sum is right however the ray passes its vertices.
    pub(crate) fn crossing(&self, point: Point) -> i32 {
        match self.curve {
            Curve::Line => {
                let side = (self.to - self.from).cross(point - self.from);
                match (self.from.y <= point.y, self.to.y <= point.y) {
                    (true, false) if side > 0.0 => 1,
                    (false, true) if side < 0.0 => -1,
                    _ => 0,
                }
            }
            Curve::Arc { ccw: false, .. } => -self.reversed().crossing(point),
            Curve::Arc { centre, radius, ccw: true } => {
                let start = self.from - centre;
                // No point of an arc up to half a turn is farther from its start than its end is.
                let (chord, off) = (self.to - self.from, point - self.from);
                let half_turn_at_most = start.cross(self.to - centre) >= 0.0;
                let reach_squared = chord.dot(chord);
                if half_turn_at_most
                    && (off.y * off.y > reach_squared || (off.x > 0.0 && off.x * off.x > reach_squared))
                {
                    return 0;
                }
                // Counter-clockwise, the right half rises and the left half falls; a piece ends at each extreme passed.
                let starts_right = start.x > 0.0 || (start.x == 0.0 && start.y < 0.0);
                let top = (self.passes(Point::new(0.0, 1.0)), centre.y + radius);
                let bottom = (self.passes(Point::new(0.0, -1.0)), centre.y - radius);
                let extremes = if starts_right { [top, bottom] } else { [bottom, top] };
                let mut ends = [self.to.y; 3];
                let mut count = 0;
                for (passed, y) in extremes {
                    if passed {
                        ends[count] = y;
                        count += 1;
                    }
                }
                let depth = point.y - centre.y;
                let reach = (radius * radius - depth * depth).max(0.0).sqrt();
                let (mut sum, mut y, mut right) = (0, self.from.y, starts_right);
                for end in &ends[..=count] {
                    let x = if right { centre.x + reach } else { centre.x - reach };
                    if (y <= point.y) != (*end <= point.y) && x > point.x {
                        sum += if *end > y { 1 } else { -1 };
                    }
                    (y, right) = (*end, !right);
                }
                sum
            }
        }
    }

    pub(crate) fn is_finite(&self) -> bool {
        let carrier = match self.curve {
            Curve::Line => true,
            Curve::Arc { centre, radius, .. } => centre.is_finite() && radius.is_finite(),
        };
        carrier && self.from.is_finite() && self.to.is_finite()
    }
}
