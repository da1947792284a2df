//! What half planes through the axis cut of a stack of slabs.
//!
//! A cut is a pile of bands, each with straight sides. Straight walls and cones about the axis are exact; other tapered walls
//! meet the plane in conics, drawn as chords. Teeth are drawn as ISO 2203 has it: cut to the root circle, whole to the tip circle.

use crate::geometry::{Curve, Loop, Point, Region, Segment, ShapeError, Slab, Stack, Wall};
use crate::parts::Place;

/// Crossings nearer than this are one \[mm\].
const SAME: f64 = 1e-7;
/// Levels at which a wall is cut that is not straight.
const LEVELS: usize = 8;
/// Where a wall begins or ends between two levels is found to a thousandth of their distance.
const HALVINGS: u32 = 10;
/// A loop about the axis with so many segments a tooth is a toothed one: two flanks, tip and root.
const SEGMENTS_A_TOOTH: usize = 4;

/// Teeth of a body, for its conventional section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Toothing {
    pub teeth: u32,
    pub root_diameter: f64,
    pub tip_diameter: f64,
    pub reference_diameter: f64,
}

/// Between two heights; spans of material along the half plane \[mm from the axis\] at the bottom and at the top.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    pub z: [f64; 2],
    pub bottom: Vec<[f64; 2]>,
    pub top: Vec<[f64; 2]>,
}

/// A straight edge seen, as (distance from the axis, height).
pub type Edge = [Point; 2];

/// Bands of one body in one half plane, back to front.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cut {
    pub bands: Vec<Band>,
}

/// A half plane that begins at the axis, perhaps stepped: from each height on, the angle at which it stands \[rad\].
#[derive(Clone, Debug, PartialEq)]
pub struct HalfPlane {
    pub steps: Vec<(f64, f64)>,
}

impl HalfPlane {
    pub fn flat(angle: f64) -> HalfPlane {
        HalfPlane { steps: vec![(f64::NEG_INFINITY, angle)] }
    }

    pub(super) fn angle_at(&self, z: f64) -> f64 {
        self.steps.iter().rev().find(|(from, _)| z >= *from).or(self.steps.first()).map_or(0.0, |step| step.1)
    }
}

impl Cut {
    /// Of a body at its place; toothed outlines are cut at the root circle.
    ///
    /// # Errors
    /// A tapered wall without a shape between its ends.
    pub fn of(
        stack: &Stack,
        place: Place,
        plane: &HalfPlane,
        toothing: Option<&Toothing>,
    ) -> Result<Cut, ShapeError> {
        let mut bands = Vec::new();
        for slab in &stack.slabs {
            for z in stepped(slab.z, plane) {
                let ray = Ray::of(place, plane.angle_at((z[0] + z[1]) / 2.0));
                bands.extend(cut_slab(slab, z, &ray, toothing)?);
            }
        }
        Ok(Cut { bands })
    }

    pub fn is_empty(&self) -> bool {
        self.bands.iter().all(|band| band.bottom.is_empty() && band.top.is_empty())
    }

    /// \[mm2\]
    pub fn area(&self) -> f64 {
        self.pieces().map(|corners| Loop::polygon(&corners).signed_area().abs()).sum()
    }

    /// Its trapezia, counter-clockwise from the lower corner nearer to the axis.
    pub fn pieces(&self) -> impl Iterator<Item = [Point; 4]> + '_ {
        self.bands.iter().flat_map(|band| {
            let [low, high] = band.z;
            band.bottom.iter().zip(&band.top).map(move |(bottom, top)| {
                [
                    Point::new(bottom[0], low),
                    Point::new(bottom[1], low),
                    Point::new(top[1], high),
                    Point::new(top[0], high),
                ]
            })
        })
    }

    /// Its outline: sides of the bands but where they touch the axis, and what of their ends no neighbour covers.
    pub fn outline(&self) -> Vec<Edge> {
        let mut edges: Vec<Edge> = Vec::new();
        for [a, b, c, d] in self.pieces() {
            for side in [[b, c], [a, d]] {
                if side.iter().any(|end| end.x > SAME) {
                    join(&mut edges, side);
                }
            }
        }
        let mut heights: Vec<f64> = self.bands.iter().flat_map(|band| band.z).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| (*a - *b).abs() < SAME);
        for z in heights {
            let under = self.bands.iter().find(|band| (band.z[1] - z).abs() < SAME);
            let over = self.bands.iter().find(|band| (band.z[0] - z).abs() < SAME);
            let under = under.map_or(&[][..], |band| &band.top);
            let over = over.map_or(&[][..], |band| &band.bottom);
            edges.extend(
                differing(under, over).into_iter().map(|[from, to]| [Point::new(from, z), Point::new(to, z)]),
            );
        }
        edges
    }

    /// Spans at a height, of the band above it.
    pub fn spans_at(&self, z: f64) -> Vec<[f64; 2]> {
        let Some(band) = self.bands.iter().find(|band| z >= band.z[0] && z < band.z[1]) else {
            return Vec::new();
        };
        let share = (z - band.z[0]) / (band.z[1] - band.z[0]);
        let between = |a: f64, b: f64| a + (b - a) * share;
        band.bottom
            .iter()
            .zip(&band.top)
            .map(|(low, high)| [between(low[0], high[0]), between(low[1], high[1])])
            .collect()
    }
}

