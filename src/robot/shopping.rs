//! One shopping list for the whole robot: the bills of its joints added up, what is bought alike in one line.
//!
//! Columns are those of a joint's bill of materials. Printed parts keep a line each, since each has its file; the note says
//! which joint needs how many, and what each joint's bill notes (tightening torques differ from joint to joint).

use super::made::MadeJoint;
use crate::bom::{BillOfMaterials, Item, Kind};

/// Kinds in the order of the list.
const ORDER: [Kind; 10] = [
    Kind::Motor,
    Kind::Controller,
    Kind::Magnet,
    Kind::Gear,
    Kind::Bearing,
    Kind::Pin,
    Kind::Fastener,
    Kind::Insert,
    Kind::Consumable,
    Kind::Printed,
];

/// A use of an item in a joint.
struct Use<'a> {
    joint: &'a MadeJoint,
    item: &'a Item,
}

/// The list.
pub fn shopping(joints: &[MadeJoint]) -> BillOfMaterials {
    let mut lines: Vec<Vec<Use>> = Vec::new();
    for joint in joints {
        for item in &joint.made.product.bom.items {
            let new = Use { joint, item };
            match lines.iter_mut().find(|line| line.first().is_some_and(|first| are_alike(first, &new))) {
                Some(line) => line.push(new),
                None => lines.push(vec![new]),
            }
        }
    }
    let mut items: Vec<Item> = lines.iter().filter_map(|line| merged(line)).collect();
    let place = |kind: Kind| ORDER.iter().position(|one| *one == kind);
    // Stable: printed parts stay joint by joint.
    items.sort_by(|a, b| {
        let by_kind = place(a.kind).cmp(&place(b.kind));
        if a.kind == Kind::Printed {
            by_kind
        } else {
            by_kind.then_with(|| a.designation.cmp(&b.designation))
        }
    });
    BillOfMaterials { items }
}

/// Whether a shop sees one thing. Printed parts are each joint's own; of bearings the note tells open from shielded.
fn are_alike(a: &Use, b: &Use) -> bool {
    let (x, y) = (a.item, b.item);
    let same = x.kind == y.kind
        && x.designation == y.designation
        && x.material == y.material
        && x.unit_mass == y.unit_mass
        && x.unit_cost == y.unit_cost;
    match x.kind {
        Kind::Printed => false,
        Kind::Bearing => same && x.note == y.note,
        _ => same,
    }
}

fn merged(line: &[Use]) -> Option<Item> {
    let first = line.first()?;
    let quantity = line.iter().map(|one| one.item.quantity * one.joint.count).sum();
    let mut item = Item { quantity, ..first.item.clone() };
    if item.kind == Kind::Printed {
        item.name = format!("{} {}", first.joint.name, item.name);
        item.designation = format!("{}/parts/{}", first.joint.design, item.designation);
        return Some(item);
    }
    if line.iter().any(|one| one.item.name != item.name) {
        item.name = general(&item).to_string();
    }
    item.note = note(line);
    Some(item)
}

/// What something is that has another place in each joint.
fn general(item: &Item) -> &str {
    match item.kind {
        Kind::Bearing => "bearing",
        Kind::Fastener => "screw",
        Kind::Gear => "gear",
        _ => &item.name,
    }
}

/// "yaw: 4 pillar screw (tighten to 1.20 N m); elbow: 4 keeper screw (...)"; what all say alike stands first, once.
fn note(line: &[Use]) -> String {
    let Some(first) = line.first() else { return String::new() };
    let one_name = line.iter().all(|one| one.item.name == first.item.name);
    let is_common = line.iter().all(|one| one.item.note == first.item.note);
    let mut parts = Vec::new();
    if is_common && !first.item.note.is_empty() {
        parts.push(first.item.note.clone());
    }
    for one in line {
        let each = if one.joint.count == 1 {
            one.item.quantity.to_string()
        } else {
            format!("{} x {}", one.joint.count, one.item.quantity)
        };
        let own = if is_common || one.item.note.is_empty() {
            String::new()
        } else {
            format!(" ({})", one.item.note)
        };
        let name = if one_name { String::new() } else { format!(" {}", one.item.name) };
        parts.push(format!("{}: {each}{name}{own}", one.joint.name));
    }
    parts.join("; ")
}

/// Kinds of things to order, of how many would be if no joint shared with another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sharing {
    pub kind: Kind,
    /// Lines of the list.
    pub lines: usize,
    /// Lines of all joints' bills together.
    pub apart: usize,
}

/// What sharing saves, for each kind that is bought.
pub fn sharing(joints: &[MadeJoint], list: &BillOfMaterials) -> Vec<Sharing> {
    let count = |items: &[Item], kind: Kind| items.iter().filter(|item| item.kind == kind).count();
    ORDER
        .into_iter()
        .filter(|kind| *kind != Kind::Printed)
        .map(|kind| Sharing {
            kind,
            lines: count(&list.items, kind),
            apart: joints.iter().map(|joint| count(&joint.made.product.bom.items, kind)).sum(),
        })
        .filter(|sharing| sharing.apart > 0)
        .collect()
}
