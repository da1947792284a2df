//! A design file, start to end: text, tree, keys, rules, resolved design.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use serde_json::Value as Json;

use crate::diagnostic::{Place, Problems, SourceFile};

use super::bearings;
use super::duty;
use super::file;
use super::keys::DesignKeys;
use super::measured::measured;
use super::model::Design;
use super::reader::{Reader, Shown};
use super::resolve;
use super::rules;
use super::value::is_plain_name;

/// A design that can be worked with.
#[derive(Clone, Debug)]
pub struct Loaded {
    pub design: Design,
    /// Every key with its value and unit, in the order of declaration, and under `defaults` the reason for each value
    /// that the file doesn't give.
    pub input: Json,
    /// Where each given key stands, by its dotted path.
    pub places: BTreeMap<String, Place>,
    /// Warnings and notes.
    pub problems: Problems,
}

/// Loads a design file; "-" is standard input.
///
/// # Errors
/// Everything that is wrong with it, sorted by file and place.
pub fn load(argument: &Path) -> Result<Loaded, Problems> {
    let mut problems = Problems::default();
    match file::read(argument, &mut problems) {
        Some(source) => load_source(&source, argument, problems),
        None => Err(problems),
    }
}

/// Loads a design from a text; `path` is where it lies, or would.
///
/// # Errors
/// Everything that is wrong with it, sorted by file and place.
pub fn load_text(path: &Path, text: &str) -> Result<Loaded, Problems> {
    let source = SourceFile { name: path.to_string_lossy().into_owned(), text: text.to_string() };
    load_source(&Arc::new(source), path, Problems::default())
}

fn load_source(source: &Arc<SourceFile>, path: &Path, mut problems: Problems) -> Result<Loaded, Problems> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let Some(table) = file::tree(source, folder, &mut problems) else {
        problems.sort();
        return Err(problems);
    };
    let mut reader = Reader::new(DesignKeys::SECTION, problems);
    let mut keys = DesignKeys::from_table(&table, &mut reader);
    let mut problems = reader.problems;
    let found = bearings::find(&keys.bearings.value, &keys.gearset.value, &mut problems);
    rules::check(&keys, &mut problems);
    let duty = duty::read(&keys.requirement.value.duty, folder, &mut problems);
    problems.sort();
    if problems.has_errors() {
        return Err(problems);
    }
    let Some(mut design) = resolve::resolve(&mut keys, &stem(path), found, duty) else {
        return Err(problems);
    };
    let (input, places) = input(&keys);
    design.measured = measured(&places);
    Ok(Loaded { design, input, places, problems })
}

/// A folder's name from the file's own.
fn stem(path: &Path) -> String {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
    let plain: String =
        stem.chars().map(|c| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' }).take(40).collect();
    let plain = plain.trim_matches('-');
    if is_plain_name(plain) {
        plain.to_string()
    } else {
        format!("design-{plain}").trim_matches('-').to_string()
    }
}

/// The resolved input, and where its given keys stand.
fn input(keys: &DesignKeys) -> (Json, BTreeMap<String, Place>) {
    let mut shown = Shown::default();
    let mut input = keys.to_json(&mut shown);
    if let Json::Object(map) = &mut input {
        map.insert("defaults".into(), Json::Object(shown.defaults));
    }
    (input, shown.places)
}
