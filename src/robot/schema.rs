//! JSON Schema of the robot file, from the declared keys.

use serde_json::{Map, Value, json};

use super::keys::{JointKeys, RobotKeys};
use crate::design::key::Section;
use crate::design::section_schema;
use crate::search::requirement::SizeKeys;

/// The schema of the robot file as text, as it is committed.
pub fn schema() -> String {
    let mut root = Map::new();
    root.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".into(), json!("hubwright robot file"));
    root.insert("description".into(), json!(RobotKeys::SECTION.about));
    let mut properties = with_requirement(RobotKeys::SECTION);
    properties.insert(
        "joint".into(),
        json!({
            "type": "array",
            "minItems": 1,
            "items": {
                "description": JointKeys::SECTION.about,
                "type": "object",
                "properties": with_requirement(JointKeys::SECTION),
                "additionalProperties": false,
                "required": ["name"],
            },
        }),
    );
    root.insert("type".into(), json!("object"));
    root.insert("properties".into(), Value::Object(properties));
    root.insert("additionalProperties".into(), json!(false));
    root.insert("required".into(), json!(["joint"]));
    // A tree of strings and numbers always has a text.
    serde_json::to_string_pretty(&Value::Object(root)).unwrap_or_default() + "\n"
}

/// A section's keys and a requirement file's. What that requires may stand at the top or at the joint, so none of it is required
/// in either.
fn with_requirement(own: &Section) -> Map<String, Value> {
    let mut properties = Map::new();
    for section in [SizeKeys::SECTION, own] {
        if let Some(Value::Object(keys)) = section_schema(section).get_mut("properties") {
            properties.append(keys);
        }
    }
    properties.values_mut().for_each(loosen);
    properties
}

/// Takes out what a table must hold.
fn loosen(schema: &mut Value) {
    match schema {
        Value::Object(keys) => {
            let only_required = |one: &Value| one.as_object().is_some_and(|one| one.keys().eq(["required"]));
            if keys.get("anyOf").and_then(Value::as_array).is_some_and(|any| any.iter().all(only_required)) {
                keys.shift_remove("anyOf");
            }
            keys.values_mut().for_each(loosen);
        }
        Value::Array(list) => list.iter_mut().for_each(loosen),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}
