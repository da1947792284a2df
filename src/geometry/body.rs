//! The modeller parts are written with: features in order, each adding or cutting between two heights.
//!
//! Every height at which a feature begins or ends parts the body into slabs. In each slab all features that are active
//! are laid over each other once, at its bottom and at its top; a place is material when the last feature that covers
//! it adds. Walls of the bottom outline find their top by the feature and edge they come from.

use std::borrow::Cow;

use super::arrangement::{Arrangement, Crossings, MOST_REGIONS, Members, Piece, Source, Sources};
use super::corner::loop_between;
use super::error::{ShapeError, ShapeErrorKind};
use super::loops::Loop;
use super::point::Point;
use super::region::Region;
use super::segment::{Curve, Segment};
use super::stack::{Slab, SlabLoop, Stack, Wall};

/// Heights nearer than this are one \[mm\].
const SAME_HEIGHT: f64 = 1e-6;
/// Least distance of any outline from twisted teeth within a slab \[mm\].
const TWISTED_CLEARANCE: f64 = 0.2;

/// What a feature does where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Action {
    Add,
    Cut,
}

#[derive(Clone, Debug)]
enum Shape {
    /// Without a top of its own it goes straight up.
    Prism { bottom: Region, top: Option<Region> },
    /// Outline at z = 0, turned in proportion to z, and the circle that stands for it.
    Twisted { outline: Loop, per_mm: f64, proxy: Region },
}

impl Shape {
    fn taper(bottom: Region, top: Region) -> Shape {
        let top = (top != bottom).then_some(top);
        Shape::Prism { bottom, top }
    }

    /// Teeth that are added keep their root circle, teeth that are cut their greatest one.
    fn twisted(action: Action, outline: Loop, per_mm: f64) -> Shape {
        let radius = match action {
            Action::Add => outline.min_radius(Point::ORIGIN),
            Action::Cut => outline.max_radius(Point::ORIGIN),
        };
        Shape::Twisted { outline, per_mm, proxy: Region::disc(Point::ORIGIN, radius) }
    }
}

#[derive(Clone, Debug)]
struct Feature {
    name: String,
    action: Action,
    z: [f64; 2],
    shape: Shape,
}

impl Feature {
    /// Finite numbers, some height, closed outlines.
    fn check(&self) -> Result<(), ShapeError> {
        if !self.z.iter().all(|z| z.is_finite()) {
            return Err(ShapeErrorKind::NotFinite.into());
        }
        if self.z[1] - self.z[0] <= SAME_HEIGHT {
            return Err(ShapeError::new(ShapeErrorKind::EmptyInterval).at_height(self.z[0]));
        }
        let checked = match &self.shape {
            Shape::Prism { bottom, top } => {
                bottom.check().and_then(|()| top.as_ref().map_or(Ok(()), Region::check))
            }
            Shape::Twisted { per_mm, .. } if !per_mm.is_finite() => Err(ShapeErrorKind::NotFinite.into()),
            Shape::Twisted { outline, .. } => Region { loops: vec![outline.clone()] }.check(),
        };
        checked.map_err(|error| error.at_height(self.z[0]))
    }

    /// The feature's region at height `z`; for teeth the circle that stands for them.
    fn region_at(&self, z: f64) -> Result<Cow<'_, Region>, ShapeError> {
        match &self.shape {
            Shape::Prism { bottom, top: None } => Ok(Cow::Borrowed(bottom)),
            Shape::Prism { bottom, top: Some(top) } => {
                let u = (z - self.z[0]) / (self.z[1] - self.z[0]);
                if bottom.loops.len() != top.loops.len() {
                    return Err(ShapeError::new(ShapeErrorKind::TaperTopology).at_height(z));
                }
                let between = |(a, b): (&Loop, &Loop)| {
                    if a.0.len() != b.0.len() {
                        return Err(ShapeError::new(ShapeErrorKind::TaperTopology).at_height(z));
                    }
                    loop_between(a, b, u)
                };
                let loops = bottom.loops.iter().zip(&top.loops).map(between).collect::<Result<_, _>>()?;
                Ok(Cow::Owned(Region { loops }))
            }
            Shape::Twisted { proxy, .. } => Ok(Cow::Borrowed(proxy)),
        }
    }

    fn is_tapered(&self) -> bool {
        matches!(&self.shape, Shape::Prism { top: Some(_), .. })
    }
}

