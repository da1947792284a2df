//! A toothed body leaves turning at its own lead, so that at every height its section stays as it is.

use super::path::{ROUNDING, SLIDES, overlap};
use crate::geometry::{Bounds, Loop, Point, Region, Section, ShapeError, Slab, SlabLoop, Wall};
use crate::interference::Body;
use crate::interference::body::Layer;

/// A toothed layer, and what of it stays the same whatever it passes.
#[derive(Clone, Debug)]
pub struct Toothed {
    twist: f64,
    /// Radii its material turns between, about its own axis.
    extent: [f64; 2],
    /// Radii between which it is solid all round; none where it has more than an outside and a bore.
    solid: Option<[f64; 2]>,
    /// Greatest radius of what doesn't twist, about its own axis.
    plain: f64,
    /// All that doesn't twist is round, so that turning the section by the lead is all there is between heights.
    turns_as_one: bool,
    /// The first layer whose teeth these go on from: all of them look alike at one height.
    teeth: usize,
}

/// Of each layer of a body that has teeth.
pub fn toothed(body: &Body) -> Vec<Option<Toothed>> {
    let slabs = &body.stack.slabs;
    let mut found: Vec<Option<Toothed>> = Vec::with_capacity(slabs.len());
    for (index, (slab, layer)) in slabs.iter().zip(&body.layers).enumerate() {
        let toothed = layer.twist.and_then(|twist| {
            let (inner, outer) = slab.bottom().radial_extent()?;
            let goes_on = |(below, other): (usize, &Option<Toothed>)| {
                let other = other.as_ref()?;
                (other.twist == twist && same_teeth(slabs.get(other.teeth)?, slab, twist)).then_some(below)
            };
            Some(Toothed {
                twist,
                extent: [inner, outer],
                solid: solid_ring(slab),
                plain: plain(slab).map(|one| one.bottom.max_radius(Point::ORIGIN)).fold(0.0, f64::max),
                turns_as_one: plain(slab).all(is_centred),
                teeth: found.iter().enumerate().find_map(goes_on).unwrap_or(index),
            })
        });
        found.push(toothed);
    }
    found
}

fn is_twisted(one: &SlabLoop) -> bool {
    matches!(one.wall, Wall::Twisted { .. })
}

/// Loops without teeth.
fn plain(slab: &Slab) -> impl Iterator<Item = &SlabLoop> {
    slab.loops.iter().filter(|one| !is_twisted(one))
}

fn is_centred(one: &SlabLoop) -> bool {
    one.bottom.as_circle().is_some_and(|(centre, ..)| centre.norm() < ROUNDING)
}

/// Whether the teeth of one slab are those of another, turned on: outlines of one gear start at one place.
fn same_teeth(one: &Slab, other: &Slab, twist: f64) -> bool {
    let teeth = |slab: &Slab| -> Option<(Point, usize)> {
        let mut twisted = slab.loops.iter().filter(|one| is_twisted(one));
        let only = twisted.next().filter(|_| twisted.next().is_none())?;
        Some((only.bottom.0.first()?.from.rotated(-twist * slab.z[0]), only.bottom.0.len()))
    };
    let (Some(a), Some(b)) = (teeth(one), teeth(other)) else { return false };
    a.1 == b.1 && a.0.distance(b.0) < ROUNDING
}

/// Radii between which a slab is solid all round: from its bore to its outside, or to the first of its other holes.
fn solid_ring(slab: &Slab) -> Option<[f64; 2]> {
    let (outside, holes): (Vec<_>, Vec<_>) =
        slab.loops.iter().map(|one| &one.bottom).partition(|one| one.runs_ccw());
    let [outside] = outside.as_slice() else { return None };
    let (bores, holes): (Vec<&Loop>, Vec<&Loop>) =
        holes.into_iter().partition(|one| one.winding(Point::ORIGIN) != 0);
    let inner = match bores.as_slice() {
        [] => 0.0,
        [bore] => bore.max_radius(Point::ORIGIN),
        _ => return None,
    };
    let nearest = |one: &Loop| one.min_radius(Point::ORIGIN);
    let outer = holes.into_iter().map(nearest).fold(nearest(outside), f64::min);
    (outer > inner + SLIDES).then_some([inner, outer])
}

/// A toothed body on its way past another.
pub struct Turning<'a> {
    body: &'a Body,
    toothed: &'a [Option<Toothed>],
    /// Teeth at a height against an end of a layer, and whether they met.
    known: Vec<(Pose, bool)>,
}

#[derive(Clone, Copy, PartialEq)]
struct Pose {
    teeth: usize,
    standing: usize,
    z: f64,
    high: bool,
}

