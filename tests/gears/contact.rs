//! Where two gears' outlines come nearest, and where they first touch when one is turned into the other: exactly, from
//! their arcs.

use std::f64::consts::PI;

use hubwright::gears::{Gear, GearKind};
use hubwright::geometry::{Curve, Loop, Point, Segment};

/// A gear in the plane: its outline, axis and turn.
#[derive(Clone, Copy)]
pub struct Placed<'a> {
    pub gear: &'a Gear,
    pub outline: &'a Loop,
    pub axis: Point,
    pub turn: f64,
}

/// A segment and the circle about its chord's middle that holds it.
struct Piece {
    segment: Segment,
    middle: Point,
    radius: f64,
}

impl Piece {
    /// No arc of an outline is longer than half its circle, so it bulges by less than half its chord.
    fn new(segment: Segment) -> Piece {
        let middle = (segment.from + segment.to) * 0.5;
        let bulge = segment.middle().distance(middle);
        Piece { segment, middle, radius: bulge.max(0.5 * segment.from.distance(segment.to)) }
    }

    fn reaches(&self, other: &Piece, reach: f64) -> bool {
        self.middle.distance(other.middle) < self.radius + other.radius + reach
    }
}

impl Placed<'_> {
    /// The outline's pieces, in the plane, that are within `reach` of any place the other gear's teeth come to.
    fn pieces_in_reach_of(&self, other: &Placed, reach: f64) -> Vec<Piece> {
        let tip = 0.5 * other.gear.tip_diameter;
        let in_reach = |piece: &Piece| {
            let distance = piece.middle.distance(other.axis);
            match other.gear.kind {
                GearKind::External => distance - piece.radius < tip + reach,
                GearKind::Internal => distance + piece.radius > tip - reach,
            }
        };
        let local_axis = (other.axis - self.axis).rotated(-self.turn);
        let mut pieces = Vec::new();
        for segment in &self.outline.0 {
            // The same question in the outline's own frame, before the segment is turned.
            let local = Piece::new(*segment);
            let in_plane = Piece { middle: local.middle - local_axis + other.axis, ..local };
            if in_reach(&in_plane) {
                pieces.push(Piece::new(segment.rotated(self.turn).translated(self.axis)));
            }
        }
        pieces
    }

    fn is_material(&self, point: Point) -> bool {
        let inside = self.outline.winding((point - self.axis).rotated(-self.turn)) != 0;
        inside == (self.gear.kind == GearKind::External)
    }
}

/// Least distance between the two outlines, wherever their teeth meet; 0 if they cross, or one lies in the other.
pub fn least_gap(first: &Placed, second: &Placed) -> f64 {
    // Farther apart than this, they are not in mesh at all.
    let reach = first.gear.transverse_module;
    let ours = first.pieces_in_reach_of(second, reach);
    let theirs = second.pieces_in_reach_of(first, reach);
    let mut least = reach;
    for one in &ours {
        for other in &theirs {
            if one.reaches(other, least) {
                least = least.min(one.segment.distance_to(&other.segment));
            }
        }
    }
    // Outlines that do not cross overlap only if one lies in the other's material as a whole.
    let engulfed = ours.first().is_some_and(|piece| second.is_material(piece.segment.from))
        || theirs.first().is_some_and(|piece| first.is_material(piece.segment.from));
    if engulfed { 0.0 } else { least }
}

/// The way the driver pushes the driven gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Push {
    CounterClockwise,
    Clockwise,
}

impl Push {
    fn sense(self) -> f64 {
        match self {
            Push::CounterClockwise => 1.0,
            Push::Clockwise => -1.0,
        }
    }
}

