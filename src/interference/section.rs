//! A plane section, with boxes and radii kept so that most questions need no look at its segments.

use crate::geometry::{Bounds, Loop, Point, Region, Segment, ShapeError};

/// Boundaries nearer than this touch \[mm\]: the kernel's snap distance.
const TOUCHING: f64 = 1e-5;

/// A region at one height.
#[derive(Clone, Debug)]
pub struct Section {
    pub region: Region,
    pub bounds: Bounds,
    edges: Vec<Edge>,
    loops: Vec<Outline>,
    /// Least and greatest distance of the boundary from the axis.
    radius: [f64; 2],
    /// Centre and radius, if it is one full circle.
    disc: Option<(Point, f64)>,
}

/// A segment of the boundary with its box and its radii from the axis.
#[derive(Clone, Copy, Debug)]
struct Edge {
    segment: Segment,
    bounds: Bounds,
    radius: [f64; 2],
}

impl Edge {
    fn of(segment: &Segment) -> Edge {
        let (least, greatest) = segment.radius_range(Point::ORIGIN);
        Edge { segment: *segment, bounds: segment.bounds(), radius: [least, greatest] }
    }
}

/// What is kept of one loop.
#[derive(Clone, Debug)]
struct Outline {
    bounds: Bounds,
    radius: [f64; 2],
    /// Its winding about the axis, which holds for every point nearer than the loop's least radius.
    about_axis: i32,
}

impl Outline {
    fn of(one: &Loop, edges: &[Edge]) -> Outline {
        let bounds = edges.iter().fold(Bounds::EMPTY, |sum, edge| sum.merged(edge.bounds));
        let radius = edges.iter().fold(NOWHERE, |sum, edge| spanned(sum, edge.radius));
        let axis = Bounds::of(Point::ORIGIN, Point::ORIGIN);
        let about_axis = if bounds.gap_to(axis) > 0.0 { 0 } else { one.winding(Point::ORIGIN) };
        Outline { bounds, radius, about_axis }
    }
}

/// Radii of nothing.
const NOWHERE: [f64; 2] = [f64::INFINITY, 0.0];

fn spanned(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0].min(b[0]), a[1].max(b[1])]
}

/// How two sections lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lateral {
    /// Farther apart than was asked.
    Far,
    /// Apart by so much, near this point.
    Apart(f64, Point),
    /// Boundaries touch or cross, or one lies in the other.
    Meets,
}

impl Section {
    pub fn of(region: Region) -> Section {
        let mut edges = Vec::with_capacity(region.segment_count());
        let mut loops = Vec::with_capacity(region.loops.len());
        for one in &region.loops {
            let first = edges.len();
            edges.extend(one.0.iter().map(Edge::of));
            loops.push(Outline::of(one, edges.get(first..).unwrap_or_default()));
        }
        let bounds = loops.iter().fold(Bounds::EMPTY, |sum, outline| sum.merged(outline.bounds));
        let radius = loops.iter().fold(NOWHERE, |sum, outline| spanned(sum, outline.radius));
        let disc = match region.loops.as_slice() {
            [one] => one.as_circle().filter(|circle| circle.2).map(|(centre, radius, _)| (centre, radius)),
            _ => None,
        };
        Section { region, bounds, edges, loops, radius, disc }
    }

    /// Whether the point lies in the material; undefined within a snap of the boundary.
    pub fn contains(&self, point: Point) -> bool {
        let radius = point.norm();
        let at = Bounds::of(point, point);
        let winding = |(index, outline): (usize, &Outline)| {
            if radius > outline.radius[1] || outline.bounds.gap_to(at) > 0.0 {
                0
            } else if radius < outline.radius[0] {
                outline.about_axis
            } else {
                self.region.loops.get(index).map_or(0, |one| one.winding(point))
            }
        };
        self.loops.iter().enumerate().map(winding).sum::<i32>() > 0
    }

    /// Certain overlap at a glance: a point well inside one that the other covers too. False says nothing.
    pub fn surely_overlaps(&self, other: &Section) -> bool {
        let seen = |of: &Section, by: &Section| {
            of.inner_points().any(|point| by.contains(point) && of.contains(point))
        };
        self.bounds.gap_to(other.bounds) <= 0.0 && (seen(self, other) || seen(other, self))
    }

