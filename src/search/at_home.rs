//! Problems of a design that a search made up, told where the requirement's own file has what they are about.

use crate::design::document::{Node, Table, Value};
use crate::diagnostic::{Diagnostic, Place};

/// What a requirement lists under a name of its own.
const LISTS: [(&str, &str); 5] = [
    ("bearings.output", "output_bearings"),
    ("bearings.planet", "planet_bearings"),
    ("gearset.planet.material", "planet_materials"),
    ("gearset.ring.material", "ring_materials"),
    ("gearset.normal_module", "gears"),
];

/// Gives a problem the place that its key has in the requirement; `motor` is the design's in the list of motors. What the
/// requirement doesn't say stands where the nearest table does that would hold it.
pub fn at_home(mut problem: Diagnostic, table: &Table, motor: usize) -> Diagnostic {
    problem.place = Some(place(&problem.key, table, motor));
    problem
}

fn place(key: &str, table: &Table, motor: usize) -> Place {
    let listed = LISTS.iter().find(|(asked, _)| key == *asked || key.starts_with(&format!("{asked}.")));
    if let Some(entry) = listed.and_then(|(_, list)| table.get(list)) {
        return entry.node.place.clone();
    }
    let mut names = key.split('.');
    let first = names.next().unwrap_or_default();
    let Some(entry) = table.get(if first == "motor" { "motors" } else { first }) else {
        return table.place.clone();
    };
    let mut node = &entry.node;
    if let (true, Value::List(motors)) = (first == "motor", &node.value) {
        node = motors.get(motor).unwrap_or(node);
    }
    for name in names {
        match inside(node, name) {
            Some(inner) => node = inner,
            None => break,
        }
    }
    node.place.clone()
}

/// A key of a table, or a place in a list, counted from one.
fn inside<'a>(node: &'a Node, name: &str) -> Option<&'a Node> {
    match &node.value {
        Value::Table(table) => Some(&table.get(name)?.node),
        Value::List(list) => list.get(name.parse::<usize>().ok()?.checked_sub(1)?),
        _ => None,
    }
}
