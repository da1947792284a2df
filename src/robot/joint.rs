//! A robot's joints, and what one asks of its actuator once it is known what hangs on it.

use std::path::PathBuf;
use std::sync::Arc;

use crate::demand::chain::Moved;
use crate::demand::{Axis, Demand, GRAVITY, Lasting, Member};
use crate::design::document::{Node, Table, TableEntry, Value};
use crate::diagnostic::{Place, Problems, SourceFile};
use crate::quantity::{Kind, format, parse};
use crate::search::Space;
use crate::search::requirement::from_table;

/// What fewer kinds are worth.
#[derive(Clone, Copy, Debug)]
pub struct Worth {
    /// \[kg\]
    pub motor: f64,
    /// \[kg\]
    pub bearing: f64,
    /// Currency a kilogram.
    pub kilogram_price: Option<f64>,
}

/// A robot of several joints.
#[derive(Clone, Debug)]
pub struct Robot {
    pub name: String,
    pub about: String,
    pub path: PathBuf,
    pub(crate) source: Arc<SourceFile>,
    /// Of the ground \[rad\].
    pub lean: f64,
    pub worth: Worth,
    /// \[kg\]
    pub mass_step: f64,
    /// In the order of the file.
    pub joints: Vec<Joint>,
    /// The same joints as a chain.
    pub members: Vec<Member>,
}

/// A joint, and all of it that the robot has.
#[derive(Clone, Debug)]
pub struct Joint {
    pub name: String,
    pub count: u32,
    pub(crate) place: Place,
    /// A requirement file's keys.
    pub(crate) table: Table,
}

/// What the chain asks of a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hanging {
    pub moved: Moved,
    pub demand: Demand,
}

impl Robot {
    /// What hangs on a joint and what that asks; none if nothing does. `actuators` are masses by joint \[kg\], 0 where
    /// there are fewer.
    pub fn hanging(&self, joint: usize, actuators: &[f64]) -> Option<Hanging> {
        let member = self.members.get(joint)?;
        let moved = Moved::by(&self.members, joint, actuators);
        if member.link.is_none() && moved.mass == 0.0 {
            return None;
        }
        let swing = member.link.and_then(|link| link.swing);
        let held = member.link.map_or(Lasting::Moment, |link| link.held);
        Some(Hanging { moved, demand: moved.demand(member.axis, swing, held, self.lean) })
    }

    /// Whether a joint names a duty's file, which starts from the robot file's folder.
    pub fn has_duty(&self) -> bool {
        self.joints.iter().any(|joint| text_of(&joint.table, "requirement", "duty").is_some())
    }

    /// Joints farther out that hang on this one, in the order of the file.
    pub fn beyond(&self, joint: usize) -> Vec<usize> {
        (0..self.members.len()).filter(|other| *other != joint && self.is_on(*other, joint)).collect()
    }

    fn is_on(&self, outer: usize, inner: usize) -> bool {
        let mut at = Some(outer);
        // Chains have no circle; the count is for those not yet checked.
        for _ in 0..=self.members.len() {
            match at {
                Some(joint) if joint == inner => return true,
                Some(joint) => at = self.members.get(joint).and_then(|member| member.on),
                None => return false,
            }
        }
        false
    }

    /// The joint's requirement file with these actuators hanging on it.
    pub(crate) fn table(&self, joint: usize, actuators: &[f64]) -> Table {
        let Some(one) = self.joints.get(joint) else { return Table::empty(Place::start_of(&self.source)) };
        let mut table = one.table.clone();
        let place = one.place.clone();
        table.entries.retain(|entry| entry.name != "name" && entry.name != "about");
        set(&mut table, &[], "name", format!("{}-{}", self.name, one.name), &place);
        set(&mut table, &[], "about", format!("{} of {}", one.name, self.name), &place);
        if let Some(hanging) = self.hanging(joint, actuators) {
            ask(&mut table, &hanging, &place);
            let axis = self.members.get(joint).map_or(Axis::Level, |member| member.axis);
            load(&mut table, &hanging, axis, &place);
        }
        table
    }