    /// A few points a little inside the boundary.
    fn inner_points(&self) -> impl Iterator<Item = Point> + '_ {
        const SAMPLES: usize = 12;
        const INSIDE: f64 = 0.05; // mm
        let step = (self.edges.len() / SAMPLES).max(1);
        self.edges.iter().step_by(step).map(|Edge { segment, .. }| {
            let middle = segment.middle();
            middle + segment.tangent_at(middle).left_normal().unit() * INSIDE
        })
    }

    /// How the two lie, as far as `reach`.
    pub fn lateral(&self, other: &Section, reach: f64) -> Lateral {
        if self.bounds.gap_to(other.bounds) > reach {
            return Lateral::Far;
        }
        let mut least: Option<(f64, Point)> = None;
        let others: Vec<&Edge> = other.edges.iter().filter(|edge| self.nears(edge, reach)).collect();
        for a in self.edges.iter().filter(|edge| other.nears(edge, reach)) {
            for b in &others {
                if a.bounds.gap_to(b.bounds) <= least.map_or(reach, |(gap, _)| gap) {
                    let gap = a.segment.distance_to(&b.segment);
                    if gap < TOUCHING {
                        return Lateral::Meets;
                    }
                    if least.is_none_or(|(best, _)| gap < best) {
                        least = Some((gap, b.segment.nearest(a.segment.nearest(b.segment.middle()))));
                    }
                }
            }
        }
        // No boundaries touch: one point of each loop tells on which side it lies.
        let inside = |of: &Section, other: &Section| {
            other
                .region
                .loops
                .iter()
                .filter_map(|outline| outline.0.first())
                .any(|segment| of.contains(segment.from))
        };
        if inside(self, other) || inside(other, self) {
            return Lateral::Meets;
        }
        match least {
            Some((gap, at)) if gap <= reach => Lateral::Apart(gap, at),
            _ => Lateral::Far,
        }
    }

    /// Whether another's edge may come within reach: its box does, and it runs where this one has anything.
    fn nears(&self, edge: &Edge, reach: f64) -> bool {
        edge.bounds.gap_to(self.bounds) <= reach
            && edge.radius[0] <= self.radius[1] + reach
            && edge.radius[1] >= self.radius[0] - reach
    }

    /// Whether the two can share no more than a strip of this width, by their radii from the axis alone: one ends where the other
    /// begins.
    pub fn nested(&self, other: &Section, width: f64) -> bool {
        self.radius[1] - width <= other.least_radius() || other.radius[1] - width <= self.least_radius()
    }

    /// Whether one of the two is a disc and the other keeps out of all but a rim of this width.
    pub fn rims(&self, other: &Section, width: f64) -> bool {
        let out_of = |disc: Option<(Point, f64)>, section: &Section| {
            disc.is_some_and(|(centre, radius)| section.keeps_from(centre, radius - width))
        };
        out_of(self.disc, other) || out_of(other.disc, self)
    }

    /// No material nearer to a point than this.
    fn keeps_from(&self, point: Point, distance: f64) -> bool {
        let corner = Point::new(distance, distance);
        let around = Bounds::of(point - corner, point + corner);
        let near = |edge: &Edge| {
            edge.bounds.gap_to(around) <= 0.0 && edge.segment.nearest(point).distance(point) < distance
        };
        !self.edges.iter().any(near) && !self.contains(point)
    }

    /// What both cover.
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn shared(&self, other: &Section) -> Result<Region, ShapeError> {
        self.reduced(other).intersection(&other.reduced(self))
    }

    /// The same where the other has material, with as few loops as that takes: those that run clear of the other only say whether
    /// all of it lies inside them.
    fn reduced(&self, other: &Section) -> Region {
        let middle = other.bounds.low.lerp(other.bounds.high, 0.5);
        let mut kept = Vec::new();
        let mut around = 0;
        for (one, outline) in self.region.loops.iter().zip(&self.loops) {
            let clear_of_box = || one.0.iter().all(|segment| segment.bounds().gap_to(other.bounds) > 0.0);
            if outline.radius[1] < other.least_radius() || outline.bounds.gap_to(other.bounds) > 0.0 {
                // All of it is where the other has nothing.
            } else if outline.radius[0] > other.radius[1] {
                around += outline.about_axis;
            } else if clear_of_box() {
                around += one.winding(middle);
            } else {
                kept.push(one.clone());
            }
        }
        if around > 0 {
            let margin = Point::new(1.0, 1.0);
            kept.extend(Region::rectangle(other.bounds.low - margin, other.bounds.high + margin).loops);
        }
        Region { loops: kept }
    }

    /// Box and radii of each loop.
    pub fn loop_extents(&self) -> impl Iterator<Item = (Bounds, [f64; 2])> + '_ {
        self.loops.iter().map(|outline| (outline.bounds, outline.radius))
    }

    /// Of the material from the axis.
    pub fn least_radius(&self) -> f64 {
        let covers_axis = self.loops.iter().map(|outline| outline.about_axis).sum::<i32>() > 0;
        if covers_axis { 0.0 } else { self.radius[0] }
    }
}