/// An ordered list of features.
#[derive(Clone, Debug, Default)]
pub struct Body {
    features: Vec<Feature>,
}

impl Body {
    pub fn new() -> Body {
        Body::default()
    }

    fn push(&mut self, name: impl Into<String>, action: Action, z: [f64; 2], shape: Shape) {
        self.features.push(Feature { name: name.into(), action, z, shape });
    }

    /// Adds a prism between two heights.
    pub fn add(&mut self, name: impl Into<String>, z: [f64; 2], region: Region) {
        self.push(name, Action::Add, z, Shape::Prism { bottom: region, top: None });
    }

    /// Cuts a prism.
    pub fn cut(&mut self, name: impl Into<String>, z: [f64; 2], region: Region) {
        self.push(name, Action::Cut, z, Shape::Prism { bottom: region, top: None });
    }

    /// Adds a taper; bottom and top correspond segment by segment, lines parallel and arcs concentric.
    pub fn add_taper(&mut self, name: impl Into<String>, z: [f64; 2], bottom: Region, top: Region) {
        self.push(name, Action::Add, z, Shape::taper(bottom, top));
    }

    /// Cuts a taper.
    pub fn cut_taper(&mut self, name: impl Into<String>, z: [f64; 2], bottom: Region, top: Region) {
        self.push(name, Action::Cut, z, Shape::taper(bottom, top));
    }

    /// Adds teeth: the counter-clockwise `outline` at z = 0, turned by `per_mm` \[rad/mm\] times z.
    pub fn add_twisted(&mut self, name: impl Into<String>, z: [f64; 2], outline: Loop, per_mm: f64) {
        self.push(name, Action::Add, z, Shape::twisted(Action::Add, outline, per_mm));
    }

    /// Cuts teeth.
    pub fn cut_twisted(&mut self, name: impl Into<String>, z: [f64; 2], outline: Loop, per_mm: f64) {
        self.push(name, Action::Cut, z, Shape::twisted(Action::Cut, outline, per_mm));
    }

    /// The body as a stack of slabs.
    ///
    /// # Errors
    /// [`ShapeError`] naming the features that clash and the place.
    pub fn stack(&self) -> Result<Stack, ShapeError> {
        for feature in &self.features {
            feature.check().map_err(|error| error.naming([feature.name.clone()]))?;
        }
        let mut slabs: Vec<Slab> = Vec::new();
        for z in self.heights().windows(2).map(|pair| [pair[0], pair[1]]) {
            let Some(slab) = self.slab(z)? else { continue };
            match slabs.last_mut() {
                Some(last) if continues(last, &slab) => last.z[1] = slab.z[1],
                _ => slabs.push(slab),
            }
        }
        if slabs.is_empty() {
            return Err(ShapeError::new(ShapeErrorKind::Empty));
        }
        Ok(Stack { slabs })
    }

    /// Heights at which a feature begins or ends, each once.
    fn heights(&self) -> Vec<f64> {
        let mut heights: Vec<f64> = self.features.iter().flat_map(|feature| feature.z).collect();
        heights.sort_by(f64::total_cmp);
        heights.dedup_by(|a, b| *a - *b < SAME_HEIGHT);
        heights
    }

