//! A plane figure bounded by lines and arcs, with its constructors and measures.

use std::f64::consts::{PI, TAU};

use super::arrangement::{Arrangement, Crossings};
use super::error::{ShapeError, ShapeErrorKind};
use super::loops::Loop;
use super::moments::Moments;
use super::point::{Bounds, Point};
use super::segment::Segment;

/// Consecutive segments of a loop may miss each other by this much \[mm\] and still count as joined: rounding only.
const JOINT: f64 = 1e-6;

/// A plane figure: outer boundaries counter-clockwise, holes clockwise, material to the left of every segment. Loops
/// neither cross nor overlap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    pub loops: Vec<Loop>,
}

/// One connected piece of a region: the index of its outer loop and those of its holes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    pub outer: usize,
    pub holes: Vec<usize>,
}

impl Region {
    /// The region without points.
    pub fn empty() -> Region {
        Region::default()
    }

    pub fn disc(centre: Point, radius: f64) -> Region {
        Region { loops: vec![Loop::circle(centre, radius)] }
    }

    /// The ring between two concentric circles.
    pub fn annulus(centre: Point, inner: f64, outer: f64) -> Region {
        Region { loops: vec![Loop::circle(centre, outer), Loop::circle(centre, inner).reversed()] }
    }

    /// The polygon through the points, given in either sense.
    pub fn polygon(points: &[Point]) -> Region {
        let outline = Loop::polygon(points);
        let ccw = if outline.signed_area() < 0.0 { outline.reversed() } else { outline };
        Region { loops: vec![ccw] }
    }

    /// The axis-parallel rectangle between two opposite corners.
    pub fn rectangle(a: Point, b: Point) -> Region {
        Region::polygon(&[a, Point::new(b.x, a.y), b, Point::new(a.x, b.y)])
    }

    /// Part of the ring about the origin between two radii, from `from_angle` counter-clockwise to `to_angle` \[rad\]
    /// (a full turn or more is the whole ring). With an inner radius of 0 it is a slice to the centre.
    pub fn sector(inner: f64, outer: f64, from_angle: f64, to_angle: f64) -> Region {
        let sweep = to_angle - from_angle;
        if sweep >= TAU {
            let hole = (inner > 0.0).then(|| Loop::circle_from(Point::ORIGIN, inner, from_angle).reversed());
            let outline = Loop::circle_from(Point::ORIGIN, outer, from_angle);
            return Region { loops: std::iter::once(outline).chain(hole).collect() };
        }
        // Arcs of at most half a turn.
        let count = if sweep > PI { 2 } else { 1 };
        let angle = |step: usize| from_angle + sweep * step as f64 / f64::from(count);
        let arc = |radius: f64, from: f64, to: f64, ccw: bool| {
            Segment::arc(Point::polar(radius, from), Point::polar(radius, to), Point::ORIGIN, ccw)
        };
        let steps = count as usize;
        let mut outline: Vec<Segment> =
            (0..steps).map(|i| arc(outer, angle(i), angle(i + 1), true)).collect();
        let (start, end) = (Point::polar(inner, from_angle), Point::polar(inner, angle(steps)));
        outline.push(Segment::line(Point::polar(outer, angle(steps)), end));
        if inner > 0.0 {
            outline.extend((0..steps).rev().map(|i| arc(inner, angle(i + 1), angle(i), false)));
        }
        outline.push(Segment::line(start, Point::polar(outer, from_angle)));
        Region { loops: vec![Loop(outline)] }
    }

    /// A rectangle along the ray at `angle` \[rad\], from radius `inner` to `outer`, with parallel sides `width` apart.
    pub fn slot(inner: f64, outer: f64, width: f64, angle: f64) -> Region {
        let half = width / 2.0;
        Region::rectangle(Point::new(inner, -half), Point::new(outer, half)).rotated(angle)
    }

    /// A region of given loops: outer boundaries counter-clockwise, holes clockwise.
    ///
    /// # Errors
    /// [`ShapeErrorKind::NotFinite`], or [`ShapeErrorKind::BadOutline`] when a loop is open or has no area.
    pub fn from_loops(loops: Vec<Loop>) -> Result<Region, ShapeError> {
        let region = Region { loops };
        region.check()?;
        Ok(region)
    }

    /// Checks that every loop is a finite closed chain with an area.
    ///
    /// # Errors
    /// As [`Region::from_loops`].
    pub fn check(&self) -> Result<(), ShapeError> {
        for outline in &self.loops {
            if !outline.0.iter().all(Segment::is_finite) {
                return Err(ShapeErrorKind::NotFinite.into());
            }
            let next = outline.0.iter().cycle().skip(1);
            for (segment, next) in outline.0.iter().zip(next) {
                let empty = segment.from.distance(segment.to) < JOINT;
                if empty || segment.to.distance(next.from) > JOINT {
                    return Err(ShapeError::new(ShapeErrorKind::BadOutline).at_point(segment.to));
                }
            }
            if outline.0.len() < 2 || outline.signed_area().abs() < JOINT * JOINT {
                let place = outline.0.first().map(|segment| segment.from);
                let error = ShapeError::new(ShapeErrorKind::BadOutline);
                return Err(place.map_or(error.clone(), |point| error.at_point(point)));
            }
        }
        Ok(())
    }

