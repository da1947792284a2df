//! A plane section, with boxes and radii kept so that most questions need no look at its segments.

use std::ops::Range;

use super::runs::Run;
use super::{Bounds, Loop, Point, Region, Segment, ShapeError, concentric};

/// Boundaries nearer than this touch \[mm\]: the kernel's snap distance.
const TOUCHING: f64 = 1e-5;

/// A region at one height.
#[derive(Clone, Debug)]
pub struct Section {
    pub region: Region,
    pub bounds: Bounds,
    edges: Vec<Edge>,
    runs: Vec<Run>,
    loops: Vec<Outline>,
    /// Least and greatest distance of the boundary from the axis.
    radius: [f64; 2],
    /// Centre and radius of its outline, if that is one full circle around all of it.
    hull: Option<(Point, f64)>,
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

    /// As [`Segment::crossing`]; none where the ray can't reach the box.
    fn crossing(&self, point: Point) -> i32 {
        let (low, high) = (self.bounds.low, self.bounds.high);
        let missed = point.y < low.y - ROUNDING || point.y > high.y + ROUNDING || point.x > high.x + ROUNDING;
        if missed { 0 } else { self.segment.crossing(point) }
    }
}

/// Of an arc's box \[mm\].
const ROUNDING: f64 = 1e-9;

/// What is kept of one loop.
#[derive(Clone, Debug)]
struct Outline {
    /// Which of the section's edges, and which of its runs, are its own.
    edges: Range<usize>,
    runs: Range<usize>,
    bounds: Bounds,
    radius: [f64; 2],
    /// Its winding about the axis, which holds for every point nearer than the loop's least radius.
    about_axis: i32,
}

/// Radii of nothing.
const NOWHERE: [f64; 2] = [f64::INFINITY, 0.0];

fn spanned(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0].min(b[0]), a[1].max(b[1])]
}

/// What is left of a section where it is asked about.
pub(crate) struct Reduced<'a> {
    pub loops: Vec<&'a Loop>,
    /// Winding of the loops that lie around all of it.
    pub around: i32,
}

impl Reduced<'_> {
    /// What lies around as a square that covers the box however it is turned about its middle.
    fn region(&self, bounds: Bounds) -> Region {
        let mut loops: Vec<Loop> = self.loops.iter().map(|&one| one.clone()).collect();
        if self.around > 0 {
            let middle = bounds.low.lerp(bounds.high, 0.5);
            let half = f64::max(bounds.high.x - bounds.low.x, bounds.high.y - bounds.low.y);
            let corner = Point::new(half + 1.0, half + 1.0);
            loops.extend(Region::rectangle(middle - corner, middle + corner).loops);
        }
        Region { loops }
    }
}

/// The nearest place of two sections so far.
struct Nearest {
    /// What lies farther apart changes nothing any more.
    reach: f64,
    place: Option<Point>,
}

impl Nearest {
    /// Whether two edges touch; else they are noted if they are nearer than all before.
    fn touch(&mut self, a: &Edge, b: &Edge) -> bool {
        if a.bounds.gap_to(b.bounds) > self.reach || a.segment.is_surely_beyond(&b.segment, self.reach) {
            return false;
        }
        let gap = a.segment.distance_to(&b.segment);
        let nearer = if self.place.is_some() { gap < self.reach } else { gap <= self.reach };
        if nearer {
            self.reach = gap;
            self.place = Some(b.segment.nearest(a.segment.nearest(b.segment.middle())));
        }
        gap < TOUCHING
    }
}