    /// All that may be searched for a joint with these actuators hanging on it.
    ///
    /// # Errors
    /// A demand beyond what a requirement may ask.
    pub fn space(&self, joint: usize, actuators: &[f64]) -> Result<Space, Problems> {
        from_table(&self.table(joint, actuators), &self.source, &self.path, Problems::default())
    }
}

/// Torques and speed: the file's or the chain's, whichever is more.
fn ask(table: &mut Table, hanging: &Hanging, place: &Place) {
    let demand = &hanging.demand;
    let mut at_least = |key: &str, value: Option<f64>, kind: Kind| {
        let given = text_of(table, "requirement", key).and_then(|text| parse(&text, kind).ok());
        if let Some(value) = value.filter(|value| *value > 0.0 && given.is_none_or(|given| given < *value)) {
            set(table, &["requirement"], key, format(up(value), kind), place);
        }
    };
    at_least("continuous_torque", demand.continuous_torque, Kind::Torque);
    at_least("peak_torque", Some(demand.peak_torque), Kind::Torque);
    at_least("speed", demand.speed, Kind::RotationalSpeed);
}

/// What hangs on the output, where the file says nothing else.
///
/// On a level axis: the whole weight at its centre of mass. On an upright axis the weight presses along it and tips it by
/// its distance; the bearing's rating takes a tipping moment as a radial force with an overhang, so that the weight
/// stands for that force too: on the safe side.
fn load(table: &mut Table, hanging: &Hanging, axis: Axis, place: &Place) {
    let moved = &hanging.moved;
    let weight = moved.mass * GRAVITY;
    let centre = if moved.mass > 0.0 { moved.moment / moved.mass * 1e3 } else { 0.0 };
    let length = |value: f64| format(up(value), Kind::Length);
    let newtons = |value: f64| format(up(value), Kind::Force);
    let mut rows = vec![("inertia", format(up(moved.inertia), Kind::Inertia))];
    match axis {
        Axis::Level => rows.extend([("arm", length(centre)), ("weight", format(up(weight), Kind::Weight))]),
        Axis::Upright => rows.extend([
            ("arm", length(moved.reach)),
            ("weight", format(0.0, Kind::Weight)),
            ("radial", newtons(weight)),
            ("axial", format(-up(weight), Kind::Force)),
            ("overhang", length(centre)),
        ]),
    }
    for (key, text) in rows {
        if text_of(table, "load", key).is_none() {
            set(table, &["load"], key, text, place);
        }
    }
}

/// To four digits, never down: what is written is what a person reads.
fn up(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let scale = libm::pow(10.0, 3.0 - libm::floor(libm::log10(value.abs())));
    // A hair less first, so that a value of four digits stays.
    (value * scale - 1e-9).ceil() / scale
}

/// The text of a key in a section; none if it isn't there.
fn text_of(table: &Table, section: &str, key: &str) -> Option<String> {
    let Value::Table(section) = &table.get(section)?.node.value else { return None };
    match &section.get(key)?.node.value {
        Value::Text(text) => Some(text.clone()),
        // Of another type: the reader says so.
        _ => Some(String::new()),
    }
}

/// Sets a key, making its section if there is none.
fn set(table: &mut Table, sections: &[&str], key: &str, text: String, place: &Place) {
    let Some((section, rest)) = sections.split_first() else {
        table.remove(key);
        table.entries.push(entry(key, Value::Text(text), place));
        return;
    };
    if table.get(section).is_none() {
        table.entries.push(entry(section, Value::Table(Table::empty(place.clone())), place));
    }
    let found = table.entries.iter_mut().find(|entry| entry.name == *section);
    if let Some(TableEntry { node: Node { value: Value::Table(below), .. }, .. }) = found {
        set(below, rest, key, text, place);
    }
}

fn entry(name: &str, value: Value, place: &Place) -> TableEntry {
    TableEntry {
        name: name.to_string(),
        name_place: place.clone(),
        node: Node { value, place: place.clone() },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_up_to_four_digits() {
        assert_eq!(up(12.3401), 12.35);
        assert_eq!(up(12.34), 12.34);
        assert_eq!(up(0.001_234_01), 0.001_235);
        assert_eq!(up(0.0), 0.0);
    }
}
