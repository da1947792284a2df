//! A region of the plane: outer boundaries and holes of lines and arcs.

use super::arrangement::{Arrangement, Crossings};
use super::error::ShapeError;
use super::loops::Loop;
use super::moments::Moments;
use super::point::{Bounds, Point};
use super::segment::Segment;

/// Material to the left of every loop. Loops of a valid region don't touch each other or themselves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Region {
    pub loops: Vec<Loop>,
}

impl Region {
    pub fn from_loops(loops: Vec<Loop>) -> Region {
        Region { loops }
    }

    pub fn disc(centre: Point, radius: f64) -> Region {
        Region { loops: vec![Loop::circle(centre, radius)] }
    }

    pub fn annulus(centre: Point, inner: f64, outer: f64) -> Region {
        Region { loops: vec![Loop::circle(centre, outer), Loop::circle(centre, inner).reversed()] }
    }

    /// Straight lines through the points, counter-clockwise.
    pub fn polygon(points: &[Point]) -> Region {
        Region { loops: vec![Loop::polygon(points)] }
    }

    pub fn rectangle(low: Point, high: Point) -> Region {
        Region::polygon(&[low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)])
    }

    /// Between two radii and two angles about the origin: radial sides, concentric arcs. Less than a full turn.
    pub fn sector(inner: f64, outer: f64, from: f64, to: f64) -> Region {
        let corner = |radius, angle| Point::polar(radius, angle);
        let (a, b, c, d) = (corner(inner, from), corner(outer, from), corner(outer, to), corner(inner, to));
        let centre = Point::ORIGIN;
        Region {
            loops: vec![Loop(vec![
                Segment::line(a, b),
                Segment::arc(b, c, centre, true),
                Segment::line(c, d),
                Segment::arc(d, a, centre, false),
            ])],
        }
    }

    /// Rectangle along the radius at `angle`: from `inner` to `outer`, `width` across.
    pub fn slot(inner: f64, outer: f64, width: f64, angle: f64) -> Region {
        let half = width / 2.0;
        let corners = [(inner, -half), (outer, -half), (outer, half), (inner, half)];
        Region::polygon(&corners.map(|(x, y)| Point::new(x, y).rotated(angle)))
    }

    pub fn is_empty(&self) -> bool {
        self.loops.is_empty()
    }

    pub fn segments(&self) -> impl Iterator<Item = &Segment> {
        self.loops.iter().flat_map(|outline| &outline.0)
    }

    pub fn segment_count(&self) -> usize {
        self.loops.iter().map(|outline| outline.0.len()).sum()
    }

    /// \[mm2\]
    pub fn area(&self) -> f64 {
        self.loops.iter().map(Loop::signed_area).sum()
    }

    pub fn perimeter(&self) -> f64 {
        self.loops.iter().map(Loop::length).sum()
    }

    /// Area, first and second moments about the origin.
    pub fn moments(&self) -> Moments {
        self.loops.iter().map(Loop::moments).sum()
    }

    pub fn bounds(&self) -> Bounds {
        self.loops.iter().fold(Bounds::EMPTY, |bounds, outline| bounds.merged(outline.bounds()))
    }

    /// True when `point` lies in the material.
    pub fn contains(&self, point: Point) -> bool {
        self.loops.iter().map(|outline| outline.winding(point)).sum::<i32>() > 0
    }

    #[must_use]
    pub fn rotated(&self, angle: f64) -> Region {
        Region { loops: self.loops.iter().map(|outline| outline.rotated(angle)).collect() }
    }

    #[must_use]
    pub fn translated(&self, by: Point) -> Region {
        Region { loops: self.loops.iter().map(|outline| outline.translated(by)).collect() }
    }

    /// Reflected in the x axis.
    #[must_use]
    pub fn mirrored(&self) -> Region {
        Region { loops: self.loops.iter().map(Loop::mirrored).collect() }
    }

    /// Segments that continue each other joined.
    #[must_use]
    pub fn simplified(&self) -> Region {
        Region { loops: self.loops.iter().map(Loop::simplified).collect() }
    }

    fn combine(&self, other: &Region, rule: impl Fn(u128) -> bool) -> Result<Region, ShapeError> {
        let arrangement = Arrangement::of(&[self, other], Crossings::BetweenRegions);
        let extract = arrangement.extract(rule)?;
        Ok(arrangement.region_of(&extract.loops).simplified())
    }

    pub fn union(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combine(other, |members| members != 0)
    }

    pub fn minus(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combine(other, |members| members == 1)
    }

    pub fn intersection(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combine(other, |members| members == 3)
    }

    /// Points at which the region touches itself; none in a valid one.
    pub fn self_contacts(&self) -> Result<Vec<Point>, ShapeError> {
        let arrangement = Arrangement::of(&[self], Crossings::Everywhere);
        let extract = arrangement.extract(|members| members != 0)?;
        Ok(extract.contacts.iter().map(|&point| arrangement.points[point]).collect())
    }

    /// The connected pieces, each an outer boundary with its holes.
    pub fn pieces(&self) -> Vec<Region> {
        group(&self.loops)
            .into_iter()
            .map(|(outer, holes)| Region {
                loops: std::iter::once(outer).chain(holes).map(|index| self.loops[index].clone()).collect(),
            })
            .collect()
    }

    /// Least and greatest distance of the material from the origin.
    pub fn radial_extent(&self) -> [f64; 2] {
        let least = if self.contains(Point::ORIGIN) {
            0.0
        } else {
            self.loops.iter().map(|outline| outline.min_radius(Point::ORIGIN)).fold(f64::INFINITY, f64::min)
        };
        [least, self.loops.iter().map(|outline| outline.max_radius(Point::ORIGIN)).fold(0.0, f64::max)]
    }

    /// Least distance between two regions; 0 when they overlap or touch.
    pub fn gap_to(&self, other: &Region) -> f64 {
        let touches = |a: &Region, b: &Region| {
            a.loops.iter().filter_map(|l| l.0.first()).any(|segment| b.contains(segment.from))
        };
        if touches(self, other) || touches(other, self) {
            return 0.0;
        }
        self.loops
            .iter()
            .flat_map(|a| other.loops.iter().map(move |b| a.gap_to(b)))
            .fold(f64::INFINITY, f64::min)
    }

    /// Same topology, every carrier moved into the material by `distance` (negative: out of it).
    ///
    /// # Errors
    /// [`ShapeErrorKind::InsetTopology`] when an edge would vanish.
    pub fn inset(&self, distance: f64) -> Result<Region, ShapeError> {
        let loops = self.loops.iter().map(|outline| outline.inset(distance)).collect::<Result<_, _>>()?;
        Ok(Region { loops })
    }
}

/// Outer loops with the holes that lie directly in them, as indices.
pub(crate) fn group(loops: &[Loop]) -> Vec<(usize, Vec<usize>)> {
    let areas: Vec<f64> = loops.iter().map(Loop::signed_area).collect();
    let mut groups: Vec<(usize, Vec<usize>)> =
        (0..loops.len()).filter(|&i| areas[i] > 0.0).map(|i| (i, Vec::new())).collect();
    for hole in (0..loops.len()).filter(|&i| areas[i] <= 0.0) {
        let Some(start) = loops[hole].0.first() else { continue };
        // Loops of one region don't touch, so any point of the hole tells.
        let point = start.middle();
        let smallest_around = groups
            .iter_mut()
            .filter(|(outer, _)| loops[*outer].winding(point) > 0)
            .min_by(|a, b| areas[a.0].total_cmp(&areas[b.0]));
        if let Some((_, holes)) = smallest_around {
            holes.push(hole);
        }
    }
    groups
}
