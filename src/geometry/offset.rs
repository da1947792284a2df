//! Parallel outlines: the exact inset that keeps every segment, and the general offset that may lose some.

use std::f64::consts::PI;

use cavalier_contours::polyline::{PlineCreation, PlineSource, PlineSourceMut, Polyline};
use cavalier_contours::shape_algorithms::{Shape, ShapeOffsetOptions};

use super::error::{ShapeError, ShapeErrorKind};
use super::intersect::carrier_crossings;
use super::loops::Loop;
use super::point::Point;
use super::region::Region;
use super::segment::{Curve, Segment};

/// Neighbours whose directions differ by less than this sine meet tangentially: their offsets meet on the normal.
/// Crossing two nearly tangent carriers would lose the digits instead.
const TANGENT_SINE: f64 = 1e-7;

impl Region {
    /// The region with every boundary moved `distance` \[mm\] into the material (outwards when negative), segment for
    /// segment: loops and segments keep their order, so that region and inset are top and bottom of a chamfer.
    ///
    /// # Errors
    /// [`ShapeErrorKind::InsetTopology`] when a segment would vanish or loops would meet.
    pub fn inset(&self, distance: f64) -> Result<Region, ShapeError> {
        let loops =
            self.loops.iter().map(|outline| inset_loop(outline, distance)).collect::<Result<_, _>>()?;
        let inset = Region { loops };
        if let Some(point) = inset.self_contacts().first() {
            return Err(ShapeError::new(ShapeErrorKind::InsetTopology).at_point(*point));
        }
        match first_renested(self, &inset) {
            Some(point) => Err(ShapeError::new(ShapeErrorKind::InsetTopology).at_point(point)),
            None => Ok(inset),
        }
    }

    /// The points within `distance` \[mm\] of the region, or for a negative distance the points deeper than that
    /// inside it. Corners grow round; parts narrower than twice the distance vanish.
    ///
    /// # Errors
    /// [`ShapeErrorKind::NotFinite`], or [`ShapeErrorKind::BadOutline`] when the result is no region.
    pub fn offset(&self, distance: f64) -> Result<Region, ShapeError> {
        if !distance.is_finite() {
            return Err(ShapeErrorKind::NotFinite.into());
        }
        self.check()?;
        // Positive moves to the left of each polyline there, which is into the material here.
        let shape = Shape::from_plines(self.loops.iter().map(to_polyline));
        let moved = shape.parallel_offset(-distance, &ShapeOffsetOptions::default());
        let outlines = moved.ccw_plines.iter().chain(&moved.cw_plines);
        let loops = outlines
            .map(|indexed| from_polyline(&indexed.polyline))
            .filter(|outline| outline.signed_area().abs() > 1e-6);
        Region::from_loops(loops.collect())
    }
}

/// A point of a loop that another loop surrounds differently after the inset: the two have passed each other.
fn first_renested(before: &Region, after: &Region) -> Option<Point> {
    let start = |outline: &Loop| outline.0.first().map(|segment| segment.from);
    for (index, (old, new)) in before.loops.iter().zip(&after.loops).enumerate() {
        let (Some(old_start), Some(new_start)) = (start(old), start(new)) else { continue };
        for (other, (old_other, new_other)) in before.loops.iter().zip(&after.loops).enumerate() {
            if other != index && old_other.winding(old_start) != new_other.winding(new_start) {
                return Some(new_start);
            }
        }
    }
    None
}