impl<'a> Turning<'a> {
    pub fn new(body: &'a Body, toothed: &'a [Option<Toothed>]) -> Turning<'a> {
        Turning { body, toothed, known: Vec::new() }
    }

    /// Whether a layer runs into a standing one, to each side that is asked about.
    pub fn meets(
        &mut self,
        layer: usize,
        (index, standing): (usize, &Layer),
        asked: [bool; 2],
    ) -> Result<[bool; 2], ShapeError> {
        let (Some(Some(toothed)), Some(moving)) = (self.toothed.get(layer), self.body.layers.get(layer))
        else {
            return Ok([false; 2]);
        };
        // What stays out of the circles its material turns between isn't met; what comes between its feet is.
        if !self.turns_through(toothed.extent, standing) {
            return Ok([false; 2]);
        }
        let only_teeth = self.only_teeth(layer, toothed, moving, standing);
        let [front, back] = asked;
        // Of a twisted section the ends are known; in between both turn alike or one is round.
        let high = !standing.straight();
        let first = (standing.z[0], false);
        let to_front = (standing.z[1], high);
        let to_back = (if high { standing.z[1] } else { f64::min(standing.z[1], moving.z[1]) }, high);
        let mut hits = |(z, high): (f64, bool)| self.hits(layer, (index, standing), z, high, only_teeth);
        if hits(first)? {
            return Ok(asked);
        }
        Ok([front && hits(to_front)?, back && hits(to_back)?])
    }

    /// Whether a standing layer has anything between two circles about the body's axis.
    fn turns_through(&self, radii: [f64; 2], standing: &Layer) -> bool {
        let reaches = |section: &Section| section.reaches_between(self.centre(), radii, SLIDES);
        reaches(standing.low()) || (!standing.straight() && reaches(standing.high()))
    }

    fn centre(&self) -> Point {
        Point::polar(self.body.place.distance, self.body.place.angle)
    }

    /// Box of what the layer turns through, and its radii from the actuator's axis.
    fn swept(&self, toothed: &Toothed) -> Bounds {
        let corner = Point::new(toothed.extent[1], toothed.extent[1]);
        Bounds::of(self.centre() - corner, self.centre() + corner)
    }

    fn radii(&self, toothed: &Toothed) -> [f64; 2] {
        let ([inner, outer], distance) = (toothed.extent, self.body.place.distance);
        if distance == 0.0 { [inner, outer] } else { [(distance - outer).max(0.0), distance + outer] }
    }

    /// Whether the standing layer keeps clear of all of the moving one's loops but the teeth.
    fn only_teeth(&self, layer: usize, toothed: &Toothed, moving: &Layer, standing: &Layer) -> bool {
        if self.body.place.distance > 0.0 {
            return toothed.turns_as_one
                && (toothed.plain == 0.0 || !self.turns_through([0.0, toothed.plain], standing));
        }
        let Some(slab) = self.body.stack.slabs.get(layer) else { return false };
        let [least, most] = standing.radius();
        let clear = |[inner, outer]: [f64; 2]| outer < least || inner > most;
        slab.loops.iter().zip(moving.loop_radii()).all(|(one, radius)| is_twisted(one) || clear(radius))
    }

    /// Whether the layer, turned on to a height, overlaps the standing one's section there.
    fn hits(
        &mut self,
        layer: usize,
        (index, standing): (usize, &Layer),
        z: f64,
        high: bool,
        only_teeth: bool,
    ) -> Result<bool, ShapeError> {
        let (Some(Some(toothed)), Some(moving), Some(slab)) =
            (self.toothed.get(layer), self.body.layers.get(layer), self.body.stack.slabs.get(layer))
        else {
            return Ok(false);
        };
        let pose = Pose { teeth: toothed.teeth, standing: index, z, high };
        let known = self.known.iter().find(|(known, _)| *known == pose);
        if let Some((_, hits)) = known.filter(|_| only_teeth) {
            return Ok(*hits);
        }
        let section = if high { standing.high() } else { standing.low() };
        if let Some(solid) = toothed.solid
            && section.reaches_between(self.centre(), solid, SLIDES)
        {
            return Ok(true);
        }
        let turn = toothed.twist * (z - slab.z[0]);
        // Where only what doesn't twist comes near, no turn is needed; else the other turned back is the same, and mostly has
        // fewer edges.
        let hits = if self.misses_teeth(slab, moving, standing) {
            overlap(moving.low(), section)?
        } else if toothed.turns_as_one || only_teeth {
            let centre = self.centre();
            let near = section.within(self.swept(toothed), self.radii(toothed));
            let back = near.translated(-centre).rotated(-turn).translated(centre);
            overlap(moving.low(), &Section::of(back))?
        } else {
            overlap(&continued(self.body, slab, turn), section)?
        };
        if only_teeth {
            self.known.push((pose, hits));
        }
        Ok(hits)
    }

    /// Whether the standing layer is clear of the teeth, about the common axis.
    fn misses_teeth(&self, slab: &Slab, moving: &Layer, standing: &Layer) -> bool {
        let [least, most] = standing.radius();
        let clear = |[inner, outer]: [f64; 2]| outer < least || inner > most;
        self.body.place.distance == 0.0
            && slab
                .loops
                .iter()
                .zip(moving.loop_radii())
                .all(|(one, radius)| !is_twisted(one) || clear(radius))
    }
}

/// The section a layer would have where its teeth are turned on, if it went on to there.
fn continued(body: &Body, slab: &Slab, turn: f64) -> Section {
    let loops = slab
        .loops
        .iter()
        .map(|one| if is_twisted(one) { one.bottom.rotated(turn) } else { one.bottom.clone() });
    let region = Region { loops: loops.collect() }.rotated(body.place.turn);
    Section::of(region.translated(Point::polar(body.place.distance, body.place.angle)))
}
