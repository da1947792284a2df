//! Screws, inserts and holes, measured on the bodies: what the layout meant must be what the parts have.

use rayon::prelude::*;

use crate::bom::{BillOfMaterials, Kind, place};
use crate::design::Joint;
use crate::geometry::{Lateral, Point, Section, ShapeError};
use crate::interference::contact::{bolting, clamped, host};
use crate::interference::{Body, Role};
use crate::layout::Actuator;
use crate::parts::Motion;
use crate::tables::ScrewStandard;

/// Holes up to this diameter are for screws, inserts or pins \[mm\].
const LARGEST_HOLE: f64 = 8.5;
/// Axes nearer than this are one \[mm\].
const COAXIAL: f64 = 0.01;
/// Room around a head that isn't looked beyond \[mm\].
const REACH: f64 = 3.0;

/// The least of something, and whose it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Least {
    pub value: f64,
    pub whose: String,
}

/// What was measured.
#[derive(Clone, Debug)]
pub struct Fastening {
    /// Thread in the anchor, of what the anchor offers.
    pub reach: Option<Least>,
    /// From a screw's tip to the bottom of its hole \[mm\].
    pub tip: Option<Least>,
    /// From a head to the wall of its pocket \[mm\].
    pub head: Option<Least>,
    /// Plastic around an insert's hole \[mm\].
    pub wall: Option<Least>,
    /// Screws without holes, holes without screws, bodies the bill of materials doesn't count.
    pub unmatched: Vec<String>,
}

fn keep(least: &mut Option<Least>, value: f64, whose: String) {
    if least.as_ref().is_none_or(|known| value < known.value) {
        *least = Some(Least { value, whose });
    }
}

fn axis(body: &Body) -> Point {
    Point::polar(body.place.distance, body.place.angle)
}

impl Fastening {
    /// # Errors
    /// A section that can't be formed.
    pub fn of(actuator: &Actuator, bodies: &[Body], bom: &BillOfMaterials) -> Result<Fastening, ShapeError> {
        let mut found = Fastening { reach: None, tip: None, head: None, wall: None, unmatched: Vec::new() };
        for joint in actuator.joints.iter() {
            // The link's bolts are chosen to suit it, the machine's belong to it.
            if !matches!(joint.joint, Joint::Machine | Joint::Output) {
                let share = joint.engagement() / joint.engagement_wanted();
                keep(
                    &mut found.reach,
                    share,
                    format!("{} screw, {:.1} mm", place(joint.joint), joint.engagement()),
                );
            }
        }
        for body in bodies {
            match body.role {
                Role::Screw(joint) => screw(actuator, bodies, body, joint, &mut found)?,
                Role::Insert(joint) => insert(actuator, bodies, body, joint, &mut found)?,
                _ => {}
            }
        }
        found.unmatched.extend(counts(actuator, bodies, bom));
        let empty: Vec<String> = bodies.par_iter().filter_map(|body| empty_hole(bodies, body)).collect();
        found.unmatched.extend(empty);
        Ok(found)
    }
}

/// Tip room, head room, and the hole it passes.
fn screw(
    actuator: &Actuator,
    bodies: &[Body],
    screw: &Body,
    joint: Joint,
    found: &mut Fastening,
) -> Result<(), ShapeError> {
    let Some(bolting) = bolting(actuator, joint) else { return Ok(()) };
    let ([back, front], centre) = (screw.z(), axis(screw));
    let forward = crate::assembly::path::leaves_to(screw) == crate::assembly::path::Side::Back;
    if let Some(part) =
        bodies.iter().find(|body| body.role == Role::Printed(host(joint)) && has_anchor(joint))
    {
        // The first material on the screw's axis beyond its tip.
        let bottom = part.layers.iter().filter(|layer| layer.low().contains(centre));
        let room = match forward {
            true => bottom
                .filter(|layer| layer.z[1] > front)
                .map(|layer| layer.z[0] - front)
                .fold(f64::INFINITY, f64::min),
            false => bottom
                .filter(|layer| layer.z[0] < back)
                .map(|layer| back - layer.z[1])
                .fold(f64::INFINITY, f64::min),
        };
        if room.is_finite() {
            keep(&mut found.tip, room, screw.label());
        }
    }
    for part in
        bodies.iter().filter(|body| clamped(joint).iter().any(|&name| body.role == Role::Printed(name)))
    {
        let passes = part.layers.iter().any(|layer| layer.z[0] < front && layer.z[1] > back);
        let filled = part.layers.iter().any(|layer| {
            layer.z[0] < front - 1e-6 && layer.z[1] > back + 1e-6 && layer.low().contains(centre)
        });
        if passes && filled {
            found.unmatched.push(format!("{} finds no hole in {}", screw.label(), part.name));
        }
        if bolting.head != ScrewStandard::Countersunk
            && let Some(room) = head_room(screw, part, forward, bolting.head_height)
        {
            keep(&mut found.head, room, format!("{} in {}", screw.label(), part.name));
        }
    }
    Ok(())
}

