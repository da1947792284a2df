//! How a value of each type is read, and written back.

use serde_json::{Map, Value as Json, json};

use crate::diagnostic::{Code, Diagnostic};
use crate::quantity::{self, Kind, QuantityFault};
use crate::tables::{self, Material, Thread};

use super::document::{Node, Value};
use super::key::{Key, Takes};
use super::model::Shift;
use super::reader::{Entry, FromNode, Named, Origin, Reader, Shown};
use super::suggest;

impl FromNode for f64 {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        match key.takes {
            Takes::Quantity { kind, least, most } => read_quantity(node, key, (kind, least, most), reader),
            Takes::Number { least, most } => read_number(node, key, (least, most), reader),
            _ => {
                reader.wrong_type(node, key);
                None
            }
        }
    }

    fn any(_: &'static Key) -> Self {
        1.0
    }

    fn show(&self, key: &'static Key, _: &mut Shown) -> Json {
        match key.takes {
            Takes::Quantity { kind, .. } => quantity::format(*self, kind).into(),
            _ => json!(self),
        }
    }
}

impl<const N: usize> FromNode for [f64; N] {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let (Value::List(list), Takes::Quantities { count, kind, least, most }) = (&node.value, &key.takes)
        else {
            reader.wrong_type(node, key);
            return None;
        };
        if list.len() != *count {
            let message = format!("`{}` is a list of {count}", reader.path());
            let diagnostic =
                Diagnostic::error(Code::WrongType, message).found(format!("{} values", list.len()));
            reader.record_value(node, key, diagnostic);
            return None;
        }
        let values: Vec<Option<f64>> = list
            .iter()
            .enumerate()
            .map(|(index, item)| {
                let range = (*kind, *least, *most);
                reader.within((index + 1).to_string(), |reader| read_quantity(item, key, range, reader))
            })
            .collect();
        let values: Option<Vec<f64>> = values.into_iter().collect();
        values?.try_into().ok()
    }

    fn any(_: &'static Key) -> Self {
        [1.0; N]
    }

    fn show(&self, key: &'static Key, _: &mut Shown) -> Json {
        let kind = match key.takes {
            Takes::Quantities { kind, .. } => kind,
            _ => Kind::Length,
        };
        self.iter().map(|value| Json::from(quantity::format(*value, kind))).collect()
    }
}

impl FromNode for u32 {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let (Value::Number { value, whole }, Takes::Count { least, most }) = (&node.value, &key.takes) else {
            reader.wrong_type(node, key);
            return None;
        };
        if !value.is_finite() && !whole {
            not_finite(node, key, reader);
            return None;
        }
        if !whole {
            let message = format!("`{}` counts something: a whole number", reader.path());
            reader.record_value(node, key, Diagnostic::error(Code::WrongType, message));
            return None;
        }
        if *value < f64::from(*least) || *value > f64::from(*most) {
            out_of_range(node, key, reader);
            return None;
        }
        Some(*value as u32) // inside the range of two u32
    }

    fn any(_: &'static Key) -> Self {
        1
    }

    fn show(&self, _: &'static Key, _: &mut Shown) -> Json {
        json!(self)
    }
}

impl FromNode for String {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let Value::Text(text) = &node.value else {
            reader.wrong_type(node, key);
            return None;
        };
        match key.takes {
            Takes::Name if !is_plain_name(text) => {
                let message = format!("`{}` becomes the name of a folder", reader.path());
                reader.record_value(node, key, Diagnostic::error(Code::OutOfRange, message));
                None
            }
            _ if text.chars().any(char::is_control) => {
                let message = format!("`{}` has line breaks or control characters in it", reader.path());
                reader.record_value(node, key, Diagnostic::error(Code::OutOfRange, message));
                None
            }
            _ if text.trim().is_empty() => {
                let message = format!("`{}` is empty", reader.path());
                reader.record_value(node, key, Diagnostic::error(Code::OutOfRange, message));
                None
            }
            _ => Some(text.trim().to_string()),
        }
    }

    fn any(_: &'static Key) -> Self {
        String::new()
    }

    fn show(&self, _: &'static Key, _: &mut Shown) -> Json {
        json!(self)
    }
}

/// What a plain name is made of.
pub const PLAIN_NAME: &str =
    "small letters, digits, hyphens and underscores, starting with a letter, up to 60";

/// Whether a text is safe as the name of a folder on every system.
pub fn is_plain_name(text: &str) -> bool {
    const LONGEST: usize = 60;
    text.len() <= LONGEST
        && text.starts_with(|c: char| c.is_ascii_lowercase())
        && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-' || c == '_')
}

