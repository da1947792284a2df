//! All pairs of bodies: the least gap or the worst overlap of each.

use rayon::prelude::*;

use super::Unmet;
use super::body::{Body, Role, bodies};
use super::contact::{self, Contact};
use super::still;
use super::sweep::{SweptRing, rings, separation};
use crate::design::PartName;
use crate::geometry::{Point, ShapeError};
use crate::layout::Actuator;
use crate::parts::Motion;

/// Pairs that stay farther apart than this aren't listed \[mm\].
pub const REACH: f64 = 2.0;
/// Rounding of sums of heights \[mm\].
const ROUNDING: f64 = 1e-6;
/// Shared volume over what is meant that is still put down to rounding, of it and \[mm3\].
const VOLUME: (f64, f64) = (1e-3, 1e-3);

/// How a pair stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum State {
    Apart,
    /// As meant.
    Meant(Contact),
    /// They touch and should not.
    Touches,
    /// They overlap and should not, so deep \[mm\].
    Overlaps {
        depth: f64,
    },
}

impl State {
    pub fn is_wrong(self) -> bool {
        matches!(self, State::Touches | State::Overlaps { .. })
    }
}

/// Two bodies within reach; of copies the pair that comes nearest.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    pub bodies: [String; 2],
    pub state: State,
    /// Least gap; 0 where they touch or overlap; not measured for gears in mesh.
    pub gap: f64,
    /// What they share \[mm3\], meant or not; none where they turn against each other.
    pub volume: Option<f64>,
    /// Where: x, y, z; of bodies that turn against each other on the x axis of the turning one's frame.
    pub at: [f64; 3],
    /// They turn against each other.
    pub turning: bool,
}

/// Every pair within reach.
#[derive(Clone, Debug)]
pub struct Interference {
    /// Mistakes first, then by gap.
    pub meetings: Vec<Meeting>,
    /// Pairs of bodies looked at, copies counted.
    pub pairs: usize,
}

impl Interference {
    /// # Errors
    /// Bodies or sections that can't be formed.
    pub fn of(actuator: &Actuator) -> Result<Interference, Unmet> {
        Interference::among(actuator, &bodies(actuator)?)
    }

    /// Of given bodies.
    ///
    /// # Errors
    /// Sections that can't be formed.
    pub fn among(actuator: &Actuator, bodies: &[Body]) -> Result<Interference, Unmet> {
        let swept: Vec<Swept> =
            bodies.par_iter().map(|body| Swept::of(actuator, body)).collect::<Result<_, _>>()?;
        let candidates: Vec<(usize, usize)> = (0..bodies.len())
            .flat_map(|i| (i + 1..bodies.len()).map(move |j| (i, j)))
            .filter(|&(i, j)| worth_a_look(&bodies[i], &bodies[j]))
            .collect();
        let found: Vec<Meeting> = candidates
            .par_iter()
            .map(|&(i, j)| meeting(actuator, (&bodies[i], &swept[i]), (&bodies[j], &swept[j])))
            .collect::<Result<Vec<_>, ShapeError>>()?
            .into_iter()
            .flatten()
            .collect();
        let pairs = bodies.len() * bodies.len().saturating_sub(1) / 2;
        Ok(Interference { meetings: worst_of_copies(found), pairs })
    }

    /// What should not be, the deepest first.
    pub fn mistakes(&self) -> impl Iterator<Item = &Meeting> {
        self.meetings.iter().filter(|meeting| meeting.state.is_wrong())
    }
}

/// Heights and boxes say most pairs are far apart. Of what turns on the pins, the first planet stands for all: they are alike.
fn worth_a_look(a: &Body, b: &Body) -> bool {
    if separation(a.z(), b.z()) > REACH {
        return false;
    }
    match (a.motion, b.motion) {
        (Motion::Planet, Motion::Planet) => {
            a.pin == b.pin && a.pin == Some(0) || is_planet(a) && is_planet(b)
        }
        (x, y) if x == y => a.bounds.gap_to(b.bounds) <= REACH,
        // Turned planets keep their box; carried round they come by everywhere.
        (Motion::Planet, Motion::Carrier) | (Motion::Carrier, Motion::Planet) => {
            a.bounds.gap_to(b.bounds) <= REACH
        }
        (Motion::Planet, _) => a.pin == Some(0),
        (_, Motion::Planet) => b.pin == Some(0),
        // Of copies on one circle about the axis, the first sweeps what all do.
        _ => [a, b].iter().all(|body| body.copy == 0 || !on_circle(body)),
    }
}

