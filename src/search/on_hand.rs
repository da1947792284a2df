//! What is on hand: motors from folders, bearings from the table and from rows of one's own.

use std::path::Path;

use crate::design::document::{Node, Table, TableEntry, Value};
use crate::design::file::FROM;
use crate::design::reader::Entry;
use crate::diagnostic::{Code, Diagnostic, Place, Problems};
use crate::tables::{self, Bearing, BearingKind};

use super::requirement::{OutputChoice, SizeKeys};

/// Puts a table that takes its values from a file in the place of each name under `motors`; a folder's name stands for all of
/// its TOML files, by name.
pub fn spread_folders(table: &mut Table, folder: &Path, problems: &mut Problems) {
    let Some(motors) = table.entries.iter_mut().find(|entry| entry.name == "motors") else { return };
    let value = match &motors.node.value {
        Value::Text(name) => Value::List(files(name, &motors.node.place, folder, problems)),
        Value::List(list) => Value::List(
            list.iter()
                .flat_map(|node| match &node.value {
                    Value::Text(name) => files(name, &node.place, folder, problems),
                    _ => vec![node.clone()],
                })
                .collect(),
        ),
        _ => return,
    };
    motors.node.value = value;
}

fn files(name: &str, place: &Place, folder: &Path, problems: &mut Problems) -> Vec<Node> {
    let path = folder.join(name);
    // Absolute names are refused where all others of that kind are.
    if Path::new(name).is_absolute() || !path.is_dir() {
        return vec![from(name, place)];
    }
    let mut names: Vec<String> = path
        .read_dir()
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|file| file.ends_with(".toml") && !file.starts_with('.'))
        .collect();
    names.sort();
    if names.is_empty() {
        problems.push(
            Diagnostic::error(Code::FileMissing, format!("There is no motor's file in {name}"))
                .at(place.clone())
                .key("motors")
                .expected("a folder of TOML files, each a motor")
                .example("motors = \"../motors/\""),
        );
    }
    names.iter().map(|file| from(&format!("{}/{file}", name.trim_end_matches('/')), place)).collect()
}

/// `{ from = "name" }`
fn from(name: &str, place: &Place) -> Node {
    let node = Node { value: Value::Text(name.to_string()), place: place.clone() };
    let entry = TableEntry { name: FROM.to_string(), name_place: place.clone(), node };
    let mut table = Table::empty(place.clone());
    table.entries.push(entry);
    Node { value: Value::Table(table), place: place.clone() }
}

fn own<'a>(custom: &'a [Bearing], designation: &str) -> Option<&'a Bearing> {
    custom.iter().find(|bearing| bearing.designation == designation)
}

/// Of a pair, where nothing is said: the design file's default.
const SPACING: f64 = 6.0;

/// Bores of output bearings of the table that are looked at when none is named \[mm\].
const BORES: [f64; 2] = [15.0, 100.0];

/// Output bearings on hand.
pub fn outputs(keys: &SizeKeys, custom: &[Bearing], problems: &mut Problems) -> Vec<OutputChoice> {
    if keys.output_bearings.value.is_empty() {
        let mut seen: Vec<&str> = Vec::new();
        let mut all = Vec::new();
        for row in tables::bearings() {
            let of_size = (BORES[0]..=BORES[1]).contains(&row.bore);
            if of_size
                && matches!(row.kind, BearingKind::DeepGroove)
                && !seen.contains(&row.designation.as_str())
            {
                seen.push(&row.designation);
                if let Some(row) = tables::bearing(&row.designation) {
                    all.push(OutputChoice {
                        designation: row.designation.clone(),
                        count: 1,
                        spacing: SPACING,
                        row: row.clone(),
                    });
                }
            }
        }
        return all;
    }
    let mut all = Vec::new();
    for keys in &keys.output_bearings.value {
        if !keys.designation.is_sound() {
            continue;
        }
        let designation = &keys.designation.value;
        match own(custom, designation)
            .or_else(|| tables::bearing(designation))
            .or_else(|| tables::crossed_roller(designation))
        {
            Some(row) => all.push(OutputChoice {
                designation: designation.clone(),
                count: keys.count.value,
                // A single one has none: its design keeps the usual.
                spacing: if keys.count.value == 1 { SPACING } else { keys.spacing.value },
                row: row.clone(),
            }),
            None => unknown_bearing(&keys.designation, "output_bearings", problems),
        }
    }
    all
}

/// Planet bearings on hand; none: the layout chooses.
pub fn planet_bearings(keys: &SizeKeys, custom: &[Bearing], problems: &mut Problems) -> Vec<Bearing> {
    let mut rows = Vec::new();
    for row in keys.planet_bearings.value.iter().filter(|row| row.designation.is_sound()) {
        match own(custom, &row.designation.value).or_else(|| tables::bearing(&row.designation.value)) {
            Some(bearing) => rows.push(bearing.clone()),
            None => unknown_bearing(&row.designation, "planet_bearings", problems),
        }
    }
    rows
}

fn unknown_bearing(entry: &Entry<String>, key: &str, problems: &mut Problems) {
    let near = tables::bearing_names_near(&entry.value);
    let hint = if near.is_empty() {
        "`hubwright tables bearings` lists them".to_string()
    } else {
        format!("near it: {}", near.join(", "))
    };
    problems.push(
        Diagnostic::error(Code::UnknownBearing, format!("No bearing is called \"{}\"", entry.value))
            .at_maybe(entry.place().cloned())
            .key(key)
            .found(format!("\"{}\"", entry.value))
            .expected("a designation of the table, or of a row under [[bearings.custom]]")
            .example("output_bearings = [\"6808\", \"6810\"]")
            .hint(hint),
    );
}
