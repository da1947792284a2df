//! A candidate as the text of a design file: what the requirement file shares, motor, gearset and bearings.

use std::fmt::Write;

use crate::design::document::{Table, Value};
use crate::design::{GearSource, RingKind};
use crate::quantity::{Kind, format};

use super::requirement::Space;

/// Sections that a requirement file has in common with a design file.
const SHARED: &[&str] =
    &["requirement", "controller", "load", "fasteners", "parts", "printer", "limits", "ambient"];
/// Keys of `[gearset]` that say how gears are made: written with their materials.
const MADE: &[&str] = &["sun", "planet", "ring"];

/// One candidate: places in the lists of a [`Space`], and a gearset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choices {
    pub motor: usize,
    pub gears: usize,
    /// Sun, planet, ring.
    pub teeth: [u32; 3],
    pub planets: u32,
    /// \[mm\]
    pub face: f64,
    pub output: usize,
    /// Of the list of planet bearings; none: the layout's choice.
    pub planet_bearing: Option<usize>,
    pub planet_material: usize,
    pub ring_material: usize,
}

impl Choices {
    /// The first of everything with a gearset that always assembles.
    pub fn stand_in(space: &Space) -> Choices {
        Choices {
            motor: 0,
            gears: 0,
            teeth: [12, 42, 96],
            planets: 3,
            face: space.faces.first().copied().unwrap_or(14.0),
            output: 0,
            planet_bearing: (!space.planet_bearings.is_empty()).then_some(0),
            planet_material: 0,
            ring_material: 0,
        }
    }
}

/// The design file of a candidate. An index out of its list writes nothing for that key, which the reader then reports.
pub fn design(space: &Space, choices: &Choices) -> String {
    let [sun, planet, ring] = choices.teeth;
    let mut text = format!("name = {}\n", quoted(&space.name));
    // Writing to a String cannot fail, here and below.
    let _ = write!(text, "{}", space.shared);
    let motor = space.motors.get(choices.motor).map_or("", String::as_str);
    let _ = write!(text, "\n[motor]\n{motor}\n[gearset]\n");
    let _ = writeln!(
        text,
        "sun_teeth = {sun}\nplanet_teeth = {planet}\nring_teeth = {ring}\nplanets = {}",
        choices.planets
    );
    if let Some(row) = space.gears.get(choices.gears) {
        let _ = writeln!(text, "normal_module = \"{}\"", format(row.module, Kind::Length));
        let _ = writeln!(text, "helix_angle = \"{}\"", format(row.helix, Kind::Angle));
    }
    let _ = writeln!(text, "face_width = \"{}\"", format(choices.face, Kind::Length));
    let _ = write!(text, "{}", space.gear_lines);
    let material = |list: &[String], index: usize| {
        list.get(index).map_or(String::new(), |name| format!(", material = {}", quoted(name)))
    };
    let _ = match space.sun_made {
        GearSource::Buy => writeln!(text, "sun = {{ made = \"buy\" }}"),
        GearSource::Print => writeln!(
            text,
            "sun = {{ made = \"print\"{} }}",
            material(&space.planet_materials, choices.planet_material)
        ),
    };
    let _ = match space.planet_made {
        GearSource::Buy => writeln!(text, "planet = {{ made = \"buy\" }}"),
        GearSource::Print => writeln!(
            text,
            "planet = {{ made = \"print\"{} }}",
            material(&space.planet_materials, choices.planet_material)
        ),
    };
    let made = match space.ring_made {
        RingKind::Cut => "cut",
        RingKind::Insert => "insert",
    };
    let _ = writeln!(
        text,
        "ring = {{ made = \"{made}\"{} }}",
        material(&space.ring_materials, choices.ring_material)
    );
    let _ = writeln!(text, "\n[bearings]");
    if let Some(output) = space.outputs.get(choices.output) {
        let spacing = match output.count {
            1 => String::new(),
            _ => format!(", spacing = \"{}\"", format(output.spacing, Kind::Length)),
        };
        let (name, count) = (quoted(&output.designation), output.count);
        let _ = writeln!(text, "output = {{ designation = {name}, count = {count}{spacing} }}");
    }
    if let Some(name) = choices.planet_bearing.and_then(|index| space.planet_bearings.get(index)) {
        let _ = writeln!(text, "planet = {}", quoted(name));
    }
    let _ = write!(text, "{}", space.bearing_lines);
    text
}

/// The sections that every candidate shares, as they stand in the file and the files it takes values from.
pub fn shared(table: &Table) -> String {
    let mut text = String::new();
    if let Some(about) = table.get("about") {
        let _ = writeln!(text, "about = {}", value(&about.node.value));
    }
    for name in SHARED {
        if let Some(Value::Table(section)) = table.get(name).map(|entry| &entry.node.value) {
            let _ = write!(text, "\n[{name}]\n{}", lines(section));
        }
    }
    text
}

/// Shared keys of `[gearset]`.
pub fn gear_lines(table: &Table) -> String {
    let Some(Value::Table(section)) = table.get("gearset").map(|entry| &entry.node.value) else {
        return String::new();
    };
    let shared = section.entries.iter().filter(|entry| !MADE.contains(&entry.name.as_str()));
    shared.map(|entry| format!("{} = {}\n", entry.name, value(&entry.node.value))).collect()
}

/// Shared keys of `[bearings]`, rows of one's own among them.
pub fn bearing_lines(table: &Table) -> String {
    match table.get("bearings").map(|entry| &entry.node.value) {
        Some(Value::Table(section)) => lines(section),
        _ => String::new(),
    }
}

/// Lines of each motor, with the file they came from.
pub fn motors(table: &Table) -> Vec<String> {
    let Some(Value::List(list)) = table.get("motors").map(|entry| &entry.node.value) else {
        return Vec::new();
    };
    list.iter()
        .map(|node| match &node.value {
            Value::Table(motor) => lines(motor),
            _ => String::new(),
        })
        .collect()
}

/// Keys and values as lines of a file.
pub(crate) fn lines(table: &Table) -> String {
    table
        .entries
        .iter()
        .map(|entry| format!("{} = {}\n", key(&entry.name), value(&entry.node.value)))
        .collect()
}

fn key(name: &str) -> String {
    let is_bare = !name.is_empty() && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_');
    if is_bare { name.to_string() } else { quoted(name) }
}

fn value(value: &Value) -> String {
    match value {
        Value::Text(text) => quoted(text),
        Value::Number { value, whole: true } => format!("{value:.0}"),
        Value::Number { value, whole: false } => format!("{value:?}"),
        Value::List(list) => {
            let items: Vec<String> = list.iter().map(|node| self::value(&node.value)).collect();
            format!("[{}]", items.join(", "))
        }
        Value::Table(table) => {
            let items: Vec<String> = table
                .entries
                .iter()
                .map(|entry| format!("{} = {}", key(&entry.name), self::value(&entry.node.value)))
                .collect();
            format!("{{ {} }}", items.join(", "))
        }
        // No key takes one: the reader has refused the file.
        Value::Flag | Value::Date => "\"\"".to_string(),
    }
}

/// A TOML basic string. JSON's escapes are among TOML's.
fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}
