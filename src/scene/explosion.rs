//! The exploded view: bodies move along the axis in the order in which they are stacked; screws farther, on the side their
//! heads are on; inserts with the part they sit in.

use super::Thing;
use crate::bom::Kind;
use crate::bought::screws::{Points, seat};
use crate::layout::{Actuator, Bolting};

/// One step apart, of the actuator's height.
const STEP: f64 = 0.14;
/// How many steps a screw goes beyond the part its head lies on.
const BEYOND: f64 = 0.6;

/// Steps from the base, by the beginning of a name; the longest that fits counts, so that a planet's washer isn't taken for
/// the planet.
const STEPS: [(&str, f64); 24] = [
    ("vented-base", 0.0),
    ("controller board", 4.4),
    ("encoder magnet", 5.2),
    ("magnet-cup", 5.6),
    ("stator-mount", 6.2),
    ("motor stator", 7.0),
    ("motor rotor", 7.4),
    ("rotor-adapter", 9.0),
    ("sun", 10.0),
    ("carrier-back-plate", 10.9),
    ("planet bearing", 11.5),
    ("planet", 12.3),
    ("planet bush", 13.2),
    ("planet-sleeve", 13.0),
    ("planet-washer", 14.0),
    ("planet pin", 14.5),
    ("output-carrier", 15.1),
    ("bearing-keeper", 17.2),
    ("output bearing", 18.0),
    ("inner-spacer", 18.0),
    ("outer-spacer", 18.0),
    ("ring-insert", 19.4),
    ("ring-housing", 20.8),
    ("output-clamp-ring", 22.8),
];

fn steps(name: &str) -> f64 {
    let fitting = STEPS.iter().filter(|(start, _)| name.starts_with(start));
    let steps = fitting.max_by_key(|(start, _)| start.len()).map_or(0.0, |(_, steps)| *steps);
    // The front bearing of a planet stands in front of it.
    if name.starts_with("planet bearing") && name.contains("front") { steps + 1.5 } else { steps }
}

/// Parts of a joint: the one under the screw's head, the one that holds the insert.
fn parts(joint: &Bolting) -> [&'static str; 2] {
    use crate::design::Joint::*;
    match joint.joint {
        Machine => ["vented-base", "vented-base"],
        StatorMount => ["stator-mount", "vented-base"],
        Service => ["ring-housing", "vented-base"],
        MotorToMount => ["stator-mount", "motor stator"],
        AdapterToRotor => ["rotor-adapter", "motor rotor"],
        Sun => ["sun", "rotor-adapter"],
        Keeper => ["bearing-keeper", "ring-housing"],
        Pillars => ["carrier-back-plate", "output-carrier"],
        ClampRing | Output => ["output-clamp-ring", "output-carrier"],
        RingInsert => ["ring-insert", "ring-housing"],
        Board => ["controller board", "vented-base"],
    }
}

/// Sets how far each thing moves.
pub(super) fn pull_apart(actuator: &Actuator, things: &mut [Thing]) {
    let step = STEP * actuator.stations.output_face;
    for thing in things.iter_mut() {
        thing.apart = step * steps(&thing.name);
    }
    for joint in actuator.joints.iter() {
        let place = crate::bom::place(joint.joint);
        let [under_head, anchored] = parts(joint);
        let side = match seat(actuator, joint.joint).map(|seat| seat.points) {
            Some(Points::Front) => -1.0,
            Some(Points::Back) | None => 1.0,
        };
        for thing in things.iter_mut().filter(|thing| thing.name.ends_with(place)) {
            match thing.kind {
                Kind::Fastener => thing.apart = step * (steps(under_head) + side * BEYOND),
                Kind::Insert => thing.apart = step * steps(anchored),
                _ => {}
            }
        }
    }
}
