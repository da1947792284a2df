//! A plane section, with boxes and radii kept so that most questions need no look at its segments.

use crate::geometry::{Bounds, Point, Region, Segment, ShapeError};

/// Boundaries nearer than this touch \[mm\]: the kernel's snap distance.
const TOUCHING: f64 = 1e-5;

/// A region at one height.
#[derive(Clone, Debug)]
pub struct Section {
    pub region: Region,
    pub bounds: Bounds,
    segments: Vec<(Segment, Bounds)>,
    loops: Vec<Outline>,
    /// Least and greatest distance of the boundary from the axis.
    radius: [f64; 2],
}

/// What is kept of one loop.
#[derive(Clone, Debug)]
struct Outline {
    bounds: Bounds,
    radius: [f64; 2],
    /// Its winding about the axis, which holds for every point nearer than the loop's least radius.
    about_axis: i32,
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
        let segments: Vec<(Segment, Bounds)> =
            region.segments().map(|segment| (*segment, segment.bounds())).collect();
        let loops: Vec<Outline> = region
            .loops
            .iter()
            .map(|outline| Outline {
                bounds: outline.bounds(),
                radius: [outline.min_radius(Point::ORIGIN), outline.max_radius(Point::ORIGIN)],
                about_axis: outline.winding(Point::ORIGIN),
            })
            .collect();
        let bounds = loops.iter().fold(Bounds::EMPTY, |sum, outline| sum.merged(outline.bounds));
        let radius = loops.iter().fold([f64::INFINITY, 0.0], |[low, high]: [f64; 2], outline| {
            [low.min(outline.radius[0]), high.max(outline.radius[1])]
        });
        Section { region, bounds, segments, loops, radius }
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
        let step = (self.segments.len() / SAMPLES).max(1);
        self.segments.iter().step_by(step).map(|(segment, _)| {
            let middle = segment.middle();
            middle + segment.tangent_at(middle).left_normal().unit() * INSIDE
        })
    }

    /// How the two lie, as far as `reach`.
    pub fn lateral(&self, other: &Section, reach: f64) -> Lateral {
        if self.bounds.gap_to(other.bounds) > reach {
            return Lateral::Far;
        }
        let near = |of: &Section, to: &Section| -> Vec<(Segment, Bounds)> {
            // Far inside or outside everything the other has: only circles about the axis can tell.
            let within = |segment: &Segment| {
                let (low, high) = segment.radius_range(Point::ORIGIN);
                low <= to.radius[1] + reach && high >= to.radius[0] - reach
            };
            of.segments
                .iter()
                .filter(|(segment, bounds)| bounds.gap_to(to.bounds) <= reach && within(segment))
                .copied()
                .collect()
        };
        let mut least: Option<(f64, Point)> = None;
        let others = near(other, self);
        for (a, a_bounds) in near(self, other) {
            for (b, b_bounds) in &others {
                if a_bounds.gap_to(*b_bounds) <= least.map_or(reach, |(gap, _)| gap) {
                    let gap = a.distance_to(b);
                    if gap < TOUCHING {
                        return Lateral::Meets;
                    }
                    if least.is_none_or(|(best, _)| gap < best) {
                        least = Some((gap, b.nearest(a.nearest(b.middle()))));
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