    /// The slab between two neighbouring heights; none where there is no material.
    fn slab(&self, z: [f64; 2]) -> Result<Option<Slab>, ShapeError> {
        let middle = (z[0] + z[1]) / 2.0;
        let active: Vec<&Feature> =
            self.features.iter().filter(|f| f.z[0] < middle && middle < f.z[1]).collect();
        if active.len() > MOST_REGIONS {
            return Err(ShapeError::new(ShapeErrorKind::TooManyFeatures).at_height(middle));
        }
        let bottom = section(&active, z[0])?;
        if bottom.is_empty() {
            return Ok(None);
        }
        let loops = if active.iter().any(|feature| feature.is_tapered()) {
            let top = section(&active, z[1])?;
            pair(bottom, top, &active, z)?
        } else {
            bottom
                .into_iter()
                .map(|outline| (outline.sources(), SlabLoop::straight(outline.outline())))
                .collect()
        };
        let loops = put_teeth(loops, &active, z)?;
        Ok(Some(Slab { z, loops }))
    }
}

/// Two straight slabs of the same outlines are one.
fn continues(below: &Slab, above: &Slab) -> bool {
    let straight = |slab: &Slab| slab.loops.iter().all(|one| one.wall == Wall::Straight);
    (below.z[1] - above.z[0]).abs() < SAME_HEIGHT
        && straight(below)
        && straight(above)
        && below.loops == above.loops
}

/// A segment of a section and the feature edges it lies on, sorted.
#[derive(Clone, Debug)]
struct Edge {
    segment: Segment,
    sources: Sources,
}

#[derive(Clone, Debug)]
struct Traced(Vec<Edge>);

impl Traced {
    fn outline(&self) -> Loop {
        Loop(self.0.iter().map(|edge| edge.segment).collect())
    }

    fn sources(&self) -> Vec<Source> {
        self.0.iter().flat_map(|edge| edge.sources.iter().copied()).collect()
    }
}

/// The section of the active features at height `z`, each segment with where it comes from.
fn section(active: &[&Feature], z: f64) -> Result<Vec<Traced>, ShapeError> {
    let regions: Vec<Cow<Region>> = active
        .iter()
        .map(|feature| feature.region_at(z).map_err(|error| error.naming([feature.name.clone()])))
        .collect::<Result<_, _>>()?;
    let borrowed: Vec<&Region> = regions.iter().map(AsRef::as_ref).collect();
    let arrangement = Arrangement::of_touching(&borrowed, Crossings::BetweenRegions);
    let material = |members: Members| {
        // The last feature that covers a place decides.
        let last = Members::BITS - members.leading_zeros();
        last > 0 && active[last as usize - 1].action == Action::Add
    };
    let traced = arrangement.traced(&borrowed, material)?;
    if let Some(&contact) = traced.contacts.first() {
        let point = arrangement.points[contact];
        return Err(ShapeError::new(ShapeErrorKind::Contact).at(point.x, point.y, z).naming(features_at(
            &arrangement,
            contact,
            active,
        )));
    }
    let edge = |Piece { segment, mut sources }: Piece| {
        for source in &mut sources {
            source.forward = true;
        }
        Edge { segment, sources }
    };
    let loops = traced.loops.into_iter();
    Ok(loops.map(|pieces| Traced(join(pieces.into_iter().map(edge).collect()))).collect())
}

/// Names of the features whose edges meet at a point.
fn features_at(arrangement: &Arrangement, point: usize, active: &[&Feature]) -> Vec<String> {
    let mut indices: Vec<usize> = arrangement
        .subs
        .iter()
        .filter(|sub| sub.from == point || sub.to == point)
        .flat_map(|sub| sub.sources.iter().map(|source| source.region))
        .collect();
    indices.sort_unstable();
    indices.dedup();
    indices.into_iter().map(|index| active[index].name.clone()).collect()
}

