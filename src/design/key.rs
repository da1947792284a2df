//! What a key of the design file is: declared once, as data.
//!
//! Reading, unknown-key detection, the JSON Schema, the commented file of `start` and the list of defaults all follow
//! from these declarations.

use crate::quantity::{self, Kind};

/// A section: a table of keys.
#[derive(Debug)]
pub struct Section {
    /// What it holds, in a sentence.
    pub about: &'static str,
    pub keys: &'static [Key],
    /// A bare text in place of the table means this key alone.
    pub shorthand: Option<&'static str>,
}

/// A key of a section.
#[derive(Debug)]
pub struct Key {
    pub name: &'static str,
    pub takes: Takes,
    pub presence: Presence,
    /// A right value, as TOML without the quotes a text needs.
    pub example: &'static str,
    /// What it means, in a line.
    pub about: &'static str,
}

/// Whether a key must be there.
#[derive(Debug)]
pub enum Presence {
    Required,
    /// May be missing; the reason says what that means.
    Optional {
        without: &'static str,
    },
    /// Has a value when missing, written as in a file.
    Default {
        value: &'static str,
        reason: &'static str,
    },
}

/// What a key takes. Ranges are inclusive, quantities in internal units.
#[derive(Debug)]
pub enum Takes {
    Quantity {
        kind: Kind,
        least: f64,
        most: f64,
    },
    /// A list of quantities of one kind.
    Quantities {
        count: usize,
        kind: Kind,
        least: f64,
        most: f64,
    },
    Count {
        least: u32,
        most: u32,
    },
    Number {
        least: f64,
        most: f64,
    },
    /// "auto" or a number.
    NumberOrAuto {
        least: f64,
        most: f64,
    },
    Choice(&'static [&'static str]),
    Text,
    /// Text that may stand as a folder's name.
    Name,
    Thread,
    /// A print material of the table.
    Material,
    Section(&'static Section),
    /// A list of tables.
    Sections(&'static Section),
    /// A table of tables with these names.
    Named {
        names: &'static [&'static str],
        section: &'static Section,
    },
}

impl Takes {
    pub const fn length(least: f64, most: f64) -> Takes {
        Takes::Quantity { kind: Kind::Length, least, most }
    }

    /// A value that TOML writes in quotes.
    pub fn is_text(&self) -> bool {
        matches!(
            self,
            Takes::Quantity { .. }
                | Takes::Choice(_)
                | Takes::Text
                | Takes::Name
                | Takes::Thread
                | Takes::Material
        )
    }

    /// A declared value as TOML source.
    pub fn toml(&self, declared: &str) -> String {
        let quoted = self.is_text() || (matches!(self, Takes::NumberOrAuto { .. }) && declared == "auto");
        if quoted { format!("\"{declared}\"") } else { declared.to_string() }
    }

    /// "a length from 1 mm to 500 mm".
    pub fn expected(&self) -> String {
        match self {
            Takes::Quantity { kind, least, most } => {
                format!("{} {}, as text with its unit", kind.name(), range(*kind, *least, *most))
            }
            Takes::Quantities { count, kind, least, most } => {
                format!("a list of {count}, each {} {}", kind.name(), range(*kind, *least, *most))
            }
            Takes::Count { least, most } => format!("a whole number from {least} to {most}"),
            Takes::Number { least, most } => format!("a number from {least} to {most}"),
            Takes::NumberOrAuto { least, most } => format!("\"auto\" or a number from {least} to {most}"),
            Takes::Choice(choices) => {
                let quoted: Vec<String> = choices.iter().map(|choice| format!("\"{choice}\"")).collect();
                format!("one of {}", quoted.join(", "))
            }
            Takes::Text => "a text".into(),
            Takes::Name => super::value::PLAIN_NAME.into(),
            Takes::Thread => "a thread: M2, M2.5, M3, M4, M5 or M6".into(),
            Takes::Material => format!("a print material: {}", crate::tables::material_names().join(", ")),
            Takes::Section(_) => "a table of keys".into(),
            Takes::Sections(_) => "a list of tables".into(),
            Takes::Named { .. } => "a table of tables".into(),
        }
    }
}

fn range(kind: Kind, least: f64, most: f64) -> String {
    format!("from {} to {}", quantity::format(least, kind), quantity::format(most, kind))
}