impl FromNode for Thread {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let Value::Text(text) = &node.value else {
            reader.wrong_type(node, key);
            return None;
        };
        let thread = Thread::parse(text);
        if thread.is_none() {
            let message = format!("`{}` is no thread the tables know", reader.path());
            reader.record_value(node, key, Diagnostic::error(Code::NotAChoice, message));
        }
        thread
    }

    fn any(_: &'static Key) -> Self {
        Thread::M3
    }

    fn show(&self, _: &'static Key, _: &mut Shown) -> Json {
        json!(self.to_string())
    }
}

impl FromNode for Material {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let Value::Text(text) = &node.value else {
            reader.wrong_type(node, key);
            return None;
        };
        let material = tables::material(text).cloned();
        if material.is_none() {
            let message = format!("No print material is called \"{text}\"");
            let diagnostic = Diagnostic::error(Code::UnknownMaterial, message);
            let diagnostic = match suggest::near(text, &tables::material_names()) {
                Some(near) => diagnostic.hint(format!("did you mean \"{near}\"?")),
                None => diagnostic,
            };
            reader.record_value(node, key, diagnostic);
        }
        material
    }

    fn any(_: &'static Key) -> Self {
        Material::default()
    }

    fn show(&self, _: &'static Key, _: &mut Shown) -> Json {
        json!(self.name)
    }
}

impl FromNode for Shift {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        match (&node.value, &key.takes) {
            (Value::Text(text), _) if text == "auto" => Some(Shift::Auto),
            (Value::Number { .. }, Takes::NumberOrAuto { least, most }) => {
                read_number(node, key, (*least, *most), reader).map(Shift::Fixed)
            }
            _ => {
                reader.wrong_type(node, key);
                None
            }
        }
    }

    fn any(_: &'static Key) -> Self {
        Shift::Auto
    }

    fn show(&self, _: &'static Key, _: &mut Shown) -> Json {
        match self {
            Shift::Auto => json!("auto"),
            Shift::Fixed(value) => json!(value),
        }
    }
}

/// A type with one value for each of a key's words.
pub trait Choice: Sized + Clone + PartialEq {
    const WORDS: &'static [&'static str];
    /// The values, in the order of the words.
    fn all() -> Vec<Self>;

    fn from_word(word: &str) -> Option<Self> {
        let index = Self::WORDS.iter().position(|candidate| *candidate == word)?;
        Self::all().into_iter().nth(index)
    }

    fn word(&self) -> &'static str {
        let index = Self::all().iter().position(|value| value == self);
        index.and_then(|index| Self::WORDS.get(index)).copied().unwrap_or_default()
    }
}

/// Reads a word; records what is wrong with it.
pub fn read_choice<T: Choice>(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<T> {
    let Value::Text(text) = &node.value else {
        reader.wrong_type(node, key);
        return None;
    };
    let chosen = T::from_word(text);
    if chosen.is_none() {
        let message = format!("`{}` has a few choices, and this is none of them", reader.path());
        let diagnostic = Diagnostic::error(Code::NotAChoice, message);
        let diagnostic = match suggest::near(text, T::WORDS) {
            Some(near) => diagnostic.hint(format!("did you mean \"{near}\"?")),
            None => diagnostic,
        };
        reader.record_value(node, key, diagnostic);
    }
    chosen
}

macro_rules! choice_from_node {
    ($type:ty) => {
        impl $crate::design::reader::FromNode for $type {
            fn read(
                node: &$crate::design::document::Node,
                key: &'static $crate::design::key::Key,
                reader: &mut $crate::design::reader::Reader,
            ) -> Option<Self> {
                $crate::design::value::read_choice(node, key, reader)
            }

            fn any(_: &'static $crate::design::key::Key) -> Self {
                // A choice has at least one word: the macro that declares it asks for one.
                match <Self as $crate::design::value::Choice>::all().into_iter().next() {
                    Some(value) => value,
                    None => unreachable!(),
                }
            }

            fn show(
                &self,
                _: &'static $crate::design::key::Key,
                _: &mut $crate::design::reader::Shown,
            ) -> serde_json::Value {
                serde_json::json!($crate::design::value::Choice::word(self))
            }
        }
    };
}
pub(crate) use choice_from_node;

impl<T: FromNode> FromNode for Vec<T> {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let Value::List(list) = &node.value else {
            reader.wrong_type(node, key);
            return None;
        };
        let items: Vec<Option<T>> = list
            .iter()
            .enumerate()
            .map(|(index, item)| reader.within((index + 1).to_string(), |reader| T::read(item, key, reader)))
            .collect();
        items.into_iter().collect()
    }

    fn any(_: &'static Key) -> Self {
        Vec::new()
    }

    fn show(&self, key: &'static Key, shown: &mut Shown) -> Json {
        self.iter().map(|item| item.show(key, shown)).collect()
    }
}