/// Joins edges that continue each other on one carrier, so that bottom and top outlines have the same count. A loop
/// keeps two edges at least: a full circle is always two arcs.
fn join(edges: Vec<Edge>) -> Vec<Edge> {
    let mut joined: Vec<Edge> = Vec::with_capacity(edges.len());
    for edge in edges {
        match joined.last_mut() {
            Some(last) if same_carrier(&last.segment, &edge.segment) => absorb(last, edge),
            _ => joined.push(edge),
        }
    }
    while joined.len() > 2 {
        let (Some(first), Some(last)) = (joined.first(), joined.last()) else { break };
        if !same_carrier(&last.segment, &first.segment) {
            break;
        }
        let first = joined.remove(0);
        if let Some(last) = joined.last_mut() {
            absorb(last, first);
        }
    }
    if let [only] = joined.as_slice() {
        return halves(only);
    }
    joined
}

fn absorb(edge: &mut Edge, next: Edge) {
    edge.segment.to = next.segment.to;
    edge.sources.extend(next.sources);
    edge.sources.sort_unstable();
    edge.sources.dedup();
}

fn same_carrier(a: &Segment, b: &Segment) -> bool {
    const SAME: f64 = 1e-6; // mm
    match (a.curve, b.curve) {
        (Curve::Line, Curve::Line) => {
            let (d, e) = (a.to - a.from, b.to - b.from);
            d.cross(e).abs() / d.norm().max(e.norm()) < SAME && d.dot(e) > 0.0
        }
        (Curve::Arc { centre, radius, ccw }, Curve::Arc { centre: c, radius: r, ccw: w }) => {
            ccw == w && centre.distance(c) < SAME && (radius - r).abs() < SAME
        }
        _ => false,
    }
}

/// A full circle as two arcs that meet on the x direction, so that circles of one axis correspond.
fn halves(edge: &Edge) -> Vec<Edge> {
    let Curve::Arc { centre, radius, ccw } = edge.segment.curve else { return vec![edge.clone()] };
    let circle = Loop::circle(centre, radius);
    let outline = if ccw { circle } else { circle.reversed() };
    outline.0.into_iter().map(|segment| Edge { segment, sources: edge.sources.clone() }).collect()
}

/// Finds for every bottom outline its top one and its walls.
fn pair(
    bottom: Vec<Traced>,
    top: Vec<Traced>,
    active: &[&Feature],
    z: [f64; 2],
) -> Result<Vec<(Vec<Source>, SlabLoop)>, ShapeError> {
    let middle = (z[0] + z[1]) / 2.0;
    let names = |loops: &[Traced]| {
        let mut indices: Vec<usize> =
            loops.iter().flat_map(Traced::sources).map(|source| source.region).collect();
        indices.sort_unstable();
        indices.dedup();
        indices
            .into_iter()
            .filter(|&index| active[index].is_tapered())
            .map(|index| active[index].name.clone())
            .collect::<Vec<_>>()
    };
    if bottom.len() != top.len() {
        return Err(ShapeError::new(ShapeErrorKind::SlabTopology).at_height(middle).naming(names(&bottom)));
    }
    let mut free: Vec<Option<Traced>> = top.into_iter().map(Some).collect();
    let mut pairs = Vec::with_capacity(bottom.len());
    for outline in bottom {
        let candidates = free.iter().enumerate().filter_map(|(index, one)| {
            let (shift, distance) = correspondence(&outline, one.as_ref()?)?;
            Some((index, shift, distance))
        });
        let best = candidates.min_by(|a, b| a.2.total_cmp(&b.2));
        let Some((index, shift, _)) = best else {
            return Err(ShapeError::new(ShapeErrorKind::SlabTopology)
                .at_height(middle)
                .naming(names(&[outline])));
        };
        let Some(mate) = free[index].take() else { continue };
        let sources = outline.sources();
        let (below, above) = (outline.outline(), mate.outline().started_at(shift));
        let wall = if below.same_as(&above) { Wall::Straight } else { Wall::Tapered };
        let above = if wall == Wall::Straight { below.clone() } else { above };
        pairs.push((sources, SlabLoop { bottom: below, top: above, wall, toothed: false }));
    }
    Ok(pairs)
}

