//! Measured values into the text of a design file: comments, order and all else stay; each value says that it is measured.

use std::collections::BTreeMap;

use toml_edit::{DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::bench::Identified;
use super::findings::Trial;
use crate::design::MEASURED;
use crate::diagnostic::Place;

/// Keys that say the same in another way; only one of them may be there.
const INSTEAD: [(&str, &[&str]); 2] = [
    ("motor.kv", &["motor.spin"]),
    ("motor.phase_resistance", &["motor.line_resistance", "motor.resistance_drop"]),
];

/// One value that changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    pub key: &'static str,
    /// As the file has it; empty if it has none.
    pub old: String,
    pub new: String,
    /// What is written behind it.
    pub comment: String,
    /// Keys taken out, since they said the same in another way.
    pub removed: Vec<&'static str>,
}

/// What a trial changes in a design file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changes {
    pub changes: Vec<Change>,
    /// What can't be written, and why.
    pub refused: Vec<String>,
}

impl Changes {
    /// `places`: where each given key stands; `file`: the design file's name.
    pub fn of(trial: &Trial, places: &BTreeMap<String, Place>, file: &str) -> Changes {
        let mut all = Changes::default();
        for result in &trial.results {
            for identified in &result.identified {
                let Some((key, text)) = &identified.key else { continue };
                let others =
                    INSTEAD.iter().find(|(known, _)| known == key).map_or(&[][..], |(_, others)| others);
                let given = |other: &str| {
                    let below = format!("{other}.");
                    places
                        .iter()
                        .find(|(name, _)| *name == other || name.starts_with(&below))
                        .map(|(_, place)| place)
                };
                let mut removed = Vec::new();
                let mut elsewhere = None;
                for other in others {
                    match given(other) {
                        Some(place) if place.file.name == file => removed.push(*other),
                        Some(place) => elsewhere = Some((*other, place)),
                        None => {}
                    }
                }
                if let Some((other, place)) = elsewhere {
                    all.refused.push(format!(
                        "{key} = {} isn't written: {} gives {other}, which says the same; take it out there",
                        quoted(text),
                        place.file.name
                    ));
                    continue;
                }
                let old = places.get(*key).map(|place| place.text().to_string()).unwrap_or_default();
                let comment = comment(identified, result.kind.word());
                all.changes.push(Change { key, old, new: text.clone(), comment, removed });
            }
        }
        all
    }
}

/// "measured (torque test): 0.081 to 0.084 ohm with 95 % confidence".
fn comment(identified: &Identified, test: &str) -> String {
    let [low, high] = identified.interval.map(|end| identified.measure.text(end));
    format!("{MEASURED}{test} test): {low} to {high} with 95 % confidence")
}

fn quoted(text: &str) -> String {
    if text.parse::<f64>().is_ok() { text.to_string() } else { format!("\"{text}\"") }
}

/// The text with the changes in it.
///
/// # Errors
/// A text that isn't TOML.
pub fn edited(text: &str, changes: &[Change]) -> Result<String, toml_edit::TomlError> {
    let mut document: DocumentMut = text.parse()?;
    for change in changes {
        for other in &change.removed {
            remove(document.as_table_mut(), other);
        }
        set(document.as_table_mut(), change.key, change, false);
    }
    let edited = document.to_string();
    // The library writes line feeds alone.
    let is_dos = text.contains("\r\n");
    Ok(if is_dos { edited.replace("\r\n", "\n").replace('\n', "\r\n") } else { edited })
}

fn remove(table: &mut dyn TableLike, path: &str) {
    match path.split_once('.') {
        None => {
            table.remove(path);
        }
        Some((first, rest)) => {
            if let Some(inner) = table.get_mut(first).and_then(Item::as_table_like_mut) {
                remove(inner, rest);
            }
        }
    }
}

