//! Every value the tool takes when a design file says nothing, with its reason: what `hubwright tables defaults` prints.

use crate::tables::Table;

use super::key::{Key, Presence, Section, Takes};
use super::keys::DesignKeys;

/// All keys that may be left out, by their dotted paths, in the order of declaration.
pub fn defaults() -> Table {
    let mut rows = Vec::new();
    collect(DesignKeys::SECTION, "", &mut rows);
    Table {
        name: "defaults",
        title: "Keys of the design file that may be left out",
        columns: vec!["key", "default", "reason"],
        rows,
        notes: "A default is what counts when the key is missing; the report shows every value that was taken.",
    }
}

fn collect(section: &Section, path: &str, rows: &mut Vec<Vec<String>>) {
    for key in section.keys {
        let path = if path.is_empty() { key.name.to_string() } else { format!("{path}.{}", key.name) };
        match key.takes {
            // A section that may be missing stands for its keys.
            Takes::Section(inner) => {
                if let Presence::Optional { without } = key.presence {
                    rows.push(vec![path, "-".into(), without.into()]);
                } else {
                    collect(inner, &path, rows);
                }
            }
            Takes::Named { section, .. } => collect(section, &format!("{path}.<name>"), rows),
            _ => rows.extend(row(key, path)),
        }
    }
}

/// None for a key that must be there.
fn row(key: &Key, path: String) -> Option<Vec<String>> {
    match key.presence {
        Presence::Required => None,
        Presence::Optional { without } => Some(vec![path, "-".into(), without.into()]),
        // A list of tables reads best with a line for each.
        Presence::Default { value, reason } => {
            Some(vec![path, value.replace("}, {", "},\n{"), reason.into()])
        }
    }
}