/// Adds an upright or leaning side, grown onto the one below it when they are in line.
fn join(edges: &mut Vec<Edge>, side: Edge) {
    let [from, to] = side;
    let before = edges.iter_mut().rev().find(|edge| edge[1].distance(from) < SAME);
    match before {
        Some(edge) if (edge[1] - edge[0]).unit().cross((to - from).unit()).abs() < 1e-9 => edge[1] = to,
        _ => edges.push(side),
    }
}

/// Where one of two lists of spans has material and the other has none.
fn differing(one: &[[f64; 2]], two: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut ends: Vec<f64> = one.iter().chain(two).flatten().copied().collect();
    ends.sort_by(f64::total_cmp);
    let within = |spans: &[[f64; 2]], x: f64| spans.iter().any(|span| x > span[0] && x < span[1]);
    let mut found: Vec<[f64; 2]> = Vec::new();
    for (from, to) in ends.iter().zip(ends.iter().skip(1)) {
        let middle = (from + to) / 2.0;
        if to - from < 1e-6 || within(one, middle) == within(two, middle) {
            continue;
        }
        match found.last_mut() {
            Some(last) if (last[1] - from).abs() < 1e-6 => last[1] = *to,
            _ => found.push([*from, *to]),
        }
    }
    found
}

/// A slab's height in pieces that each lie between two steps of the plane.
fn stepped(z: [f64; 2], plane: &HalfPlane) -> Vec<[f64; 2]> {
    let inside = plane.steps.iter().map(|step| step.0).filter(|at| *at > z[0] + SAME && *at < z[1] - SAME);
    let ends: Vec<f64> = std::iter::once(z[0]).chain(inside).chain(std::iter::once(z[1])).collect();
    ends.iter().zip(ends.iter().skip(1)).map(|(from, to)| [*from, *to]).collect()
}

/// The half plane seen along z, in the body's own frame.
struct Ray {
    from: Point,
    direction: Point,
}

impl Ray {
    fn of(place: Place, angle: f64) -> Ray {
        let axis = Point::polar(place.distance, place.angle);
        Ray {
            from: (Point::ORIGIN - axis).rotated(-place.turn),
            direction: Point::polar(1.0, angle - place.turn),
        }
    }

    /// Spans of material along the ray, nearest first.
    fn spans(&self, region: &Region) -> Vec<[f64; 2]> {
        let mut crossings = vec![0.0];
        for segment in region.segments() {
            self.cross(segment, &mut crossings);
        }
        crossings.retain(|t| *t >= 0.0);
        crossings.sort_by(f64::total_cmp);
        let mut spans: Vec<[f64; 2]> = Vec::new();
        for (from, to) in crossings.iter().zip(crossings.iter().skip(1)) {
            if to - from < SAME || !region.contains(self.at((from + to) / 2.0)) {
                continue;
            }
            match spans.last_mut() {
                Some(last) if from - last[1] < SAME => last[1] = *to,
                _ => spans.push([*from, *to]),
            }
        }
        spans
    }

    fn at(&self, t: f64) -> Point {
        self.from + self.direction * t
    }

    /// Adds where the ray's line may cross a segment: too many do no harm, each piece between two is looked at.
    fn cross(&self, segment: &Segment, crossings: &mut Vec<f64>) {
        let side = |point: Point| self.direction.cross(point - self.from);
        match segment.curve {
            Curve::Line => {
                let (a, b) = (side(segment.from), side(segment.to));
                let along = |point: Point| self.direction.dot(point - self.from);
                if a.abs() < SAME {
                    crossings.push(along(segment.from));
                }
                if b.abs() < SAME {
                    crossings.push(along(segment.to));
                }
                if a * b < 0.0 {
                    crossings.push(along(segment.from.lerp(segment.to, a / (a - b))));
                }
            }
            Curve::Arc { centre, radius, .. } => {
                let foot = self.direction.dot(centre - self.from);
                let off = side(centre);
                let square = radius * radius - off * off;
                if square >= 0.0 {
                    let half = square.sqrt();
                    crossings.extend([foot - half, foot + half]);
                }
            }
        }
    }
}

