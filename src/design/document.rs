//! TOML text as a tree in which every key and value knows its place, so that files can be laid over each other and
//! messages still show the right line.

use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};

/// A value and where it stands.
#[derive(Clone, Debug)]
pub struct Node {
    pub value: Value,
    pub place: Place,
}

/// A TOML value.
#[derive(Clone, Debug)]
pub enum Value {
    Text(String),
    /// An integer or a float, as a float; whole numbers up to 2^53 are exact.
    Number {
        value: f64,
        whole: bool,
    },
    Flag,
    /// Kept as a kind of its own only to say that it is one.
    Date,
    List(Vec<Node>),
    Table(Table),
}

/// Keys and their values in the order of the text.
#[derive(Clone, Debug)]
pub struct Table {
    pub entries: Vec<TableEntry>,
    /// The header or the opening brace: where a missing key is missing.
    pub place: Place,
    /// False when a file it takes values from could not be read: keys that seem to be missing may be in there.
    pub is_complete: bool,
}

#[derive(Clone, Debug)]
pub struct TableEntry {
    pub name: String,
    pub name_place: Place,
    pub node: Node,
}

impl Value {
    /// What it is, as it stands in a sentence.
    pub fn type_name(&self) -> &'static str {
        match self {
            Value::Text(_) => "a text",
            Value::Number { .. } => "a bare number",
            Value::Flag => "true or false",
            Value::Date => "a date",
            Value::List(_) => "a list",
            Value::Table(_) => "a table",
        }
    }
}

impl Table {
    pub fn empty(place: Place) -> Self {
        Table { entries: Vec::new(), place, is_complete: true }
    }

    pub fn get(&self, name: &str) -> Option<&TableEntry> {
        self.entries.iter().find(|entry| entry.name == name)
    }

    pub fn remove(&mut self, name: &str) -> Option<TableEntry> {
        let index = self.entries.iter().position(|entry| entry.name == name)?;
        Some(self.entries.remove(index))
    }

    /// Lays this table over another: what it says wins, what it doesn't say is taken from below.
    pub fn over(mut self, below: Table) -> Table {
        self.is_complete &= below.is_complete;
        for entry in below.entries {
            match self.entries.iter_mut().find(|own| own.name == entry.name) {
                None => self.entries.push(entry),
                Some(own) => {
                    if let (Value::Table(upper), Value::Table(lower)) =
                        (&mut own.node.value, entry.node.value)
                    {
                        let place = upper.place.clone();
                        *upper = std::mem::replace(upper, Table::empty(place)).over(lower);
                    }
                }
            }
        }
        self
    }
}

/// Parses a text; every syntax error is recorded, and what could be read comes back.
pub fn parse(file: &Arc<SourceFile>, problems: &mut Problems) -> Table {
    let (table, errors) = DeTable::parse_recoverable(&file.text);
    for error in errors {
        let place = error.span().map_or_else(|| Place::start_of(file), |span| Place::new(file, span));
        let message = format!("This is not TOML: {}", error.message().lines().collect::<Vec<_>>().join("; "));
        problems.push(
            Diagnostic::error(Code::Syntax, message)
                .at(place)
                .expected("sections in brackets, and lines of key = value")
                .example("outer_diameter = \"86 mm\""),
        );
    }
    let span = table.span();
    convert_table(file, table.get_ref(), Place::new(file, span.start..span.start))
}

fn convert_table(file: &Arc<SourceFile>, table: &DeTable<'_>, place: Place) -> Table {
    let mut entries: Vec<TableEntry> = table
        .iter()
        .map(|(name, node)| TableEntry {
            name: name.get_ref().to_string(),
            name_place: Place::new(file, name.span()),
            node: convert(file, node.get_ref(), Place::new(file, node.span())),
        })
        .collect();
    entries.sort_by_key(|entry| entry.name_place.span.start);
    Table { entries, place, is_complete: true }
}

fn convert(file: &Arc<SourceFile>, value: &DeValue<'_>, place: Place) -> Node {
    let value = match value {
        DeValue::String(text) => Value::Text(text.to_string()),
        DeValue::Integer(number) => {
            match i128::from_str_radix(&number.as_str().replace('_', ""), number.radix()) {
                Ok(integer) => Value::Number { value: integer as f64, whole: true },
                // More digits than any integer type: far outside every range.
                Err(_) => Value::Number { value: f64::INFINITY, whole: true },
            }
        }
        DeValue::Float(number) => Value::Number {
            // The parser has checked the form, but hands over inf and nan in TOML's spelling, which Rust reads too.
            value: number.as_str().replace('_', "").parse().unwrap_or(f64::NAN),
            whole: false,
        },
        DeValue::Boolean(_) => Value::Flag,
        DeValue::Datetime(_) => Value::Date,
        DeValue::Array(list) => Value::List(
            list.iter().map(|node| convert(file, node.get_ref(), Place::new(file, node.span()))).collect(),
        ),
        DeValue::Table(table) => Value::Table(convert_table(file, table, place.clone())),
    };
    Node { value, place }
}