/// A loop of a section that is put together from another's.
pub enum Pick {
    /// The other's, by index.
    Own(usize),
    Other(Loop),
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
        let mut section = Section::with_capacity(region.segment_count(), region.loops.len());
        for one in region.loops {
            section.push(one);
        }
        section
    }

    fn with_capacity(edges: usize, loops: usize) -> Section {
        Section {
            region: Region { loops: Vec::with_capacity(loops) },
            bounds: Bounds::EMPTY,
            edges: Vec::with_capacity(edges),
            runs: Vec::new(),
            loops: Vec::with_capacity(loops),
            radius: NOWHERE,
            hull: None,
        }
    }

    fn push(&mut self, one: Loop) {
        let (first, first_run) = (self.edges.len(), self.runs.len());
        self.edges.extend(one.0.iter().map(Edge::of));
        let own = self.edges.get(first..).unwrap_or_default();
        Run::add_loop(&mut self.runs, first, own.iter().map(|edge| edge.bounds));
        let bounds = own.iter().fold(Bounds::EMPTY, |sum, edge| sum.merged(edge.bounds));
        let radius = own.iter().fold(NOWHERE, |sum, edge| spanned(sum, edge.radius));
        let axis = Bounds::of(Point::ORIGIN, Point::ORIGIN);
        let about_axis = if bounds.gap_to(axis) > 0.0 { 0 } else { one.winding(Point::ORIGIN) };
        let (edges, runs) = (first..self.edges.len(), first_run..self.runs.len());
        self.add(one, Outline { edges, runs, bounds, radius, about_axis });
    }

    /// Takes over a loop of another section with all that is known of it.
    fn push_known(&mut self, of: &Section, index: usize) {
        let (Some(one), Some(outline)) = (of.region.loops.get(index), of.loops.get(index)) else { return };
        let (first, first_run) = (self.edges.len(), self.runs.len());
        self.edges.extend_from_slice(of.edges.get(outline.edges.clone()).unwrap_or_default());
        let runs = of.runs.get(outline.runs.clone()).unwrap_or_default();
        self.runs.extend(runs.iter().map(|run| run.moved(first, outline.edges.start)));
        let (edges, runs) = (first..self.edges.len(), first_run..self.runs.len());
        self.add(one.clone(), Outline { edges, runs, ..*outline });
    }

    fn add(&mut self, one: Loop, outline: Outline) {
        let before = self.bounds;
        self.bounds = self.bounds.merged(outline.bounds);
        self.radius = spanned(self.radius, outline.radius);
        if self.bounds == outline.bounds {
            let circle = if one.0.len() <= 4 { one.as_circle() } else { None };
            // What lies in the corners of its box lies outside it.
            let around = |circle: &(Point, f64)| self.loops.iter().all(|one| self.is_within(one, *circle));
            let full = circle.filter(|circle| circle.2).map(|(centre, radius, _)| (centre, radius));
            self.hull = full.filter(around);
        } else if self.bounds != before {
            self.hull = None;
        } else {
            self.hull = self.hull.filter(|circle| self.is_within(&outline, *circle));
        }
        self.loops.push(outline);
        self.region.loops.push(one);
    }

    fn is_within(&self, outline: &Outline, (centre, radius): (Point, f64)) -> bool {
        if centre == Point::ORIGIN {
            return outline.radius[1] <= radius + TOUCHING;
        }
        let mut edges = self.edges.get(outline.edges.clone()).unwrap_or_default().iter();
        edges.all(|edge| edge.segment.radius_range(centre).1 <= radius + TOUCHING)
    }

    /// Some loops of this section, by index, and others in between: what is known of a loop is taken over.
    pub fn picked(&self, picks: impl Iterator<Item = Pick>) -> Section {
        let mut section = Section::with_capacity(0, self.loops.len());
        for pick in picks {
            match pick {
                Pick::Own(index) => section.push_known(self, index),
                Pick::Other(one) => section.push(one),
            }
        }
        section
    }

    /// Whether the point lies in the material; undefined within a snap of the boundary.
    pub fn contains(&self, point: Point) -> bool {
        let radius = point.norm();
        let at = Bounds::of(point, point);
        let winding = |outline: &Outline| {
            if radius > outline.radius[1] || outline.bounds.gap_to(at) > 0.0 {
                0
            } else if radius < outline.radius[0] {
                outline.about_axis
            } else {
                let runs = self.runs.get(outline.runs.clone()).unwrap_or_default();
                let met = runs.iter().filter(|run| !run.is_missed_from(point, ROUNDING));
                met.flat_map(|run| self.edges_of(run)).map(|edge| edge.crossing(point)).sum()
            }
        };
        self.loops.iter().map(winding).sum::<i32>() > 0
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
        let mut nearest = Nearest { reach, place: None };
        if self.boundaries_touch(other, &mut nearest) {
            return Lateral::Meets;
        }
        // No boundaries touch: one point of each loop tells on which side it lies.
        let inside = |of: &Section, other: &Section| {
            let starts = other.region.loops.iter().filter_map(|outline| outline.0.first());
            starts.into_iter().any(|segment| of.contains(segment.from))
        };
        if inside(self, other) || inside(other, self) {
            return Lateral::Meets;
        }
        nearest.place.map_or(Lateral::Far, |at| Lateral::Apart(nearest.reach, at))
    }

    /// Looks for the nearest edges, until two touch.
    fn boundaries_touch(&self, other: &Section, nearest: &mut Nearest) -> bool {
        let reach = nearest.reach;
        let near = |run: &&Run, to: Bounds| run.bounds.gap_to(to) <= reach;
        let others: Vec<&Run> = other.runs.iter().filter(|run| near(run, self.bounds)).collect();
        for run in self.runs.iter().filter(|run| near(run, other.bounds)) {
            let others: Vec<&Run> = others.iter().copied().filter(|other| near(other, run.bounds)).collect();
            for a in self.edges_of(run).iter().filter(|edge| !others.is_empty() && other.nears(edge, reach)) {
                for other_run in &others {
                    if a.bounds.gap_to(other_run.bounds) > nearest.reach {
                        continue;
                    }
                    let near = other.edges_of(other_run).iter().filter(|edge| self.nears(edge, reach));
                    if near.into_iter().any(|b| nearest.touch(a, b)) {
                        return true;
                    }
                }
            }
        }
        false
    }

    fn edges_of(&self, run: &Run) -> &[Edge] {
        self.edges.get(run.edges.clone()).unwrap_or_default()
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
        out_of(self.disc(), other) || out_of(other.disc(), self)
    }

    /// Centre and radius of its outline, if that is one full circle around all of it.
    pub fn hull(&self) -> Option<(Point, f64)> {
        self.hull
    }

    /// Centre and radius, if it is one full circle.
    fn disc(&self) -> Option<(Point, f64)> {
        self.hull.filter(|_| self.loops.len() == 1)
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

    /// Whether it has anything between two circles about a point, but for strips along them of this width.
    pub fn reaches_between(&self, centre: Point, [inner, outer]: [f64; 2], width: f64) -> bool {
        let (from, to) = (inner + if inner > 0.0 { width } else { 0.0 }, outer - width);
        let corner = Point::new(to, to);
        let around = Bounds::of(centre - corner, centre + corner);
        if from >= to || self.bounds.gap_to(around) > 0.0 {
            return false;
        }
        let runs_there = |edge: &Edge| {
            let (least, most) = match centre == Point::ORIGIN {
                true => (edge.radius[0], edge.radius[1]),
                false => edge.segment.radius_range(centre),
            };
            least < to && most > from
        };
        let near = self.runs.iter().filter(|run| run.bounds.gap_to(around) <= 0.0);
        near.flat_map(|run| self.edges_of(run)).any(runs_there)
            // No boundary between the circles: all of it is alike.
            || self.contains(centre + Point::new((from + to) / 2.0, 0.0))
    }

    /// What both cover.
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn shared(&self, other: &Section) -> Result<Region, ShapeError> {
        let reach = |of: &Section| [of.least_radius(), of.radius[1]];
        let own = self.reduced(other.bounds, reach(other), other.hull);
        let theirs = other.reduced(self.bounds, reach(self), self.hull);
        match concentric::shared(&own, &theirs) {
            Some(rings) => Ok(rings),
            None => own.region(other.bounds).intersection(&theirs.region(self.bounds)),
        }
    }

    /// The same in a box and between two radii from the axis; beyond, it says nothing.
    pub fn within(&self, bounds: Bounds, radius: [f64; 2]) -> Region {
        self.reduced(bounds, radius, None).region(bounds)
    }

    /// As few loops as tell what it has in a box, between two radii from the axis and within a circle that fills the box: those
    /// that run clear of there only say whether all of it lies inside them.
    fn reduced(&self, bounds: Bounds, radius: [f64; 2], hull: Option<(Point, f64)>) -> Reduced<'_> {
        let middle = bounds.low.lerp(bounds.high, 0.5);
        let mut reduced = Reduced { loops: Vec::new(), around: 0 };
        for (one, outline) in self.region.loops.iter().zip(&self.loops) {
            let runs = self.runs.get(outline.runs.clone()).unwrap_or_default();
            let clear = |edge: &Edge| {
                edge.bounds.gap_to(bounds) > 0.0
                    || hull.is_some_and(|(centre, radius)| {
                        edge.segment.radius_range(centre).0 > radius + TOUCHING
                    })
            };
            let clear_of_box = || {
                let near = runs.iter().filter(|run| run.bounds.gap_to(bounds) <= 0.0);
                near.flat_map(|run| self.edges_of(run)).all(clear)
            };
            if outline.radius[1] < radius[0] || outline.bounds.gap_to(bounds) > 0.0 {
                // All of it is where nothing is asked.
            } else if outline.radius[0] > radius[1] {
                reduced.around += outline.about_axis;
            } else if clear_of_box() {
                reduced.around += one.winding(middle);
            } else {
                reduced.loops.push(one);
            }
        }
        reduced
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