/// Bands of one slab between two heights.
fn cut_slab(
    slab: &Slab,
    z: [f64; 2],
    ray: &Ray,
    toothing: Option<&Toothing>,
) -> Result<Vec<Band>, ShapeError> {
    let region = |z: f64| -> Result<Region, ShapeError> {
        let mut loops = Vec::with_capacity(slab.loops.len());
        for one in &slab.loops {
            match toothing.filter(|teeth| is_toothed(&one.bottom, teeth)) {
                Some(teeth) => loops.push(root_circle(&one.bottom, teeth)),
                None => {
                    loops.extend(Slab { z: slab.z, loops: vec![one.clone()] }.region_at(z)?.loops);
                }
            }
        }
        Ok(Region { loops })
    };
    let turning = |wall: Wall, outline: &Loop| match wall {
        Wall::Straight => false,
        _ => toothing.is_none_or(|teeth| !is_toothed(outline, teeth)),
    };
    let middle = (z[0] + z[1]) / 2.0;
    if !slab.loops.iter().any(|one| turning(one.wall, &one.bottom)) {
        let spans = ray.spans(&region(middle)?);
        return Ok(vec![Band { z, bottom: spans.clone(), top: spans }]);
    }
    let height = |level: usize| z[0] + (z[1] - z[0]) * level as f64 / LEVELS as f64;
    let levels: Vec<Vec<[f64; 2]>> = (0..=LEVELS)
        .map(|level| region(height(level)).map(|region| ray.spans(&region)))
        .collect::<Result<_, _>>()?;
    if let (Some(first), Some(last), Some(half)) = (levels.first(), levels.last(), levels.get(LEVELS / 2))
        && is_mean(first, last, half)
    {
        return Ok(vec![Band { z, bottom: first.clone(), top: last.clone() }]);
    }
    let mut bands = Vec::with_capacity(LEVELS);
    for (level, (bottom, top)) in levels.iter().zip(levels.iter().skip(1)).enumerate() {
        let z = [height(level), height(level + 1)];
        if bottom.len() == top.len() {
            bands.push(Band { z, bottom: bottom.clone(), top: top.clone() });
        } else {
            // The plane leaves or enters a wall between the levels: halve down to where.
            halve(z, [bottom.clone(), top.clone()], HALVINGS, &|z| Ok(ray.spans(&region(z)?)), &mut bands)?;
        }
    }
    Ok(bands)
}

type Spans = Vec<[f64; 2]>;

/// Bands between two heights whose spans differ in number, the change between two of them placed ever closer.
fn halve(
    z: [f64; 2],
    [bottom, top]: [Spans; 2],
    depth: u32,
    spans: &dyn Fn(f64) -> Result<Spans, ShapeError>,
    bands: &mut Vec<Band>,
) -> Result<(), ShapeError> {
    if bottom.len() == top.len() {
        bands.push(Band { z, bottom, top });
        return Ok(());
    }
    let middle = (z[0] + z[1]) / 2.0;
    let between = spans(middle)?;
    if depth == 0 {
        bands.push(Band { z, bottom: between.clone(), top: between });
        return Ok(());
    }
    halve([z[0], middle], [bottom, between.clone()], depth - 1, spans, bands)?;
    halve([middle, z[1]], [between, top], depth - 1, spans, bands)
}

/// Sides of the band that run straight.
fn is_mean(first: &[[f64; 2]], last: &[[f64; 2]], half: &[[f64; 2]]) -> bool {
    first.len() == last.len()
        && first.len() == half.len()
        && first
            .iter()
            .flatten()
            .zip(last.iter().flatten())
            .zip(half.iter().flatten())
            .all(|((low, high), middle)| ((low + high) / 2.0 - middle).abs() < 1e-6)
}

fn is_toothed(outline: &Loop, teeth: &Toothing) -> bool {
    outline.0.len() >= SEGMENTS_A_TOOTH * teeth.teeth as usize
}

/// The loop's root circle, in the loop's own sense.
fn root_circle(outline: &Loop, teeth: &Toothing) -> Loop {
    let circle = Loop::circle(Point::ORIGIN, teeth.root_diameter / 2.0);
    if outline.signed_area() < 0.0 { circle.reversed() } else { circle }
}