/// The turn at which the driven gear, clear of the driver where it stands, first touches it when turned against the
/// push by up to `window`; none if it touches nowhere there.
pub fn first_contact(driver: &Placed, driven: &Placed, push: Push, window: f64) -> Option<f64> {
    // As far as the driven gear's points move within the window.
    let reach = window * 0.5 * driven.gear.tip_diameter.max(driven.gear.root_diameter);
    let ours = driver.pieces_in_reach_of(driven, reach);
    let theirs = driven.pieces_in_reach_of(driver, reach);
    let mut least = window;
    let mut touched = false;
    for (one, other) in ours.iter().flat_map(|one| theirs.iter().map(move |other| (one, other))) {
        if !one.reaches(other, reach) {
            continue;
        }
        for feature in Feature::of(&one.segment, driver.gear.kind) {
            for pushed in Feature::of(&other.segment, driven.gear.kind) {
                for turn in feature.touching_turns(&pushed, driven.axis, push) {
                    let back = -turn * push.sense();
                    if (0.0..=least).contains(&back) {
                        (least, touched) = (back, true);
                    }
                }
            }
        }
    }
    touched.then_some(driven.turn - least * push.sense())
}

/// What of an outline can touch: an arc, or a corner as an arc without radius.
#[derive(Clone, Copy)]
struct Feature {
    centre: Point,
    radius: f64,
    /// Material lies on the side of the centre.
    convex: bool,
    arc: Option<Segment>,
}

impl Feature {
    /// The arc and its first corner; the next segment has the other. Lines have corners only: an outline of involute
    /// gears has none in contact.
    fn of(segment: &Segment, kind: GearKind) -> Vec<Feature> {
        let corner = Feature { centre: segment.from, radius: 0.0, convex: true, arc: None };
        match segment.curve {
            Curve::Line => vec![corner],
            Curve::Arc { centre, radius, ccw } => {
                let convex = ccw == (kind == GearKind::External);
                vec![corner, Feature { centre, radius, convex, arc: Some(*segment) }]
            }
        }
    }

    /// Turns of `other` about `axis`, from where it is, at which it touches this feature and is pushed as asked.
    fn touching_turns(&self, other: &Feature, axis: Point, push: Push) -> Vec<f64> {
        let apart = match (self.convex, other.convex) {
            (true, true) => self.radius + other.radius,
            (true, false) => other.radius - self.radius,
            (false, true) => self.radius - other.radius,
            (false, false) => return Vec::new(),
        };
        // Two corners meet by chance only, and a rounder body does not fit into a hollow.
        if apart <= 0.0 {
            return Vec::new();
        }
        let (to_ours, to_theirs) = (self.centre - axis, other.centre - axis);
        let (ours, theirs) = (to_ours.norm(), to_theirs.norm());
        // The law of cosines in the triangle of the axis and the two centres.
        let cosine = (ours * ours + theirs * theirs - apart * apart) / (2.0 * ours * theirs);
        if cosine.abs() > 1.0 {
            return Vec::new();
        }
        let start = to_ours.angle() - to_theirs.angle();
        [cosine.acos(), -cosine.acos()]
            .into_iter()
            .map(|angle| within_half_turn(start + angle))
            .filter(|turn| self.is_pushing(other, axis, *turn, push))
            .collect()
    }

    /// Whether the circles, touching at this turn, do so within both arcs and with the normal that pushes.
    fn is_pushing(&self, other: &Feature, axis: Point, turn: f64, push: Push) -> bool {
        let centre = (other.centre - axis).rotated(turn) + axis;
        // From our material into theirs.
        let normal =
            if self.convex && !other.convex { self.centre - centre } else { centre - self.centre }.unit();
        let normal = if self.convex { normal } else { -normal };
        let touch =
            if self.convex { self.centre + normal * self.radius } else { self.centre - normal * self.radius };
        let pushes = (touch - axis).cross(normal) * push.sense() > 0.0;
        let back = (touch - axis).rotated(-turn) + axis;
        pushes && self.holds(touch) && other.holds(back)
    }

    fn holds(&self, touch: Point) -> bool {
        // A tenth of a nanometre: rounding, not shape.
        self.arc.is_none_or(|arc| arc.nearest(touch).distance(touch) < 1e-7)
    }
}

fn within_half_turn(angle: f64) -> f64 {
    angle - 2.0 * PI * (angle / (2.0 * PI)).round()
}