/// Whether a joint's inserts sit in the actuator's own parts.
fn has_anchor(joint: Joint) -> bool {
    !matches!(joint, Joint::MotorToMount | Joint::AdapterToRotor)
}

/// From the head's rim to the part around it, at the head's foot.
fn head_room(screw: &Body, part: &Body, forward: bool, height: f64) -> Option<f64> {
    let [back, front] = screw.z();
    let z = if forward { back + 0.9 * height } else { front - 0.9 * height };
    let around = part.layers.iter().find(|layer| layer.z[0] < z && layer.z[1] > z)?;
    let head = screw.layers.iter().find(|layer| layer.z[0] < z && layer.z[1] > z)?;
    match head.high().lateral(around.low(), REACH) {
        Lateral::Apart(gap, _) => Some(gap),
        Lateral::Meets => Some(0.0),
        Lateral::Far => None,
    }
}

/// Plastic around an insert, and that it has its hole.
fn insert(
    actuator: &Actuator,
    bodies: &[Body],
    insert: &Body,
    joint: Joint,
    found: &mut Fastening,
) -> Result<(), ShapeError> {
    let Some(part) = bodies.iter().find(|body| body.role == Role::Printed(host(joint))) else {
        return Ok(());
    };
    let Some(bolting) = bolting(actuator, joint) else { return Ok(()) };
    let (centre, [back, front], radius) = (axis(insert), insert.z(), bolting.hole_diameter() / 2.0);
    // Its lead-in widens the hole where it opens.
    let lead_in = 0.4;
    for (index, layer) in part.layers.iter().enumerate() {
        let (from, to) = (f64::max(layer.z[0], back + lead_in), f64::min(layer.z[1], front - lead_in));
        if to - from < 1e-6 {
            continue;
        }
        let section = part.section_near(index, (from + to) / 2.0, layer, REACH)?;
        if section.contains(centre) {
            found.unmatched.push(format!("{} finds no hole in {}", insert.label(), part.name));
        } else {
            keep(&mut found.wall, wall(&section, centre, radius), insert.label());
        }
    }
    Ok(())
}

/// From a round hole to the nearest other boundary.
fn wall(section: &Section, centre: Point, radius: f64) -> f64 {
    let own = |outline: &&crate::geometry::Loop| {
        !outline
            .as_circle()
            .is_some_and(|(at, size, _)| at.distance(centre) < COAXIAL && (size - radius).abs() < 0.5)
    };
    let boundaries = section.region.loops.iter().filter(own).flat_map(|outline| &outline.0);
    boundaries.map(|segment| segment.nearest(centre).distance(centre) - radius).fold(f64::INFINITY, f64::min)
}

/// As many bodies as the bill of materials counts, but for the link's bolts.
fn counts(actuator: &Actuator, bodies: &[Body], bom: &BillOfMaterials) -> Vec<String> {
    let listed = |kind: Kind| -> usize {
        bom.items.iter().filter(|item| item.kind == kind).map(|item| item.quantity as usize).sum()
    };
    let drawn = |is: fn(Role) -> bool| bodies.iter().filter(|body| is(body.role)).count();
    let of_link = actuator.joints.output.count as usize;
    [
        ("screws", drawn(|role| matches!(role, Role::Screw(_))) + of_link, listed(Kind::Fastener)),
        ("inserts", drawn(|role| matches!(role, Role::Insert(_))), listed(Kind::Insert)),
        ("pins", drawn(|role| role == Role::Pin), listed(Kind::Pin)),
    ]
    .into_iter()
    .filter(|(_, drawn, listed)| drawn != listed)
    .map(|(what, drawn, listed)| format!("{drawn} {what} in the actuator, {listed} in the bill of materials"))
    .collect()
}

/// A small round hole on whose axis nothing stands.
fn empty_hole(bodies: &[Body], part: &Body) -> Option<String> {
    let Role::Printed(_) = part.role else { return None };
    if part.motion == Motion::Planet {
        return None;
    }
    let used = |at: Point| {
        at.distance(axis(part)) < COAXIAL
            || bodies
                .iter()
                .filter(|body| matches!(body.role, Role::Screw(_) | Role::Insert(_) | Role::Pin))
                .any(|body| axis(body).distance(at) < COAXIAL)
    };
    part.layers.iter().find_map(|layer| {
        let hole = layer
            .low()
            .region
            .loops
            .iter()
            .filter_map(|outline| outline.as_circle())
            .find(|(at, radius, ccw)| !ccw && 2.0 * radius <= LARGEST_HOLE && !used(*at))?;
        let (at, radius, _) = hole;
        Some(format!(
            "{}: a hole of {:.1} at x = {:.1}, y = {:.1}, z = {:.1} takes nothing",
            part.name,
            2.0 * radius,
            at.x,
            at.y,
            layer.z[0]
        ))
    })
}