fn inset_loop(outline: &Loop, distance: f64) -> Result<Loop, ShapeError> {
    let refused = |point: Point| ShapeError::new(ShapeErrorKind::InsetTopology).at_point(point);
    let moved: Vec<Segment> = outline
        .0
        .iter()
        .map(|segment| inset_carrier(segment, distance).ok_or_else(|| refused(segment.from)))
        .collect::<Result<_, _>>()?;
    let count = moved.len();
    let mut corners = Vec::with_capacity(count);
    for index in 0..count {
        let previous = (index + count - 1) % count;
        let corner = outline.0[index].from;
        let (arriving, leaving) = (outline.0[previous].end_tangent(), outline.0[index].start_tangent());
        let tangential = arriving.cross(leaving).abs() < TANGENT_SINE && arriving.dot(leaving) > 0.0;
        corners.push(if tangential {
            corner + leaving.left_normal() * distance
        } else {
            // The estimate: where the two tangents, moved aside, cross.
            let half = (arriving + leaving).left_normal() * (1.0 / (1.0 + arriving.dot(leaving)).max(0.1));
            let estimate = corner + half * distance;
            let candidates = carrier_crossings(&moved[previous], &moved[index]);
            let nearest =
                candidates.into_iter().min_by(|a, b| a.distance(estimate).total_cmp(&b.distance(estimate)));
            nearest.ok_or_else(|| refused(corner))?
        });
    }
    let mut segments = Vec::with_capacity(count);
    for (index, (segment, original)) in moved.into_iter().zip(&outline.0).enumerate() {
        let segment =
            Segment { from: corners[index], to: corners[(index + 1) % count], curve: segment.curve };
        if !runs_alike(&segment, original) {
            return Err(refused(original.from));
        }
        segments.push(segment);
    }
    Ok(Loop(segments))
}

/// The segment's carrier moved to the left by `distance`; none when an arc shrinks to nothing.
fn inset_carrier(segment: &Segment, distance: f64) -> Option<Segment> {
    match segment.curve {
        Curve::Line => Some(segment.translated(segment.start_tangent().left_normal() * distance)),
        Curve::Arc { centre, radius, ccw } => {
            let radius = if ccw { radius - distance } else { radius + distance };
            (radius > 1e-3).then_some(Segment { curve: Curve::Arc { centre, radius, ccw }, ..*segment })
        }
    }
}

/// True when the moved segment still runs the way the original did, with some length left.
fn runs_alike(moved: &Segment, original: &Segment) -> bool {
    if moved.from.distance(moved.to) < 1e-3 {
        return false;
    }
    match original.curve {
        Curve::Line => (moved.to - moved.from).dot(original.to - original.from) > 0.0,
        // An arc whose ends pass each other comes out as nearly the whole circle.
        Curve::Arc { .. } => (moved.sweep() - original.sweep()).abs() < PI,
    }
}

fn to_polyline(outline: &Loop) -> Polyline<f64> {
    let mut polyline = Polyline::with_capacity(outline.0.len(), true);
    for segment in &outline.0 {
        // The library takes arcs up to half a turn; longer ones go in halves.
        let pieces = if segment.sweep().abs() > PI + 1e-9 { 2 } else { 1 };
        for piece in 0..pieces {
            let from = segment.at(f64::from(piece) / f64::from(pieces));
            polyline.add(from.x, from.y, libm::tan(segment.sweep() / f64::from(pieces) / 4.0));
        }
    }
    polyline
}

/// Shorter segments of an offset are rounding \[mm\].
const SLIVER: f64 = 2e-6;

fn from_polyline(polyline: &Polyline<f64>) -> Loop {
    let segments = polyline.iter_segments().map(|(start, end)| {
        let (from, to) = (Point::new(start.x, start.y), Point::new(end.x, end.y));
        if start.bulge_is_zero() {
            return Segment::line(from, to);
        }
        // The bulge is the tangent of a quarter of the sweep; the arc rises by bulge * chord / 2 to the right.
        let middle = (from + to) * 0.5 - (to - from).left_normal() * (0.5 * start.bulge);
        Segment::arc_through(from, middle, to)
    });
    // The library leaves slivers where pieces of the offset meet: they go, and their neighbours are joined.
    let mut kept: Vec<Segment> =
        segments.filter(|segment| segment.from.distance(segment.to) > SLIVER).collect();
    if kept.len() < 2 {
        return Loop(Vec::new());
    }
    for index in 0..kept.len() {
        kept[index].to = kept[(index + 1) % kept.len()].from;
    }
    Loop(kept)
}
