//! Reads declared sections out of a document and records everything that is wrong on the way.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::{Map, Value as Json};

use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};

use super::document::{self, Node, Table, Value};
use super::key::{Key, Presence, Section};
use super::suggest;

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    Given(Place),
    /// The declared default, or one worked out from other keys.
    Default,
    /// The file's own value was wrong or missing; the problem is recorded, and nothing is made of this file.
    Faulty,
}

/// A value and its origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry<T> {
    pub value: T,
    pub origin: Origin,
}

impl<T> Entry<T> {
    pub fn by_default(value: T) -> Self {
        Entry { value, origin: Origin::Default }
    }

    pub fn place(&self) -> Option<&Place> {
        match &self.origin {
            Origin::Given(place) => Some(place),
            Origin::Default | Origin::Faulty => None,
        }
    }

    /// Whether rules about several keys may look at this one.
    pub fn is_sound(&self) -> bool {
        self.origin != Origin::Faulty
    }
}

/// A value that a key may hold.
pub trait FromNode: Sized {
    /// None after recording what is wrong.
    fn read(node: &Node, key: &'static Key, reader: &mut Reader) -> Option<Self>;
    /// Some value for a key whose own was faulty, so that the rest of the file can be read; see [`Origin::Faulty`].
    fn any(key: &'static Key) -> Self;
    /// As in the report's resolved input.
    fn show(&self, key: &'static Key, shown: &mut Shown) -> Json;
}

/// A key's slot in a section: [`Entry`] where a value is always there, `Option<Entry>` where it may be missing.
pub trait Field: Sized {
    fn read(table: &Table, key: &'static Key, reader: &mut Reader) -> Self;
    /// Nothing if the value is missing.
    fn show(&self, key: &'static Key, shown: &mut Shown) -> Option<Json>;
}

/// What the reader has found so far, and where it is.
pub struct Reader {
    pub problems: Problems,
    path: Vec<String>,
    muted: bool,
    root: &'static Section,
}

impl Reader {
    pub fn new(root: &'static Section, problems: Problems) -> Self {
        Reader { problems, path: Vec::new(), muted: false, root }
    }

    /// A reader that records nothing: for values that stand in for faulty ones.
    fn muted(root: &'static Section) -> Self {
        Reader { muted: true, ..Reader::new(root, Problems::default()) }
    }

    /// Dotted path of the key being read.
    pub fn path(&self) -> String {
        self.path.join(".")
    }

    /// Records a problem with the key being read.
    pub fn record(&mut self, diagnostic: Diagnostic) {
        if !self.muted {
            let path = self.path();
            self.problems.push(diagnostic.key(path));
        }
    }

    /// Records a problem with the value at hand, with what its key takes and an example.
    pub fn record_value(&mut self, node: &Node, key: &Key, diagnostic: Diagnostic) {
        let diagnostic = diagnostic.at(node.place.clone());
        let diagnostic = if diagnostic.found.is_empty() { diagnostic.found(found(node)) } else { diagnostic };
        let diagnostic = if diagnostic.expected.is_empty() {
            diagnostic.expected(key.takes.expected())
        } else {
            diagnostic
        };
        self.record(diagnostic.example(example_line(key)));
    }

    /// Records that the value is of another type than the key takes.
    pub fn wrong_type(&mut self, node: &Node, key: &'static Key) {
        let message = format!("`{}` takes {}, not {}", self.path(), plain_type(key), node.value.type_name());
        self.record_value(node, key, Diagnostic::error(Code::WrongType, message));
    }

    /// The table a section is read from: the node itself, or what a shorthand stands for.
    pub fn section_table(
        &mut self,
        node: &Node,
        key: &'static Key,
        section: &'static Section,
    ) -> Option<Table> {
        match (&node.value, section.shorthand) {
            (Value::Table(table), _) => Some(table.clone()),
            (Value::Text(_), Some(name)) => Some(Table {
                entries: vec![document::TableEntry {
                    name: name.into(),
                    name_place: node.place.clone(),
                    node: node.clone(),
                }],
                place: node.place.clone(),
                is_complete: true,
            }),
            _ => {
                self.wrong_type(node, key);
                None
            }
        }
    }

    /// Records every key of the table that is not one of these names.
    pub fn check_names(&mut self, table: &Table, names: &[&str]) {
        for entry in table.entries.iter().filter(|entry| !names.contains(&entry.name.as_str())) {
            self.path.push(entry.name.clone());
            let message = format!("There is no key `{}`", self.path());
            let diagnostic = Diagnostic::error(Code::UnknownKey, message)
                .at(entry.name_place.clone())
                .found(format!("`{}`", entry.name))
                .expected(format!("one of {}", names.join(", ")));
            let diagnostic = match suggest::near(&entry.name, names) {
                Some(near) => diagnostic.hint(format!("did you mean `{near}`?")),
                None => match suggest::elsewhere(&entry.name, self.root) {
                    Some(path) => {
                        diagnostic.hint(format!("there is a key `{path}`: is it in the wrong section?"))
                    }
                    None => diagnostic,
                },
            };
            self.record(diagnostic);
            self.path.pop();
        }
    }

    /// Reads something one step further down the path.
    pub fn within<R>(&mut self, name: impl Into<String>, read: impl FnOnce(&mut Reader) -> R) -> R {
        self.path.push(name.into());
        let result = read(self);
        self.path.pop();
        result
    }
}

/// Values by declared names.
pub type Named<T> = BTreeMap<&'static str, Entry<T>>;

/// Some section of a faulty or missing table: its keys' defaults, and any value where there is none.
pub fn any_section<T>(root: &'static Section, read: impl FnOnce(&Table, &mut Reader) -> T) -> T {
    let nothing = Arc::new(SourceFile { name: String::new(), text: String::new() });
    read(&Table::empty(Place::start_of(&nothing)), &mut Reader::muted(root))
}

impl<T: FromNode> Field for Entry<T> {
    fn read(table: &Table, key: &'static Key, reader: &mut Reader) -> Self {
        reader.within(key.name, |reader| {
            if let Some(entry) = table.get(key.name) {
                return match T::read(&entry.node, key, reader) {
                    Some(value) => Entry { value, origin: Origin::Given(entry.node.place.clone()) },
                    None => Entry { value: T::any(key), origin: Origin::Faulty },
                };
            }
            if let Presence::Default { value, .. } = key.presence
                && let Some(node) = declared_node(key, value)
                && let Some(value) = T::read(&node, key, reader)
            {
                return Entry::by_default(value);
            }
            if !table.is_complete {
                return Entry { value: T::any(key), origin: Origin::Faulty };
            }
            let message = format!("`{}` is missing", reader.path());
            reader.record(
                Diagnostic::error(Code::MissingKey, message)
                    .at(table.place.clone())
                    .expected(key.takes.expected())
                    .example(example_line(key))
                    .hint(key.about),
            );
            Entry { value: T::any(key), origin: Origin::Faulty }
        })
    }

    fn show(&self, key: &'static Key, shown: &mut Shown) -> Option<Json> {
        Some(shown.within(key, &self.origin, |shown| self.value.show(key, shown)))
    }
}

impl<T: FromNode> Field for Option<Entry<T>> {
    fn read(table: &Table, key: &'static Key, reader: &mut Reader) -> Self {
        let entry = table.get(key.name)?;
        reader.within(key.name, |reader| {
            let value = T::read(&entry.node, key, reader)?;
            Some(Entry { value, origin: Origin::Given(entry.node.place.clone()) })
        })
    }

    fn show(&self, key: &'static Key, shown: &mut Shown) -> Option<Json> {
        self.as_ref().and_then(|entry| entry.show(key, shown))
    }
}

/// A declared value as a node. None only if the declaration isn't TOML, which a test excludes.
pub fn declared_node(key: &Key, declared: &str) -> Option<Node> {
    let text = format!("{} = {}", key.name, key.takes.toml(declared));
    let file = Arc::new(SourceFile { name: "default".into(), text });
    let mut problems = Problems::default();
    let mut table = document::parse(&file, &mut problems);
    if problems.is_empty() { table.remove(key.name).map(|entry| entry.node) } else { None }
}

/// `kv = "90 rpm/V"`.
pub fn example_line(key: &Key) -> String {
    use super::key::Takes;
    match key.takes {
        Takes::Section(_) | Takes::Named { .. } if key.example.is_empty() => format!("[{}]", key.name),
        _ => format!("{} = {}", key.name, key.takes.toml(key.example)),
    }
}

/// The text as written; long stretches are cut.
fn found(node: &Node) -> String {
    const LONGEST: usize = 60;
    let text = node.place.text();
    let line = text.lines().next().unwrap_or_default();
    if line.chars().count() > LONGEST || text.lines().nth(1).is_some() {
        format!("{} ...", line.chars().take(LONGEST).collect::<String>())
    } else {
        line.to_string()
    }
}

fn plain_type(key: &Key) -> String {
    let expected = key.takes.expected();
    expected.split(" from ").next().unwrap_or_default().to_string()
}

/// The resolved input while it is written down.
#[derive(Default)]
pub struct Shown {
    path: Vec<&'static str>,
    /// Every key that has its default, with the reason.
    pub defaults: Map<String, Json>,
    /// Every key that a file gives, with where.
    pub places: BTreeMap<String, Place>,
}

impl Shown {
    /// Shows a key's value, noting where it comes from.
    fn within(&mut self, key: &'static Key, origin: &Origin, show: impl FnOnce(&mut Shown) -> Json) -> Json {
        let value = self.named(key.name, origin, show);
        if *origin == Origin::Default && !value.is_object() {
            let reason = match key.presence {
                Presence::Default { reason, .. } => reason,
                Presence::Optional { without } => without,
                Presence::Required => "",
            };
            self.path.push(key.name);
            self.defaults.insert(self.path.join("."), reason.into());
            self.path.pop();
        }
        value
    }

    /// Shows something one step further down the path.
    pub fn named(
        &mut self,
        name: &'static str,
        origin: &Origin,
        show: impl FnOnce(&mut Shown) -> Json,
    ) -> Json {
        self.path.push(name);
        if let Origin::Given(place) = origin {
            self.places.insert(self.path.join("."), place.clone());
        }
        let value = show(self);
        self.path.pop();
        value
    }
}
