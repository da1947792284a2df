//! JSON Schema (draft 2020-12) of the design file, from the declared keys.

use serde_json::{Map, Value, json};

use super::file::FROM;
use super::key::{Key, Presence, Section, Takes};
use super::keys::DesignKeys;
use crate::quantity::Kind;
use crate::tables::{Thread, material_names};

/// The schema of the design file as text, as it is committed.
pub fn schema() -> String {
    schema_of("hubwright design file", DesignKeys::SECTION)
}

/// The schema of a file with these keys.
pub(crate) fn schema_of(title: &str, keys: &Section) -> String {
    let mut root = Map::new();
    root.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".into(), json!(title));
    if let Value::Object(section) = section_schema(keys) {
        root.extend(section);
    }
    // A tree of strings and numbers always has a text.
    serde_json::to_string_pretty(&Value::Object(root)).unwrap_or_default() + "\n"
}

/// A section's table, or its shorthand.
pub(crate) fn section_schema(section: &Section) -> Value {
    let mut properties = Map::new();
    properties.insert(FROM.into(), from_schema());
    for key in section.keys {
        properties.insert(key.name.into(), key_schema(key));
    }
    let required: Vec<&str> = section
        .keys
        .iter()
        .filter(|key| matches!(key.presence, Presence::Required))
        .map(|key| key.name)
        .collect();
    let mut schema = Map::new();
    schema.insert("description".into(), json!(section.about));
    schema.insert("type".into(), json!("object"));
    schema.insert("properties".into(), Value::Object(properties));
    schema.insert("additionalProperties".into(), json!(false));
    if !required.is_empty() {
        schema.insert("anyOf".into(), json!([{ "required": required }, { "required": [FROM] }]));
    }
    let table = Value::Object(schema);
    match section.shorthand {
        Some(name) => {
            json!({ "anyOf": [{ "type": "string", "description": format!("Short for {name}.") }, table] })
        }
        None => table,
    }
}

fn from_schema() -> Value {
    json!({ "type": "string", "description": "File to take this section's values from; keys beside it win." })
}

fn key_schema(key: &Key) -> Value {
    let mut schema = Map::new();
    schema.insert("description".into(), json!(description(key)));
    if let Value::Object(takes) = takes_schema(&key.takes) {
        schema.extend(takes.into_iter().filter(|(name, _)| name != "description"));
    }
    if let Presence::Default { value, .. } = key.presence
        && key.takes.is_text()
    {
        schema.insert("default".into(), json!(value));
    }
    if key.takes.is_text() {
        schema.insert("examples".into(), json!([key.example]));
    }
    Value::Object(schema)
}

fn description(key: &Key) -> String {
    let expected = match key.takes {
        Takes::Section(_) | Takes::Sections(_) | Takes::Named { .. } | Takes::Text | Takes::Choice(_) => {
            String::new()
        }
        _ => format!(" Takes {}.", key.takes.expected()),
    };
    let more = match key.presence {
        Presence::Required => String::new(),
        Presence::Optional { without } => format!(" Left out: {without}"),
        Presence::Default { value, reason } if value.starts_with(['{', '[']) => format!(" Default: {reason}"),
        Presence::Default { value, reason } => format!(" Default {value}: {reason}"),
    };
    format!("{}{expected}{more}", key.about)
}

fn takes_schema(takes: &Takes) -> Value {
    match takes {
        Takes::Quantity { kind, .. } => json!({ "type": "string", "pattern": pattern(*kind) }),
        Takes::Quantities { count, kind, .. } => json!({
            "type": "array",
            "items": { "type": "string", "pattern": pattern(*kind) },
            "minItems": count,
            "maxItems": count,
        }),
        Takes::Count { least, most } => json!({ "type": "integer", "minimum": least, "maximum": most }),
        Takes::Number { least, most } => json!({ "type": "number", "minimum": least, "maximum": most }),
        Takes::NumberOrAuto { least, most } => {
            json!({ "anyOf": [{ "const": "auto" }, { "type": "number", "minimum": least, "maximum": most }] })
        }
        Takes::Choice(words) => json!({ "enum": words }),
        Takes::Text => json!({ "type": "string", "minLength": 1 }),
        Takes::Name => json!({ "type": "string", "pattern": "^[a-z][a-z0-9_-]{0,59}$" }),
        Takes::Thread => {
            let threads: Vec<String> = Thread::ALL.iter().map(Thread::to_string).collect();
            json!({ "enum": threads })
        }
        Takes::Material => json!({ "enum": material_names() }),
        Takes::Section(section) => section_schema(section),
        Takes::Sections(section) => json!({ "type": "array", "items": section_schema(section) }),
        Takes::Named { names, section } => {
            let names: Vec<&str> = names.iter().copied().chain([FROM]).collect();
            json!({
                "type": "object",
                "propertyNames": { "enum": names },
                "properties": { FROM: from_schema() },
                "additionalProperties": section_schema(section),
            })
        }
    }
}

/// A number and a unit of the kind, in the spelling of the tables; the program itself understands a few more.
fn pattern(kind: Kind) -> String {
    let units: Vec<String> = kind.table().units.iter().map(|unit| unit.symbol.replace(' ', " ?")).collect();
    format!("^\\s*[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?\\s*({})\\s*$", units.join("|"))
}
