//! A gear's outline in the transverse section, as lines and arcs.
//!
//! The two flanks of a body (a tooth of an external gear, a tooth space of a ring) are mirror images. One side is made
//! in the frame of that body, from its outer arc inwards, mirrored, and turned round the gear.
//!
//! Moving the outline along its normal keeps every curve in its family: an involute stays an involute of the same base
//! circle, the trochoid's points move along their known normals, circles change their radius. So a grown outline has
//! the same segments in the same order.

use std::f64::consts::PI;

use thiserror::Error;

use super::fillet::Trochoid;
use super::gear::{Gear, GearKind, TipRelief};
use crate::geometry::{Loop, Point, Segment};

/// Three arcs keep a flank of module about 1 within half a micrometre; two need 1.3, one 5.5.
const LEAST_FLANK_ARCS: usize = 3;

/// More arcs than any allowed tolerance needs on the largest gears.
const MOST_ARCS: usize = 256;

/// The kernel merges points nearer than 1e-5 mm: a finer outline would be lost.
const FINEST_TOLERANCE: f64 = 1e-5;
const COARSEST_TOLERANCE: f64 = 0.1;

/// Where an arc's distance from its curve is taken, as fractions of its parameter range: about the extremes of the
/// error's cubic, 0.21 and 0.79.
const PROBES: [f64; 8] = [0.1, 0.17, 0.24, 0.33, 0.67, 0.76, 0.83, 0.9];

/// Between probes the error may be a few percent higher.
const PROBED_SHARE: f64 = 0.95;

/// Why there is no outline.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum ProfileFault {
    #[error("profile tolerance {found} mm: {least} to {most} mm is possible")]
    ToleranceOutOfRange { found: f64, least: f64, most: f64 },
    #[error("the outline cannot be approximated within {tolerance} mm")]
    NotApproximated { tolerance: f64 },
    #[error("moving the outline by {by} mm closes the tooth tips")]
    TipsClose { by: f64 },
    #[error("moving the outline by {by} mm closes the root fillets")]
    FilletsClose { by: f64 },
    #[error("moving the outline by {by} mm leaves no flank")]
    NoFlank { by: f64 },
}

impl Gear {
    /// The outline at z = 0, each arc within `tolerance` \[mm\] of its curve: counter-clockwise, an external gear with
    /// a tooth centred on +x; a ring as the boundary of its hole, a tooth space centred on +x.
    ///
    /// # Errors
    /// If the tolerance is out of range.
    pub fn profile(&self, tolerance: f64) -> Result<Loop, ProfileFault> {
        self.profile_grown(0.0, tolerance)
    }

    /// The same outline moved outwards along its normal by `by` \[mm\], negative inwards: `by > 0` fattens an external
    /// gear's teeth and thins a ring's. Same number and order of segments as [`Gear::profile`] at the same tolerance,
    /// which the unmoved outline keeps.
    ///
    /// # Errors
    /// If the tolerance is out of range, or tips, flanks or fillets would vanish.
    pub fn profile_grown(&self, by: f64, tolerance: f64) -> Result<Loop, ProfileFault> {
        if !(FINEST_TOLERANCE..=COARSEST_TOLERANCE).contains(&tolerance) {
            return Err(ProfileFault::ToleranceOutOfRange {
                found: tolerance,
                least: FINEST_TOLERANCE,
                most: COARSEST_TOLERANCE,
            });
        }
        if !by.is_finite() {
            return Err(ProfileFault::NoFlank { by });
        }
        let (plain, relieved) = self.flank_pieces(by)?;
        let (nominal_plain, nominal_relieved) = self.flank_pieces(0.0)?;
        let plain_arcs = nominal_plain.arcs_within(tolerance, LEAST_FLANK_ARCS)?;
        let relief_arcs = nominal_relieved.map(|flank| flank.arcs_within(tolerance, 1)).transpose()?;
        let append_relieved = |side: &mut Vec<Segment>| {
            if let (Some(flank), Some(arcs)) = (&relieved, relief_arcs) {
                flank.append_arcs(arcs, side);
            }
        };
        let mut side = Vec::new();
        match self.kind {
            GearKind::External => {
                let fillet = self.external_fillet(by)?;
                let fillet_arcs = self.external_fillet(0.0)?.arcs_within(tolerance, 1)?;
                append_relieved(&mut side);
                plain.append_arcs(plain_arcs, &mut side);
                fillet.append_arcs(fillet_arcs, &mut side);
            }
            GearKind::Internal => {
                side.push(self.ring_fillet_arc(by)?);
                plain.append_arcs(plain_arcs, &mut side);
                append_relieved(&mut side);
            }
        }
        join(&mut side);
        Ok(close_round(&side, self.teeth))
    }