/// How far the top outline must be turned to correspond to the bottom one edge by edge, and how far apart their
/// corners then lie; none if it never does.
fn correspondence(bottom: &Traced, top: &Traced) -> Option<(usize, f64)> {
    let count = bottom.0.len();
    if count != top.0.len() {
        return None;
    }
    (0..count)
        .filter_map(|shift| {
            let mates = || bottom.0.iter().zip(top.0.iter().cycle().skip(shift));
            let corresponds = mates().all(|(a, b)| a.sources.iter().any(|source| b.sources.contains(source)));
            let apart = || mates().map(|(a, b)| a.segment.from.distance(b.segment.from)).sum::<f64>();
            corresponds.then(|| (shift, apart()))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// Replaces the circles that stand for teeth by the twisted outlines, and keeps everything else clear of them.
fn put_teeth(
    loops: Vec<(Vec<Source>, SlabLoop)>,
    active: &[&Feature],
    z: [f64; 2],
) -> Result<Vec<SlabLoop>, ShapeError> {
    let mut plain: Vec<SlabLoop> = Vec::with_capacity(loops.len());
    let mut teeth: Vec<(SlabLoop, &Feature)> = Vec::new();
    for (sources, one) in loops {
        let twisted = sources
            .iter()
            .map(|source| active[source.region])
            .find(|feature| matches!(feature.shape, Shape::Twisted { .. }));
        let Some(feature) = twisted else {
            plain.push(one);
            continue;
        };
        let Shape::Twisted { outline, per_mm, .. } = &feature.shape else { continue };
        if one.wall != Wall::Straight || one.bottom.as_circle().is_none() {
            return Err(ShapeError::new(ShapeErrorKind::TwistedOutlineBroken).at_height(z[0]).naming(
                sources
                    .iter()
                    .map(|source| active[source.region].name.clone())
                    .collect::<std::collections::BTreeSet<_>>(),
            ));
        }
        let outer = feature.action == Action::Add;
        let turned = |height: f64| {
            let at = outline.rotated(per_mm * height);
            if outer { at } else { at.reversed() }
        };
        let wall = if *per_mm == 0.0 { Wall::Straight } else { Wall::Twisted { per_mm: *per_mm } };
        teeth.push((SlabLoop { bottom: turned(z[0]), top: turned(z[1]), wall, toothed: true }, feature));
    }
    for (tooth, feature) in &teeth {
        keep_clear(tooth, feature, active, z)?;
    }
    plain.extend(teeth.into_iter().map(|(tooth, _)| tooth));
    Ok(plain)
}

/// Refuses any other feature whose outline enters the rings the teeth sweep, even where the boolean would hide it: it
/// may run into the teeth between the slab's ends.
fn keep_clear(
    tooth: &SlabLoop,
    feature: &Feature,
    active: &[&Feature],
    z: [f64; 2],
) -> Result<(), ShapeError> {
    let least = tooth.bottom.min_radius(Point::ORIGIN) - TWISTED_CLEARANCE;
    let most = tooth.bottom.max_radius(Point::ORIGIN) + TWISTED_CLEARANCE;
    for other in active.iter().filter(|other| !std::ptr::eq(**other, feature)) {
        for outline in
            [other.region_at(z[0])?, other.region_at(z[1])?].iter().flat_map(|region| &region.loops)
        {
            if outline.max_radius(Point::ORIGIN) > least && outline.min_radius(Point::ORIGIN) < most {
                let place = outline.0.first().map_or(Point::ORIGIN, |segment| segment.from);
                return Err(ShapeError::new(ShapeErrorKind::TwistedClearance)
                    .at(place.x, place.y, z[0])
                    .naming([feature.name.clone(), other.name.clone()]));
            }
        }
    }
    Ok(())
}