fn set(table: &mut dyn TableLike, path: &str, change: &Change, in_line: bool) {
    if let Some((first, rest)) = path.split_once('.') {
        if !table.get(first).is_some_and(Item::is_table_like) {
            // Dotted, so that each value has a line for its comment; inside braces there is none.
            table.insert(
                first,
                if in_line { Item::Value(Value::InlineTable(InlineTable::new())) } else { dotted() },
            );
        }
        let Some(item) = table.get_mut(first) else { return };
        let in_line = in_line || item.is_inline_table();
        if let Some(inner) = item.as_table_like_mut() {
            set(inner, rest, change, in_line);
        }
        return;
    }
    let mut value: Value = match change.new.parse::<f64>() {
        Ok(number) => number.into(),
        Err(_) => change.new.as_str().into(),
    };
    if let Some(present) = table.get_mut(path).and_then(Item::as_value_mut) {
        *value.decor_mut() = present.decor().clone();
        *present = value;
    } else {
        table.insert(path, Item::Value(value));
    }
    // No comment can stand inside braces.
    if !in_line && let Some(written) = table.get_mut(path).and_then(Item::as_value_mut) {
        let kept =
            written.decor().suffix().and_then(|suffix| suffix.as_str()).unwrap_or("").trim_end().to_string();
        let suffix = match kept.split_once(MEASURED) {
            // Measured again: the older measurement goes, what the reader wrote before it stays.
            Some((before, _)) => format!("{before}{}", change.comment),
            None if kept.contains('#') => format!("{kept}; {}", change.comment),
            None => format!("  # {}", change.comment),
        };
        written.decor_mut().set_suffix(suffix);
    }
}

fn dotted() -> Item {
    let mut table = Table::new();
    table.set_dotted(true);
    Item::Table(table)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(key: &'static str, new: &str) -> Change {
        Change {
            key,
            old: String::new(),
            new: new.into(),
            comment: "measured (spin test): 88 rpm/V to 89 rpm/V with 95 % confidence".into(),
            removed: Vec::new(),
        }
    }

    #[test]
    fn comments_and_order_stay() {
        let text = "# top\n[motor] # mine\nfrom = \"x.toml\"\nkv = \"90 rpm/V\"   # of the sheet\n\n[gearset]\nefficiency = 0.8\n";
        let out = edited(text, &[change("motor.kv", "88.5 rpm/V"), change("gearset.efficiency", "0.76")])
            .expect("TOML");
        assert_eq!(
            out,
            "# top\n[motor] # mine\nfrom = \"x.toml\"\nkv = \"88.5 rpm/V\"   # of the sheet; measured (spin test): 88 rpm/V to 89 \
             rpm/V with 95 % confidence\n\n[gearset]\nefficiency = 0.76  # measured (spin test): 88 rpm/V to 89 rpm/V with 95 % \
             confidence\n"
        );
        // Once more: the older measurement is replaced.
        let again = edited(&out, &[change("motor.kv", "88.7 rpm/V")]).expect("TOML");
        assert_eq!(again.matches("spin test").count(), 2, "{again}");
        assert!(again.contains("# of the sheet; measured"));
    }

    #[test]
    fn new_keys_and_inner_tables() {
        let out =
            edited("[motor]\nkv = 1\n", &[change("motor.thermal.mount_to_air", "2.5 K/W")]).expect("TOML");
        assert!(out.contains("\nthermal.mount_to_air = \"2.5 K/W\"  # measured (spin test)"), "{out}");
        // A table in braces has no room for comments; a section of its own has.
        let braces = edited("[motor]\nthermal = { }\n", &[change("motor.thermal.mount_to_air", "2.5 K/W")])
            .expect("TOML");
        assert!(braces.contains("mount_to_air = \"2.5 K/W\"") && !braces.contains('#'), "{braces}");
        let section = edited(
            "[motor.thermal]\nwinding_to_mount = \"1 K/W\"\n",
            &[change("motor.thermal.mount_to_air", "2.5 K/W")],
        );
        assert!(section.expect("TOML").contains("\nmount_to_air = \"2.5 K/W\"  # measured"));
    }

    #[test]
    fn another_way_to_say_the_same_goes() {
        let text = "[motor]\nline_resistance = \"0.2 ohm\"\n";
        let change =
            Change { removed: vec!["motor.line_resistance"], ..change("motor.phase_resistance", "0.11 ohm") };
        let out = edited(text, &[change]).expect("TOML");
        assert!(!out.contains("line_resistance") && out.contains("phase_resistance = \"0.11 ohm\""), "{out}");
    }
}