    /// The left flank in its body's frame, from the outer end inwards: up to where the tip relief begins, and the
    /// relieved piece, if there is any.
    fn flank_pieces(&self, by: f64) -> Result<(Flank, Option<Flank>), ProfileFault> {
        let whole = self.flank(by)?;
        let Some(relief) = whole.relief else { return Ok((whole, None)) };
        let (plain, relieved) = match self.kind {
            GearKind::External => (
                Flank { outer: relief.start, ..whole },
                Flank { inner: relief.start, outer: relief.tip, ..whole },
            ),
            GearKind::Internal => (
                Flank { inner: relief.start, ..whole },
                Flank { outer: relief.start, inner: relief.tip, ..whole },
            ),
        };
        // A relief that covers the whole flank leaves no plain piece to keep the outline's order.
        if plain.outer <= plain.inner || relieved.outer <= relieved.inner {
            return Err(ProfileFault::NoFlank { by });
        }
        Ok((Flank { relief: None, ..plain }, Some(relieved)))
    }

    /// Relief of the flank moved by `by`, in base tangent lengths; none without relief.
    fn flank_relief(&self, by: f64) -> Option<Relief> {
        let TipRelief { amount, height } = self.tip_relief;
        if amount <= 0.0 || height <= 0.0 {
            return None;
        }
        let (inwards, into_tooth) = match self.kind {
            GearKind::External => (-1.0, -1.0),
            // The outline is the hole's: taking off the ring's tooth moves it outwards.
            GearKind::Internal => (1.0, 1.0),
        };
        let start = self.along_tangent(self.tip_diameter + 2.0 * inwards * height) + by;
        let tip = self.along_tangent(self.tip_diameter + 2.0 * by);
        Some(Relief { start, tip: tip - into_tooth * amount, amount: into_tooth * amount })
    }

    /// The whole left flank in its body's frame, from the outer end inwards.
    fn flank(&self, by: f64) -> Result<Flank, ProfileFault> {
        let base = 0.5 * self.base_diameter;
        let tip_radius = 0.5 * self.tip_diameter + by;
        if tip_radius <= base {
            return Err(ProfileFault::NoFlank { by });
        }
        let tip = self.along_tangent(2.0 * tip_radius);
        let root = match self.kind {
            GearKind::External => self.external_flank_start(by),
            GearKind::Internal => self.along_tangent(self.form_diameter) + by,
        };
        let [outer, inner] = match self.kind {
            GearKind::External => [tip, root],
            GearKind::Internal => [root, tip],
        };
        let relief = self.flank_relief(by);
        let flank = Flank { base, start_angle: self.base_half_angle() + by / base, outer, inner, relief };
        if outer <= inner || inner < 0.0 {
            return Err(ProfileFault::NoFlank { by });
        }
        // Half the angle left to the tip arc: of the tooth itself, or of the ring's tooth between two spaces.
        let tip_end = flank.point(flank.relief.map_or(tip, |relief| relief.tip)).angle();
        let tip_half_angle = match self.kind {
            GearKind::External => tip_end,
            GearKind::Internal => 0.5 * self.pitch_angle() - tip_end,
        };
        if tip_half_angle <= 0.0 {
            return Err(ProfileFault::TipsClose { by });
        }
        Ok(flank)
    }

    /// Base tangent length at which an external gear's flank, moved by `by`, meets its fillet.
    fn external_flank_start(&self, by: f64) -> f64 {
        let moved = self.along_tangent(self.form_diameter) + by;
        if self.cuts_through_flank(by) {
            let fillet = Trochoid::of(self);
            let corner = fillet.point(fillet.undercut_angle(self, by), by);
            return self.along_tangent(2.0 * corner.radius());
        }
        moved
    }