/// Copies stand on one circle; only the board's screws needn't.
fn on_circle(body: &Body) -> bool {
    !matches!(body.role, Role::Screw(crate::design::Joint::Board) | Role::Insert(crate::design::Joint::Board))
}

fn is_planet(body: &Body) -> bool {
    body.role == Role::Printed(PartName::Planet)
}

/// What a body sweeps.
struct Swept {
    /// About the actuator's axis; of copies on one circle the first's stands for all.
    main: Vec<SweptRing>,
    /// About its own; only of what stands on a pin.
    own: Vec<SweptRing>,
}

impl Swept {
    fn of(actuator: &Actuator, body: &Body) -> Result<Swept, ShapeError> {
        let own = if body.pin.is_some() { rings(&body.stack, Point::ORIGIN)? } else { Vec::new() };
        let main = match (body.motion, body.copy) {
            (Motion::Planet, _) => {
                own.iter().map(|ring| ring.carried(actuator.stage.centre_distance)).collect()
            }
            (_, 1..) if on_circle(body) => Vec::new(),
            _ => rings(&body.stack, -own_axis(body))?,
        };
        Ok(Swept { main, own })
    }
}

fn own_axis(body: &Body) -> Point {
    Point::polar(body.place.distance, body.place.angle)
}

fn meeting(
    actuator: &Actuator,
    (a, a_swept): (&Body, &Swept),
    (b, b_swept): (&Body, &Swept),
) -> Result<Option<Meeting>, ShapeError> {
    let contact = contact::meant(actuator, a.role, b.role);
    let turning = a.motion != b.motion || (is_planet(a) && is_planet(b));
    if !turning {
        let Some(lie) = still::lie(a, b, REACH)? else { return Ok(None) };
        let (part, least) = VOLUME;
        let shared = contact.map_or(0.0, |contact| contact::shared_volume(actuator, contact, a.role, b.role));
        let pressed = contact == Some(Contact::Pressed) && lie.depth <= actuator.rings_proud() + ROUNDING;
        let state = if lie.volume > shared * (1.0 + part) + least && !pressed {
            State::Overlaps { depth: lie.depth }
        } else {
            touching(lie.gap, contact)
        };
        return Ok(Some(Meeting {
            bodies: [a.label(), b.label()],
            state,
            gap: lie.gap,
            volume: Some(lie.volume),
            at: lie.at,
            turning,
        }));
    }
    let carried =
        [a.motion, b.motion].contains(&Motion::Planet) && [a.motion, b.motion].contains(&Motion::Carrier);
    let gap = if is_planet(a) && is_planet(b) {
        Some(between_planets((a, a_swept), (b, b_swept)))
    } else if carried {
        let ((planet, own), (other, others)) = if a.motion == Motion::Planet {
            ((a, a_swept), (b, b_swept))
        } else {
            ((b, b_swept), (a, a_swept))
        };
        if other.pin == planet.pin {
            nearest(&own.own, &others.own)
        } else {
            nearest(&own.own, &rings(&other.stack, own_axis(planet) - own_axis(other))?)
        }
    } else if contact == Some(Contact::Mesh) {
        // Only the teeth are meant to meet.
        nearest(&toothless(actuator, a.role, &a_swept.main), &toothless(actuator, b.role, &b_swept.main))
    } else {
        nearest(&a_swept.main, &b_swept.main)
    };
    let meets = gap.filter(|(gap, _)| *gap <= REACH);
    let meeting =
        |state, gap, at| Meeting { bodies: [a.label(), b.label()], state, gap, volume: None, at, turning };
    Ok(match (meets, contact) {
        (Some((_, at)), Some(Contact::InMotor)) => Some(meeting(State::Meant(Contact::InMotor), 0.0, at)),
        (Some((gap, at)), _) if gap < -ROUNDING => Some(meeting(State::Overlaps { depth: -gap }, 0.0, at)),
        (_, Some(Contact::Mesh)) => Some(meeting(
            State::Meant(Contact::Mesh),
            0.0,
            [actuator.stage.centre_distance, 0.0, a.z()[0].max(b.z()[0])],
        )),
        (Some((gap, at)), contact) => Some(meeting(touching(gap, contact), gap.max(0.0), at)),
        (None, _) => None,
    })
}

