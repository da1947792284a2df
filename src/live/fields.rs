//! The keys that the page offers, as it shows them: the declaration of each stands in `design::keys`.

use serde_json::{Value, json};

use super::edit;
use crate::design::key::Takes;
use crate::design::{Loaded, declared};
use crate::quantity::{self, Kind};

/// A key, its label, and the step of its slider in the unit it is shown in; none has no slider.
pub struct Field {
    pub key: &'static str,
    pub label: &'static str,
    step: Option<f64>,
}

const fn field(key: &'static str, label: &'static str, step: f64) -> Field {
    Field { key, label, step: Some(step) }
}

const fn typed(key: &'static str, label: &'static str) -> Field {
    Field { key, label, step: None }
}

/// In the order of the page.
pub const FIELDS: &[Field] = &[
    field("motor.outer_diameter", "Motor, outside diameter", 0.5),
    field("motor.height", "Motor, height", 0.5),
    typed("gearset.sun_teeth", "Teeth of the sun"),
    typed("gearset.planet_teeth", "Teeth of a planet"),
    typed("gearset.ring_teeth", "Teeth of the ring"),
    typed("gearset.planets", "Planets"),
    field("gearset.normal_module", "Normal module", 0.05),
    field("gearset.face_width", "Face width", 0.5),
    field("gearset.helix_angle", "Helix angle", 0.5),
    field("gearset.backlash", "Backlash of a mesh", 0.01),
    typed("bearings.output.designation", "Output bearing"),
    typed("bearings.planet", "Planet bearing"),
    typed("parts.all.walls", "Printed walls (perimeters)"),
];

/// The field of a key that may be changed from the page.
pub fn find(key: &str) -> Option<&'static Field> {
    FIELDS.iter().find(|field| field.key == key)
}

/// A slider reaches from half of the saved value to half as much again, within what the key takes.
const REACH: [f64; 2] = [0.5, 1.5];

/// Fields with values, ranges and lines.
pub fn tree(text: &str, saved: &str, loaded: Option<&Loaded>) -> Vec<Value> {
    FIELDS.iter().filter_map(|field| one(field, text, saved, loaded)).collect()
}

fn one(field: &Field, text: &str, saved: &str, loaded: Option<&Loaded>) -> Option<Value> {
    let key = declared(field.key)?;
    let resolved = loaded.and_then(|loaded| at(&loaded.input, field.key));
    let own = edit::read(text, field.key);
    let value = own.clone().or_else(|| resolved.clone()).unwrap_or_default();
    let base = edit::read(saved, field.key).or(resolved).unwrap_or_default();
    let place = loaded.and_then(|loaded| loaded.places.get(field.key));
    let slider = match (&key.takes, field.step) {
        (Takes::Quantity { kind, least, most }, Some(step)) => {
            slider(&base, &value, *kind, [*least, *most], step)
        }
        _ => None,
    };
    Some(json!({
        "key": field.key,
        "label": field.label,
        "about": key.about,
        "value": value,
        "in_file": own.is_some(),
        "expected": key.takes.expected(),
        "example": key.example,
        "file": place.map(|place| place.file.name.clone()),
        "line": place.map(|place| place.line_and_column().0),
        "slider": slider,
    }))
}

fn slider(base: &str, value: &str, kind: Kind, range: [f64; 2], step: f64) -> Option<Value> {
    let unit = quantity::parse(base, kind).ok().zip(base.trim().rsplit_once(' '));
    let (middle, (_, symbol)) = unit?;
    // What one of the unit is, in the program's own.
    let one = quantity::parse(&format!("1 {symbol}"), kind).ok()?;
    let now = quantity::parse(value, kind).unwrap_or(middle);
    // A key that is 0 still needs room to be moved.
    let reach = if middle > 0.0 { REACH.map(|share| share * middle) } else { [0.0, 20.0 * step * one] };
    let least = (reach[0].max(range[0]) / one / step).ceil() * step;
    let most = (reach[1].min(range[1]) / one / step).floor() * step;
    Some(
        json!({ "unit": symbol, "least": tidy(least), "most": tidy(most), "step": step, "value": tidy(now / one) }),
    )
}

/// Without the dust of binary fractions.
fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

/// A value of the resolved input, as text.
fn at(input: &Value, key: &str) -> Option<String> {
    match key.split('.').try_fold(input, |value, name| value.get(name))? {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}