impl<T: FromNode> FromNode for Named<T> {
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self> {
        let (Value::Table(table), Takes::Named { names, .. }) = (&node.value, &key.takes) else {
            reader.wrong_type(node, key);
            return None;
        };
        reader.check_names(table, names);
        let mut map = Named::new();
        for name in names.iter() {
            let Some(entry) = table.get(name) else { continue };
            let read = reader.within(*name, |reader| T::read(&entry.node, key, reader));
            let entry = match read {
                Some(value) => Entry { value, origin: Origin::Given(entry.node.place.clone()) },
                None => Entry { value: T::any(key), origin: Origin::Faulty },
            };
            map.insert(name, entry);
        }
        Some(map)
    }

    fn any(_: &'static Key) -> Self {
        Named::new()
    }

    fn show(&self, key: &'static Key, shown: &mut Shown) -> Json {
        let mut map = Map::new();
        for (name, entry) in self {
            let value = shown.named(name, &entry.origin, |shown| entry.value.show(key, shown));
            map.insert((*name).into(), value);
        }
        Json::Object(map)
    }
}

fn read_quantity(
    node: &Node,
    key: &'static Key,
    (kind, least, most): (Kind, f64, f64),
    reader: &mut Reader,
) -> Option<f64> {
    let text = match &node.value {
        Value::Text(text) => text,
        Value::Number { value, .. } if value.is_nan() || value.is_infinite() => {
            not_finite(node, key, reader);
            return None;
        }
        Value::Number { .. } => {
            let message = format!("`{}` is {} and needs its unit", reader.path(), kind.name());
            let unit = kind.table().units.first().map_or("", |unit| unit.symbol);
            let hint = format!("write it as text, for example \"{} {unit}\"", node.place.text());
            reader.record_value(node, key, Diagnostic::error(Code::NoUnit, message).hint(hint));
            return None;
        }
        _ => {
            reader.wrong_type(node, key);
            return None;
        }
    };
    match quantity::parse(text, kind) {
        Ok(value) if value >= least && value <= most => Some(value),
        Ok(_) => {
            out_of_range(node, key, reader);
            None
        }
        Err(fault) => {
            let diagnostic = quantity_diagnostic(&fault, kind, &reader.path(), text);
            reader.record_value(node, key, diagnostic);
            None
        }
    }
}

fn quantity_diagnostic(fault: &QuantityFault, kind: Kind, path: &str, text: &str) -> Diagnostic {
    let units = format!("units for {}: {}", kind.name(), kind.unit_list());
    match fault {
        QuantityFault::NotANumber => {
            let message = format!("`{path}` is {}: a number and a unit", kind.name());
            Diagnostic::error(Code::NotANumber, message).hint(units)
        }
        QuantityFault::DecimalComma => {
            let message = format!("`{path}` has a decimal comma");
            Diagnostic::error(Code::NotANumber, message).hint(format!("write \"{}\"", text.replace(',', ".")))
        }
        QuantityFault::NotFinite => {
            Diagnostic::error(Code::NotFinite, format!("`{path}` is not a finite number"))
        }
        QuantityFault::NoUnit => {
            let message = format!("`{path}` is {} and needs its unit", kind.name());
            Diagnostic::error(Code::NoUnit, message).hint(units)
        }
        QuantityFault::UnknownUnit { unit, near } => {
            let message = format!("`{path}` has a unit nobody knows: \"{unit}\"");
            let hint = near.map_or(units, |near| format!("did you mean \"{near}\"?"));
            Diagnostic::error(Code::UnknownUnit, message).hint(hint)
        }
        QuantityFault::WrongKind { unit, is } => {
            let message = format!("`{path}` is {}, and \"{unit}\" measures {}", kind.name(), is.name());
            Diagnostic::error(Code::WrongUnit, message).hint(units)
        }
    }
}

fn read_number(
    node: &Node,
    key: &'static Key,
    (least, most): (f64, f64),
    reader: &mut Reader,
) -> Option<f64> {
    let Value::Number { value, .. } = node.value else {
        reader.wrong_type(node, key);
        return None;
    };
    if !value.is_finite() {
        not_finite(node, key, reader);
        None
    } else if value < least || value > most {
        out_of_range(node, key, reader);
        None
    } else {
        Some(value)
    }
}

fn out_of_range(node: &Node, key: &'static Key, reader: &mut Reader) {
    let message = format!("`{}` is outside the range that makes sense", reader.path());
    reader.record_value(node, key, Diagnostic::error(Code::OutOfRange, message).hint(key.about));
}

fn not_finite(node: &Node, key: &'static Key, reader: &mut Reader) {
    let message = format!("`{}` is not a finite number", reader.path());
    reader.record_value(node, key, Diagnostic::error(Code::NotFinite, message));
}