    /// The fillet crosses the flank instead of running into it: an undercut gear, or an outline moved inwards past the
    /// start of the involute.
    fn cuts_through_flank(&self, by: f64) -> bool {
        self.is_undercut() || self.along_tangent(self.form_diameter) + by < 0.0
    }

    fn external_fillet(&self, by: f64) -> Result<Fillet, ProfileFault> {
        let curve = Trochoid::of(self);
        // The sharpest the trochoid gets is the rack's corner, an ellipse of this radius at its side.
        if by >= curve.corner_radius * curve.helix_cosine {
            return Err(ProfileFault::FilletsClose { by });
        }
        let flank_angle =
            if self.cuts_through_flank(by) { curve.undercut_angle(self, by) } else { curve.flank_angle };
        Ok(Fillet::new(curve, PI / f64::from(self.teeth), by, flank_angle))
    }

    fn ring_fillet_arc(&self, by: f64) -> Result<Segment, ProfileFault> {
        let fillet = self.ring_fillet();
        if fillet.radius + by <= 0.0 {
            return Err(ProfileFault::FilletsClose { by });
        }
        let centre = Point::polar(fillet.centre_radius, fillet.centre_angle);
        let root = Point::polar(0.5 * self.root_diameter + by, fillet.centre_angle);
        let base = 0.5 * self.base_diameter;
        let end = Flank {
            base,
            start_angle: self.base_half_angle() + by / base,
            outer: self.along_tangent(2.0 * fillet.flank_radius) + by,
            inner: 0.0,
            relief: None,
        };
        Ok(Segment::arc(root, end.point(end.outer), centre, true))
    }
}

/// A curve that arcs approximate: a point for each fraction, 0 to 1, of its parameter.
trait Approximable {
    fn at(&self, fraction: f64) -> Point;

    fn arc(&self, index: usize, count: usize) -> Segment {
        let at = |part: f64| self.at((index as f64 + part) / count as f64);
        Segment::arc_through(at(0.0), at(0.5), at(1.0))
    }

    fn append_arcs(&self, count: usize, segments: &mut Vec<Segment>) {
        segments.extend((0..count).map(|index| self.arc(index, count)));
    }

    /// The least number of arcs, from `least` on, that stay within `tolerance`.
    fn arcs_within(&self, tolerance: f64, least: usize) -> Result<usize, ProfileFault> {
        let fits = |count: usize| {
            (0..count).all(|index| {
                let arc = self.arc(index, count);
                PROBES.iter().all(|part| {
                    let point = self.at((index as f64 + part) / count as f64);
                    arc.nearest(point).distance(point) <= PROBED_SHARE * tolerance
                })
            })
        };
        (least..=MOST_ARCS).find(|count| fits(*count)).ok_or(ProfileFault::NotApproximated { tolerance })
    }
}

/// The left involute flank of a body centred on +x, between two base tangent lengths.
struct Flank {
    base: f64,
    /// Where the involute starts on the base circle \[rad\].
    start_angle: f64,
    outer: f64,
    inner: f64,
    relief: Option<Relief>,
}

/// What is taken off a flank along its normal, which is its line of action: from nothing at `start` to `amount` at
/// `tip`, both as base tangent lengths before the relief; a negative amount shortens the thread. At `tip` the shortened
/// (lengthened) thread ends on the tip circle.
#[derive(Clone, Copy)]
struct Relief {
    start: f64,
    tip: f64,
    amount: f64,
}

impl Relief {
    fn at(&self, tangent_length: f64) -> f64 {
        self.amount * ((tangent_length - self.start) / (self.tip - self.start)).clamp(0.0, 1.0)
    }
}

impl Flank {
    /// The end of a thread of this length unwound clockwise from the base circle, less the relief.
    fn point(&self, tangent_length: f64) -> Point {
        let direction = Point::polar(1.0, self.start_angle - tangent_length / self.base);
        let relief = self.relief.map_or(0.0, |relief| relief.at(tangent_length));
        direction * self.base + direction.left_normal() * (tangent_length + relief)
    }
}

