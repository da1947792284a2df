//! Whether an item can leave along the axis, pair by pair: an item is in another's way, towards the front or the back, or it isn't,
//! whatever else is there.

use rayon::prelude::*;

use super::item::{Item, Kind};
use super::turning::{self, Toothed, Turning};
use crate::geometry::{Bounds, Lateral, Point, Region, Section, ShapeError};
use crate::interference::body::Layer;
use crate::interference::contact::{self, Contact, bolting};
use crate::interference::{Body, Role};
use crate::layout::Actuator;
use crate::tables::screw_head;

/// Where an item leaves to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    Front,
    Back,
}

/// A shared section narrower than this slides past \[mm\]: fits are drawn at zero.
pub(super) const SLIDES: f64 = 2e-3;
/// What overlaps in height by less isn't in the way \[mm\]: rounding.
pub(super) const ROUNDING: f64 = 1e-6;
/// Nor what is drawn pressed into each other by what the rings stand proud of their seat, and a little more.
const MORE: f64 = 0.05;
/// Room around a key's corners \[mm\] (common practice, no source).
const KEY_ROOM: f64 = 0.25;

/// Which item stands in which one's way.
#[derive(Clone, Debug)]
pub struct Obstacles {
    count: usize,
    /// By moving item and standing item.
    ways: Vec<Way>,
}

/// Towards front and back: what is in the way of the item as it moves, and of the key as its screws are turned out.
#[derive(Clone, Copy, Debug, Default)]
struct Way {
    blocked: [bool; 2],
    no_key: [bool; 2],
}

impl Obstacles {
    /// # Errors
    /// Sections that can't be formed.
    pub fn between(actuator: &Actuator, bodies: &[Body], items: &[Item]) -> Result<Obstacles, ShapeError> {
        let count = items.len();
        let company =
            Company { actuator, bodies, toothed: bodies.par_iter().map(turning::toothed).collect() };
        let pairs: Vec<(usize, usize)> =
            (0..count).flat_map(|i| (i + 1..count).map(move |j| (i, j))).collect();
        let found: Vec<[Way; 2]> = pairs
            .par_iter()
            .map(|&(i, j)| company.both_ways([&items[i], &items[j]]))
            .collect::<Result<_, ShapeError>>()?;
        let mut ways = vec![Way::default(); count * count];
        for ((i, j), [one, other]) in pairs.into_iter().zip(found) {
            ways[i * count + j] = one;
            ways[j * count + i] = other;
        }
        Ok(Obstacles { count, ways })
    }

    /// Whether `standing` keeps `moving` from leaving: in company, or alone, where screws must be turned out.
    fn stops(&self, moving: usize, standing: usize, side: Side, alone: bool) -> bool {
        let Some(way) = self.ways.get(moving * self.count + standing) else { return false };
        let side = if side == Side::Front { 0 } else { 1 };
        way.blocked[side] || (alone && way.no_key[side])
    }

    /// First of `present` that keeps the unit from leaving, and what of the unit it stops.
    pub fn blocker(&self, unit: &[usize], present: &[usize], side: Side) -> Option<(usize, usize)> {
        let alone = unit.len() == 1;
        unit.iter().find_map(|&moving| {
            let stops =
                |standing: &&usize| !unit.contains(standing) && self.stops(moving, **standing, side, alone);
            present.iter().find(stops).map(|&standing| (moving, standing))
        })
    }
}

/// All bodies, and the teeth of each.
struct Company<'a> {
    actuator: &'a Actuator,
    bodies: &'a [Body],
    toothed: Vec<Vec<Option<Toothed>>>,
}

