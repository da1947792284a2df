//! What is handled as one piece on the bench: bodies of one name, inserts with the part they are melted into, bearings whole.

use crate::design::{Joint, PartName};
use crate::interference::{Body, Role, contact};
use crate::layout::Actuator;

/// What an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    Part(PartName),
    Screws(Joint),
    Motor,
    Magnet,
    Board,
    Pins,
    /// Of the output, the first at the back.
    OutputBearing(u8),
    BackBearings,
    FrontBearings,
    Bushes,
}

/// One piece, or alike ones that are handled together.
#[derive(Clone, Debug)]
pub struct Item {
    pub kind: Kind,
    pub name: String,
    pub count: usize,
    /// Indices into the bodies.
    pub bodies: Vec<usize>,
}

/// Items in the order of their kinds.
pub fn items(actuator: &Actuator, bodies: &[Body]) -> Vec<Item> {
    let mut found: Vec<Item> = Vec::new();
    for (index, body) in bodies.iter().enumerate() {
        let kind = kind(actuator, body);
        match found.iter_mut().find(|item| item.kind == kind) {
            Some(item) => item.bodies.push(index),
            None => found.push(Item { kind, name: name(kind, body), count: 1, bodies: vec![index] }),
        }
    }
    found.sort_by_key(|item| item.kind);
    for item in &mut found {
        item.count = item.bodies.iter().filter(|&&index| bodies.get(index).is_some_and(counts)).count();
    }
    found
}

/// Of a bearing the outer ring is counted, of a motor the stator; inserts belong to their part.
fn counts(body: &Body) -> bool {
    !matches!(body.role, Role::OutputInnerRing | Role::PlanetInnerRing | Role::Rotor | Role::Insert(_))
}

fn kind(actuator: &Actuator, body: &Body) -> Kind {
    let second = |z: f64, first: f64| z > first + 1e-6;
    match body.role {
        Role::Printed(part) => Kind::Part(part),
        Role::Screw(joint) => Kind::Screws(joint),
        Role::Insert(joint) => Kind::Part(contact::host(joint)),
        Role::Stator | Role::Rotor => Kind::Motor,
        Role::Magnet => Kind::Magnet,
        Role::Board => Kind::Board,
        Role::Pin => Kind::Pins,
        Role::OutputInnerRing | Role::OutputOuterRing => {
            Kind::OutputBearing(1 + u8::from(second(body.z()[0], actuator.stations.bearing_back)))
        }
        Role::PlanetInnerRing | Role::PlanetOuterRing => {
            let back = actuator.stations.planet_back + actuator.planet.lip_thickness;
            if second(body.z()[0], back) { Kind::FrontBearings } else { Kind::BackBearings }
        }
        Role::Bush => Kind::Bushes,
    }
}

fn name(kind: Kind, body: &Body) -> String {
    let whole = |name: &str| name.trim_end_matches(" inner ring").trim_end_matches(" outer ring").to_string();
    match kind {
        Kind::Part(part) => part.as_str().to_string(),
        Kind::Motor => "motor".to_string(),
        _ => whole(&body.name),
    }
}