    pub fn is_empty(&self) -> bool {
        self.loops.is_empty()
    }

    /// Whether it is drawn as the other: the same loops in the same order.
    pub fn same_as(&self, other: &Region) -> bool {
        self.loops.len() == other.loops.len()
            && self.loops.iter().zip(&other.loops).all(|(own, theirs)| own.same_as(theirs))
    }

    pub fn segments(&self) -> impl Iterator<Item = &Segment> {
        self.loops.iter().flat_map(|outline| &outline.0)
    }

    pub fn segment_count(&self) -> usize {
        self.loops.iter().map(|outline| outline.0.len()).sum()
    }

    /// Area \[mm2\].
    pub fn area(&self) -> f64 {
        self.segments().map(Segment::area).sum()
    }

    /// Length of the whole boundary \[mm\].
    pub fn perimeter(&self) -> f64 {
        self.segments().map(Segment::length).sum()
    }

    /// Area, first and second moments about the origin.
    pub fn moments(&self) -> Moments {
        self.segments().map(Segment::moments).sum()
    }

    /// Centroid; none for an empty region.
    pub fn centroid(&self) -> Option<Point> {
        self.moments().centroid()
    }

    /// True when `point` lies in the material (on the boundary either answer may be given).
    pub fn contains(&self, point: Point) -> bool {
        self.segments().map(|segment| segment.crossing(point)).sum::<i32>() > 0
    }

    /// The box round the region; [`Bounds::EMPTY`] for an empty one.
    pub fn bounds(&self) -> Bounds {
        self.segments().fold(Bounds::EMPTY, |bounds, segment| bounds.merged(segment.bounds()))
    }

    /// Least and greatest distance of the material from the origin; none for an empty region.
    pub fn radial_extent(&self) -> Option<(f64, f64)> {
        if self.is_empty() {
            return None;
        }
        let ranges = self.segments().map(|segment| segment.radius_range(Point::ORIGIN));
        let (least, greatest) =
            ranges.fold((f64::INFINITY, 0.0_f64), |(low, high), (a, b)| (low.min(a), high.max(b)));
        Some((if self.contains(Point::ORIGIN) { 0.0 } else { least }, greatest))
    }

    #[must_use]
    pub fn rotated(&self, angle: f64) -> Region {
        self.map(|outline| outline.rotated(angle))
    }

    #[must_use]
    pub fn translated(&self, by: Point) -> Region {
        self.map(|outline| outline.translated(by))
    }

    /// Reflected in the x axis.
    #[must_use]
    pub fn mirrored(&self) -> Region {
        self.map(Loop::mirrored)
    }

    /// Consecutive segments on one line or circle joined.
    #[must_use]
    pub fn simplified(&self) -> Region {
        self.map(Loop::simplified)
    }

    fn map(&self, change: impl Fn(&Loop) -> Loop) -> Region {
        Region { loops: self.loops.iter().map(change).collect() }
    }

    /// Points where the boundary meets itself: features that touch. Such a figure would give an edge with four faces.
    pub fn self_contacts(&self) -> Vec<Point> {
        let arrangement = Arrangement::of(&[self], Crossings::Everywhere);
        let mut degrees = vec![0; arrangement.points.len()];
        for sub in &arrangement.subs {
            degrees[sub.from] += 1;
            degrees[sub.to] += 1;
        }
        let touching = degrees.iter().zip(&arrangement.points).filter(|(degree, _)| **degree > 2);
        touching.map(|(_, point)| *point).collect()
    }

    /// The connected pieces: each outer loop with the holes directly inside it.
    ///
    /// # Errors
    /// [`ShapeErrorKind::BadOutline`] for a hole that no outer loop surrounds.
    pub fn pieces(&self) -> Result<Vec<Piece>, ShapeError> {
        let areas: Vec<f64> = self.loops.iter().map(Loop::signed_area).collect();
        let (outers, holes): (Vec<usize>, Vec<usize>) =
            (0..areas.len()).partition(|&index| areas[index] > 0.0);
        let mut pieces: Vec<Piece> =
            outers.into_iter().map(|outer| Piece { outer, holes: Vec::new() }).collect();
        for hole in holes {
            let Some(first) = self.loops[hole].0.first() else { continue };
            let inside = first.middle();
            let around = pieces
                .iter_mut()
                .filter(|piece| self.loops[piece.outer].winding(inside) > 0)
                .min_by(|a, b| areas[a.outer].total_cmp(&areas[b.outer]));
            match around {
                Some(piece) => piece.holes.push(hole),
                None => return Err(ShapeError::new(ShapeErrorKind::BadOutline).at_point(inside)),
            }
        }
        Ok(pieces)
    }

    /// The connected pieces as regions of their own.
    ///
    /// # Errors
    /// As [`Region::pieces`].
    pub fn split(&self) -> Result<Vec<Region>, ShapeError> {
        let region = |piece: Piece| Region {
            loops: std::iter::once(piece.outer)
                .chain(piece.holes)
                .map(|index| self.loops[index].clone())
                .collect(),
        };
        Ok(self.pieces()?.into_iter().map(region).collect())
    }
}