impl Company<'_> {
    /// Each of two items as the moving one. Straight paths are alike seen from either: what keeps one from leaving to the front
    /// keeps the other from leaving to the back; toothed ones turn at their own lead and are looked at both ways.
    fn both_ways(&self, [one, other]: [&Item; 2]) -> Result<[Way; 2], ShapeError> {
        let [front, back] = self.in_the_way(one, other)?;
        let of_other = if self.is_toothed(one) || self.is_toothed(other) {
            self.in_the_way(other, one)?
        } else {
            [back, front]
        };
        let no_keys = |moving: &Item, standing: &Item| -> Result<[bool; 2], ShapeError> {
            Ok([
                no_key(self.actuator, self.bodies, moving, standing, Side::Front)?,
                no_key(self.actuator, self.bodies, moving, standing, Side::Back)?,
            ])
        };
        // Nothing is pulled off a screw that stands in its thread; the screw turns out of it.
        let threaded = |moving: &Item, standing: &Item| {
            matches!(standing.kind, Kind::Screws(_))
                && !matches!(moving.kind, Kind::Screws(_))
                && is_threaded(self.actuator, self.bodies, moving, standing)
        };
        let way = |moving: &Item, standing: &Item, [front, back]: [bool; 2]| -> Result<Way, ShapeError> {
            let held = threaded(moving, standing);
            Ok(Way { blocked: [front || held, back || held], no_key: no_keys(moving, standing)? })
        };
        Ok([way(one, other, [front, back])?, way(other, one, of_other)?])
    }

    fn is_toothed(&self, item: &Item) -> bool {
        let twisted = |toothed: &Vec<Option<Toothed>>| toothed.iter().any(Option::is_some);
        item.bodies.iter().filter_map(|&index| self.toothed.get(index)).any(twisted)
    }

    /// Whether the standing item is in the moving one's way to the front, and to the back.
    fn in_the_way(&self, moving: &Item, standing: &Item) -> Result<[bool; 2], ShapeError> {
        let mut blocked = [false; 2];
        for &index in &moving.bodies {
            let (Some(a), Some(toothed)) = (self.bodies.get(index), self.toothed.get(index)) else {
                continue;
            };
            for b in standing.bodies.iter().filter_map(|&index| self.bodies.get(index)) {
                // The first planet with what is on its pin stands for all.
                if [a, b].iter().any(|body| body.pin.is_some_and(|pin| pin > 0)) {
                    continue;
                }
                let meant = contact::meant(self.actuator, a.role, b.role);
                if matches!(meant, Some(Contact::Thread | Contact::InMotor | Contact::Insert)) {
                    continue;
                }
                let pressed = meant == Some(Contact::Pressed);
                let slack = if pressed { self.actuator.rings_proud() + MORE } else { ROUNDING };
                meet((a, toothed), b, slack, &mut blocked)?;
                if blocked == [true; 2] {
                    return Ok(blocked);
                }
            }
        }
        Ok(blocked)
    }
}

fn is_threaded(actuator: &Actuator, bodies: &[Body], one: &Item, other: &Item) -> bool {
    let role = |item: &Item, index: usize| {
        item.bodies.get(index).and_then(|&body| bodies.get(body)).map(|body| body.role)
    };
    let Some(screw) = role(other, 0) else { return false };
    (0..one.bodies.len())
        .filter_map(|index| role(one, index))
        .any(|role| contact::meant(actuator, role, screw) == Some(Contact::Thread))
}

/// Whether the keys of a joint's screws run into the standing item; always, on the side where no head is.
fn no_key(
    actuator: &Actuator,
    bodies: &[Body],
    moving: &Item,
    standing: &Item,
    side: Side,
) -> Result<bool, ShapeError> {
    if !matches!(moving.kind, Kind::Screws(_)) {
        return Ok(false);
    }
    for screw in moving.bodies.iter().filter_map(|&index| bodies.get(index)) {
        if leaves_to(screw) != side {
            return Ok(true);
        }
        for body in standing.bodies.iter().filter_map(|&index| bodies.get(index)) {
            if key_meets(actuator, screw, body, side)? {
                return Ok(true);
            }
        }
    }
    Ok(false)
}

/// The side a screw comes out to: where its head is, the wider end.
pub fn leaves_to(screw: &Body) -> Side {
    let width = |layer: Option<&Layer>| layer.map_or(0.0, |layer| layer.bounds.high.x - layer.bounds.low.x);
    // A button head's crown is narrower than its rim but still wider than any shank.
    if width(screw.layers.first()) > width(screw.layers.last()) { Side::Back } else { Side::Front }
}

/// Whether a layer is still to be passed.
fn ahead(moving: [f64; 2], standing: [f64; 2], side: Side, slack: f64) -> bool {
    match side {
        Side::Front => standing[1] > moving[0] + slack,
        Side::Back => standing[0] < moving[1] - slack,
    }
}

/// Notes the sides to which `b` is in the way of `a`.
fn meet(
    (a, toothed): (&Body, &[Option<Toothed>]),
    b: &Body,
    slack: f64,
    blocked: &mut [bool; 2],
) -> Result<(), ShapeError> {
    if a.bounds.gap_to(b.bounds) > 0.0 {
        return Ok(());
    }
    let mut turning = Turning::new(a, toothed);
    for (i, moving) in a.layers.iter().enumerate() {
        for (j, standing) in b.layers.iter().enumerate() {
            let far = moving.bounds.gap_to(standing.bounds) > 0.0 || moving.nested(standing, SLIDES);
            let asked = [Side::Front, Side::Back]
                .map(|side| !far && !blocked[side as usize] && ahead(moving.z, standing.z, side, slack));
            if asked == [false; 2] {
                continue;
            }
            let hits = match moving.twist {
                Some(_) => turning.meets(i, (j, standing), asked)?,
                None => pass((a, i, moving), (b, j, standing), asked, slack)?,
            };
            *blocked = [blocked[0] || hits[0], blocked[1] || hits[1]];
            if *blocked == [true; 2] {
                return Ok(());
            }
        }
    }
    Ok(())
}