/// Of bodies that don't overlap.
fn touching(gap: f64, contact: Option<Contact>) -> State {
    match contact {
        _ if gap > ROUNDING => State::Apart,
        Some(contact) => State::Meant(contact),
        None => State::Touches,
    }
}

/// Swept rings without those that carry teeth meant to mesh.
fn toothless(actuator: &Actuator, role: Role, swept: &[SweptRing]) -> Vec<SweptRing> {
    let stations = &actuator.stations;
    let toothed = match role {
        Role::Printed(PartName::RotorAdapter) => [stations.boss_front, stations.planet_front],
        Role::Printed(PartName::RingHousing) => [stations.service, stations.ring_front],
        Role::Printed(PartName::Sun | PartName::RingInsert | PartName::RingInsertBack) => {
            [f64::NEG_INFINITY, f64::INFINITY]
        }
        _ => return swept.to_vec(),
    };
    let inside = |ring: &&SweptRing| ring.z[0] < toothed[0] - ROUNDING || ring.z[1] > toothed[1] + ROUNDING;
    swept.iter().filter(inside).copied().collect()
}

/// Neighbouring planets, by the circles their tips turn in.
fn between_planets((a, a_swept): (&Body, &Swept), (b, b_swept): (&Body, &Swept)) -> (f64, [f64; 3]) {
    let reach = |swept: &Swept| swept.own.iter().map(|ring| ring.radius[1]).fold(0.0, f64::max);
    let (p, q) = (own_axis(a), own_axis(b));
    let middle = p.lerp(q, 0.5);
    (p.distance(q) - reach(a_swept) - reach(b_swept), [middle.x, middle.y, a.z()[0]])
}

/// Least gap of what two bodies sweep; of overlaps the depth as a negative gap. With the radius and height of the place.
fn nearest(a: &[SweptRing], b: &[SweptRing]) -> Option<(f64, [f64; 3])> {
    let mut least: Option<(f64, [f64; 3])> = None;
    for one in a {
        for other in b {
            let along_axis = separation(one.z, other.z);
            let along_radius = separation(one.radius, other.radius);
            let gap = if along_axis < 0.0 && along_radius < 0.0 {
                f64::max(along_axis, along_radius)
            } else {
                libm::hypot(along_axis.max(0.0), along_radius.max(0.0))
            };
            if least.is_none_or(|(best, _)| gap < best) {
                let radius = f64::max(one.radius[0], other.radius[0]);
                least = Some((gap, [radius, 0.0, f64::max(one.z[0], other.z[0])]));
            }
        }
    }
    least
}

/// A label without the copy's number.
pub fn plain(label: &str) -> &str {
    label.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end()
}

/// One meeting a pair of names: the deepest overlap, else the least gap. Copies' numbers stay in the name of the one that is kept.
fn worst_of_copies(mut found: Vec<Meeting>) -> Vec<Meeting> {
    let severity = |meeting: &Meeting| match meeting.state {
        State::Overlaps { depth } => -1.0 - depth,
        State::Touches => -1.0,
        State::Apart | State::Meant(_) => meeting.gap,
    };
    // A stable sort keeps the order of the bodies among equals.
    found.sort_by(|a, b| severity(a).total_cmp(&severity(b)));
    let mut seen = std::collections::BTreeSet::new();
    found.retain(|meeting| {
        let [a, b] = &meeting.bodies;
        seen.insert((plain(a).to_string(), plain(b).to_string()))
    });
    found
}
