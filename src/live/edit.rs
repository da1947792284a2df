//! One value of a design file changed in its text; comments, order and all other values stay.

use toml_edit::{DocumentMut, Item, TableLike, Value, value};

use crate::design::declared;
use crate::design::key::Takes;

/// Why a value can't be put there.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum EditError {
    #[error("The file is not TOML at present: {0}")]
    NotToml(String),
    #[error("`{0}` stands inside something that is not a table")]
    NoTable(String),
    #[error("`{0}` is no key of a design")]
    NoKey(String),
}

/// What a key says in this file itself, as one types it; none where it doesn't stand there.
pub fn read(text: &str, key: &str) -> Option<String> {
    let document: DocumentMut = text.parse().ok()?;
    let mut item = document.as_item();
    for name in key.split('.') {
        if item.is_str() && shorthand(key) {
            break;
        }
        item = item.get(name)?;
    }
    let found = item.as_value()?;
    Some(match found {
        Value::String(text) => text.value().clone(),
        other => other.clone().decorated("", "").to_string(),
    })
}

/// `output = "6810"` means the designation.
fn shorthand(key: &str) -> bool {
    let Some((above, name)) = key.rsplit_once('.') else { return false };
    matches!(declared(above).map(|key| &key.takes), Some(Takes::Section(section)) if section.shorthand == Some(name))
}

/// The text with the key's value as typed; None takes the key out.
pub fn write(text: &str, key: &str, typed: Option<&str>) -> Result<String, EditError> {
    let takes = &declared(key).ok_or_else(|| EditError::NoKey(key.into()))?.takes;
    let mut document: DocumentMut =
        text.parse().map_err(|error: toml_edit::TomlError| EditError::NotToml(error.message().into()))?;
    let mut table: &mut dyn TableLike = document.as_table_mut();
    let mut names: Vec<&str> = key.split('.').collect();
    let mut last = names.pop().unwrap_or_default();
    for (depth, name) in names.iter().enumerate() {
        let is_short =
            depth + 1 == names.len() && shorthand(key) && table.get(name).is_some_and(|item| item.is_str());
        if is_short {
            last = name;
            break;
        }
        let item = table.entry(name).or_insert_with(|| Item::Table(toml_edit::Table::new()));
        table = item.as_table_like_mut().ok_or_else(|| EditError::NoTable(key.into()))?;
    }
    match typed {
        None => {
            table.remove(last);
        }
        Some(typed) => put(table, last, as_value(takes, typed.trim())),
    }
    let edited = document.to_string();
    // The library writes line feeds alone.
    Ok(if text.contains("\r\n") { edited.replace("\r\n", "\n").replace('\n', "\r\n") } else { edited })
}

/// A count or a number is written bare; what isn't one goes in as text, for the reader to say what is wrong.
fn as_value(takes: &Takes, typed: &str) -> Value {
    let bare = !takes.is_text();
    match (typed.parse::<i64>(), typed.parse::<f64>()) {
        (Ok(whole), _) if bare => whole.into(),
        (_, Ok(number)) if bare => number.into(),
        _ => typed.into(),
    }
}

/// Keeps the spaces and the comment around a value that is there.
fn put(table: &mut dyn TableLike, key: &str, mut new: Value) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(present) => {
            *new.decor_mut() = present.decor().clone();
            *present = new;
        }
        None => {
            table.insert(key, value(new));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# mine\n[gearset] # stage\nface_width    = \"16 mm\"   # wide\nplanets = 3\n\n[bearings]\noutput = { designation = \"6810\" } # big\n";

    #[test]
    fn comments_order_and_spaces_stay() {
        let edited = write(TEXT, "gearset.face_width", Some("17.5 mm")).expect("TOML");
        assert_eq!(edited, TEXT.replace("16 mm", "17.5 mm"));
        let edited = write(TEXT, "gearset.planets", Some("4")).expect("TOML");
        assert_eq!(edited, TEXT.replace("planets = 3", "planets = 4"));
    }

    #[test]
    fn inline_tables_and_shorthands_are_reached() {
        let edited = write(TEXT, "bearings.output.designation", Some("6811")).expect("TOML");
        assert_eq!(edited, TEXT.replace("6810", "6811"));
        let short = TEXT.replace("{ designation = \"6810\" }", "\"6810\"");
        assert_eq!(read(&short, "bearings.output.designation").as_deref(), Some("6810"));
        let edited = write(&short, "bearings.output.designation", Some("6811")).expect("TOML");
        assert_eq!(edited, short.replace("6810", "6811"));
    }

    #[test]
    fn a_key_that_was_not_there_comes_and_goes() {
        let added = write(TEXT, "gearset.backlash", Some("0.2 mm")).expect("TOML");
        assert_eq!(read(&added, "gearset.backlash").as_deref(), Some("0.2 mm"));
        assert_eq!(write(&added, "gearset.backlash", None).expect("TOML"), TEXT);
    }

    #[test]
    fn what_is_not_toml_is_left_alone() {
        assert!(matches!(write("[gearset", "gearset.planets", Some("4")), Err(EditError::NotToml(_))));
        assert!(matches!(write("gearset = 3", "gearset.planets", Some("4")), Err(EditError::NoTable(_))));
    }
}