/// Whether a layer runs into another that is ahead of it, to each side that is asked about.
fn pass(
    moving: (&Body, usize, &Layer),
    standing: (&Body, usize, &Layer),
    asked: [bool; 2],
    slack: f64,
) -> Result<[bool; 2], ShapeError> {
    // What is apart in plan is apart at every height.
    if let (Some(one), Some(other)) = (moving.2.silhouette(), standing.2.silhouette())
        && !overlap(one, other).unwrap_or(true)
    {
        return Ok([false; 2]);
    }
    // Straight walls meet alike to either side.
    let mut lows = None;
    let mut hits = asked;
    for (side, hits) in [Side::Front, Side::Back].into_iter().zip(&mut hits) {
        *hits = *hits && passes(moving, standing, side, slack, &mut lows)?;
    }
    Ok(hits)
}

/// Whether a layer runs into another to one side. Each height of the moving one passes all heights of the other that are ahead of
/// that; a tapered wall is widest at an end of them. `lows` keeps whether the lower ends overlap.
fn passes(
    (a, i, moving): (&Body, usize, &Layer),
    (b, j, standing): (&Body, usize, &Layer),
    side: Side,
    slack: f64,
    lows: &mut Option<bool>,
) -> Result<bool, ShapeError> {
    let mut lows_overlap = || -> Result<bool, ShapeError> {
        let hits = lows.map_or_else(|| overlap(moving.low(), standing.low()), Ok)?;
        *lows = Some(hits);
        Ok(hits)
    };
    let steep = moving.straight_near(standing, 0.0);
    let wall = standing.straight_near(moving, 0.0);
    let [from, to] = moving.z;
    // No shared heights: silhouettes alone count.
    if standing.z[0] >= to || standing.z[1] <= from {
        return Ok(lows_overlap()?
            || (!wall && overlap(moving.low(), standing.high())?)
            || (!steep && overlap(moving.high(), standing.low())?)
            || (!steep && !wall && overlap(moving.high(), standing.high())?));
    }
    let heights = match (steep, side) {
        // The end that trails passes all that the rest does.
        (true, Side::Front) => vec![from],
        (true, Side::Back) => vec![to],
        (false, _) => (0..5).map(|step| from + (to - from) * f64::from(step) / 4.0).collect(),
    };
    for z in heights {
        let passed = match side {
            Side::Front => [f64::max(standing.z[0], z), standing.z[1]],
            Side::Back => [standing.z[0], f64::min(standing.z[1], z)],
        };
        if passed[1] - passed[0] < slack {
            continue;
        }
        if steep && wall {
            if lows_overlap()? {
                return Ok(true);
            }
            continue;
        }
        let cut;
        let own = if steep {
            moving.low()
        } else {
            cut = a.section_near(i, z, standing, 0.0)?;
            &cut
        };
        if wall {
            if overlap(own, standing.low())? {
                return Ok(true);
            }
            continue;
        }
        for end in passed {
            if overlap(own, &b.section_near(j, end, moving, 0.0)?)? {
                return Ok(true);
            }
        }
    }
    Ok(false)
}

/// Whether two sections share more than a strip.
pub(super) fn overlap(a: &Section, b: &Section) -> Result<bool, ShapeError> {
    // From the quickest answer to the slowest; most pairs are concentric or apart.
    if a.nested(b, SLIDES) || a.rims(b, SLIDES) || a.lateral(b, 0.0) != Lateral::Meets {
        return Ok(false);
    }
    if a.surely_overlaps(b) {
        return Ok(true);
    }
    let shared = a.shared(b)?;
    let perimeter = shared.perimeter();
    Ok(perimeter > 0.0 && 2.0 * shared.area() / perimeter > SLIDES)
}

/// Width across corners of a screw's key with its room.
pub fn key_diameter(actuator: &Actuator, screw: &Body) -> f64 {
    let Role::Screw(joint) = screw.role else { return 0.0 };
    let Some(bolting) = bolting(actuator, joint) else { return 0.0 };
    let hex =
        screw_head(bolting.head, bolting.thread).map_or(0.8 * bolting.thread.nominal(), |head| head.hex);
    2.0 * hex / 3f64.sqrt() + 2.0 * KEY_ROOM
}

/// Whether the key, from the head outwards, runs into a body.
fn key_meets(actuator: &Actuator, screw: &Body, body: &Body, side: Side) -> Result<bool, ShapeError> {
    let centre = Point::polar(screw.place.distance, screw.place.angle);
    let radius = key_diameter(actuator, screw) / 2.0;
    let corner = Point::new(radius, radius);
    let bounds = Bounds::of(centre - corner, centre + corner);
    if bounds.gap_to(body.bounds) > 0.0 {
        return Ok(false);
    }
    let key = Section::of(Region::disc(centre, radius));
    let z = screw.z();
    for layer in &body.layers {
        // From the head's top on.
        let beyond = match side {
            Side::Front => layer.z[1] > z[1] + ROUNDING,
            Side::Back => layer.z[0] < z[0] - ROUNDING,
        };
        if beyond && (overlap(&key, layer.low())? || (!layer.straight() && overlap(&key, layer.high())?)) {
            return Ok(true);
        }
    }
    Ok(false)
}
