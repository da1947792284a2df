//! Resolved keys of both designs: what each says, and whether its file gives it.

use serde_json::{Map, Value};

use crate::design::Loaded;

/// A key on both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct InputRow {
    /// Dotted path.
    pub key: String,
    /// With units; none where the design has no such key.
    pub values: [Option<String>; 2],
    /// Whether the file (or one it takes from) gives it; else a default or another key does.
    pub given: [bool; 2],
}

impl InputRow {
    pub fn differs(&self) -> bool {
        self.values[0] != self.values[1]
    }

    /// Nobody wrote either value down: they differ because something else does.
    pub fn follows(&self) -> bool {
        self.differs() && self.given == [false, false]
    }
}

/// Where the resolved input keeps the reasons of its defaults.
const REASONS: &str = "defaults";

/// Keys in the order of their declaration; those of the second alone come after the section they belong to.
pub fn rows(sides: [&Loaded; 2]) -> Vec<InputRow> {
    let mut rows = Vec::new();
    let empty = Map::new();
    let tables = sides.map(|side| side.input.as_object().unwrap_or(&empty));
    walk("", tables.map(Some), &mut |key, values| {
        let given = [0, 1].map(|side| is_given(sides[side], key));
        rows.push(InputRow { key: key.to_string(), values: values.map(|value| value.map(shown)), given });
    });
    rows
}

/// Given itself, or as a whole (a list) with what is in it.
fn is_given(loaded: &Loaded, key: &str) -> bool {
    loaded.places.contains_key(key)
        || loaded
            .places
            .range(format!("{key}.")..)
            .next()
            .is_some_and(|(name, _)| name.starts_with(&format!("{key}.")))
}

type Tables<'a> = [Option<&'a Map<String, Value>>; 2];

/// Every leaf of two trees, each key once.
fn walk(above: &str, tables: Tables, visit: &mut impl FnMut(&str, [Option<&Value>; 2])) {
    let names = |side: usize| tables[side].into_iter().flat_map(|table| table.keys());
    let only_second = names(1).filter(|name| tables[0].is_none_or(|first| !first.contains_key(*name)));
    for name in names(0).chain(only_second) {
        if above.is_empty() && name == REASONS {
            continue;
        }
        let key = if above.is_empty() { name.clone() } else { format!("{above}.{name}") };
        let values = tables.map(|table| table.and_then(|table| table.get(name)));
        let inner = values.map(|value| value.and_then(Value::as_object));
        if inner.iter().any(Option::is_some) {
            walk(&key, inner, visit);
        } else {
            visit(&key, values);
        }
    }
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}