impl Approximable for Flank {
    /// Even steps of roll: the error of an arc goes with the cube of its roll alone.
    fn at(&self, fraction: f64) -> Point {
        self.point(self.outer + (self.inner - self.outer) * fraction)
    }
}

/// Pieces in which a fillet's length is measured; a break between arcs may lie anywhere near.
const FILLET_PIECES: usize = 32;

/// The left fillet of a tooth centred on +x, from the flank to the root circle.
struct Fillet {
    curve: Trochoid,
    half_pitch: f64,
    grown: f64,
    flank_angle: f64,
    /// Length from the flank after each of the pieces, which are even in corner angle.
    lengths: [f64; FILLET_PIECES + 1],
}

impl Fillet {
    fn new(curve: Trochoid, half_pitch: f64, grown: f64, flank_angle: f64) -> Fillet {
        let mut lengths = [0.0; FILLET_PIECES + 1];
        let mut previous = curve.point(flank_angle, 0.0);
        let mut sum = 0.0;
        for (piece, length) in lengths.iter_mut().enumerate().skip(1) {
            let point = curve.point(flank_angle * (1.0 - piece as f64 / FILLET_PIECES as f64), 0.0);
            sum += libm::hypot(point.x - previous.x, point.y - previous.y);
            *length = sum;
            previous = point;
        }
        Fillet { curve, half_pitch, grown, flank_angle, lengths }
    }

    /// Corner angle at a fraction of the length: even steps of length need half the arcs of even steps of angle.
    fn corner_angle(&self, fraction: f64) -> f64 {
        let wanted = fraction * self.lengths[FILLET_PIECES];
        // Pieces that end before the point; the last piece is the highest that can hold it.
        let piece = self.lengths[1..FILLET_PIECES].partition_point(|length| *length < wanted);
        // Within the array: `piece` is at most FILLET_PIECES - 1.
        let [start, end] = [self.lengths[piece], self.lengths[piece + 1]];
        let within = if end > start { (wanted - start) / (end - start) } else { 0.0 };
        self.flank_angle * (1.0 - (piece as f64 + within) / FILLET_PIECES as f64)
    }
}

impl Approximable for Fillet {
    fn at(&self, fraction: f64) -> Point {
        let point = self.curve.point(self.corner_angle(fraction), self.grown);
        // From the frame of the tooth space, mirrored so that this flank lies clockwise of its middle.
        Point::new(point.x, -point.y).rotated(self.half_pitch)
    }
}

/// Makes each segment start exactly where the one before ends; they already do but for rounding.
fn join(side: &mut [Segment]) {
    let mut previous: Option<Point> = None;
    for segment in side {
        if let Some(end) = previous {
            segment.from = end;
        }
        previous = Some(segment.to);
    }
}

/// The whole outline from one left side: mirrored, joined by arcs about the axis, repeated for each body.
fn close_round(left: &[Segment], bodies: u32) -> Loop {
    let right: Vec<Segment> = left.iter().rev().map(|segment| segment.mirrored().reversed()).collect();
    let (Some(start), Some(end)) = (right.first(), left.last()) else { return Loop::default() };
    let (Some(outer_from), Some(outer_to)) = (right.last(), left.first()) else { return Loop::default() };
    let about_axis = |from: Point, to: Point| Segment::arc(from, to, Point::ORIGIN, true);

    let mut body = right.clone();
    body.push(about_axis(outer_from.to, outer_to.from));
    body.extend(left);
    let body = Loop(body);
    let turn_of = |index: u32| 2.0 * PI * f64::from(index) / f64::from(bodies);

    let mut segments: Vec<Segment> = Vec::new();
    for index in 0..bodies {
        segments.extend(body.rotated(turn_of(index)).0);
        // The same arithmetic as for the next body's first point, so that the chain closes to the last digit.
        let next = start.from.rotated(turn_of((index + 1) % bodies));
        segments.push(about_axis(end.to.rotated(turn_of(index)), next));
    }
    Loop(segments)
}
