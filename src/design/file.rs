//! Reads design files: from the disk or standard input, with the files they take values from.

#![allow(clippy::result_large_err, reason = "made once for a file that can't be read: nothing to save")]

use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};

use super::document::{self, Table, TableEntry, Value};
use super::suggest;

/// Largest file read \[bytes\]: a design of every key with long comments has some 20 kB.
const LARGEST_FILE: u64 = 1 << 20;
/// Longest chain of files that take values from each other.
const LONGEST_CHAIN: usize = 16;

/// The key that takes a section's values from another file.
pub const FROM: &str = "from";

/// Reads a design file; "-" is standard input.
///
/// # Errors
/// Records why there is no text to read, and returns none.
pub fn read(argument: &Path, problems: &mut Problems) -> Option<Arc<SourceFile>> {
    let name = argument.to_string_lossy().into_owned();
    let bytes = if name == "-" {
        read_bounded("standard input", io::stdin().lock())
    } else if argument.is_dir() {
        Err(Diagnostic::error(Code::FileUnreadable, format!("{name} is a folder, not a design file"))
            .expected("a TOML file")
            .example("hubwright make designs/weeder-shoulder.toml"))
    } else {
        File::open(argument)
            .map_err(|error| unreadable(&name, &error))
            .and_then(|file| read_bounded(&name, file))
    };
    let text = bytes.and_then(|bytes| text(&name, bytes));
    match text {
        Ok(text) => Some(Arc::new(SourceFile { name, text })),
        Err(diagnostic) => {
            problems.push(diagnostic);
            None
        }
    }
}

fn read_bounded(name: &str, reader: impl Read) -> Result<Vec<u8>, Diagnostic> {
    let mut bytes = Vec::new();
    reader.take(LARGEST_FILE + 1).read_to_end(&mut bytes).map_err(|error| {
        Diagnostic::error(Code::FileUnreadable, format!("{name} cannot be read: {error}"))
    })?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(Diagnostic::error(Code::FileTooLarge, format!("{name} is larger than any design file"))
            .expected("a TOML file of some kilobytes, at most a megabyte"));
    }
    Ok(bytes)
}

fn unreadable(name: &str, error: &io::Error) -> Diagnostic {
    if error.kind() == ErrorKind::NotFound {
        let diagnostic = Diagnostic::error(Code::FileMissing, format!("There is no file {name}"));
        match near_file(Path::new(name)) {
            Some(near) => diagnostic.hint(format!("did you mean {near}?")),
            None => diagnostic.hint("hubwright start NAME writes a design file to begin with"),
        }
    } else {
        Diagnostic::error(Code::FileUnreadable, format!("{name} cannot be read: {error}"))
    }
}

/// A file of a similar name in the same folder.
fn near_file(path: &Path) -> Option<String> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let mut names: Vec<String> = folder
        .read_dir()
        .ok()?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".toml"))
        .collect();
    names.sort();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let near = suggest::near(path.file_name()?.to_str()?, &names)?;
    Some(path.with_file_name(near).display().to_string())
}

fn text(name: &str, bytes: Vec<u8>) -> Result<String, Diagnostic> {
    let not_text = |at: usize| {
        Diagnostic::error(Code::FileNotText, format!("{name} is not text"))
            .found(format!("a byte at {at} that no UTF-8 text has there"))
            .expected("a TOML file in UTF-8")
    };
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        return Err(not_text(at));
    }
    String::from_utf8(bytes).map_err(|error| not_text(error.utf8_error().valid_up_to()))
}

/// A file's own keys with what they take from other files; none if there is nothing to read keys from.
///
/// # Arguments
/// * `folder`: the folder of the design, which the names in `from` start from.
pub fn tree(file: &Arc<SourceFile>, folder: &Path, problems: &mut Problems) -> Option<Table> {
    tree_after(file, folder, problems, |_, _, _| {})
}

/// As [`tree`]; `before` may change the file's own keys before other files are read.
pub fn tree_after(
    file: &Arc<SourceFile>,
    folder: &Path,
    problems: &mut Problems,
    before: impl FnOnce(&mut Table, &Path, &mut Problems),
) -> Option<Table> {
    let mut syntax = Problems::default();
    let mut table = document::parse(file, &mut syntax);
    if syntax.has_errors() {
        problems.extend(syntax);
        return None;
    }
    if table.entries.is_empty() {
        problems.push(
            Diagnostic::error(Code::FileEmpty, format!("{} has no keys in it", file.name))
                .at(Place::start_of(file))
                .expected("at least the sections [motor], [gearset] and [bearings]")
                .hint("hubwright start NAME writes a design file to begin with"),
        );
        return None;
    }
    before(&mut table, folder, problems);
    let mut sources = Sources { roots: roots(folder), chain: Vec::new(), path: Vec::new(), problems };
    sources.resolve(&mut table, folder);
    Some(table)
}

/// Folders that `from` and a duty may reach into: the design's own, and any `designs` folder it lies in or beside.
pub(super) fn roots(folder: &Path) -> Vec<PathBuf> {
    let Ok(own) = canonical(folder) else { return Vec::new() };
    let mut roots = vec![own.clone()];
    for above in own.ancestors() {
        if above.file_name().is_some_and(|name| name == "designs") {
            roots.push(above.to_path_buf());
        }
        let beside = above.join("designs");
        if beside.is_dir() {
            roots.push(beside);
        }
    }
    roots
}

pub(crate) fn canonical(path: &Path) -> io::Result<PathBuf> {
    if path.as_os_str().is_empty() { Path::new(".").canonicalize() } else { path.canonicalize() }
}

/// The file that a section of a document takes its values from: as shown to the user, and as the system knows it. None if
/// the section names none.
///
/// # Errors
/// A name that leads nowhere, or out of the folders that `from` may reach into.
pub(crate) fn named_by(
    section: &str,
    file: &Arc<SourceFile>,
    folder: &Path,
) -> Result<Option<(PathBuf, PathBuf)>, Diagnostic> {
    let mut problems = Problems::default();
    let document = document::parse(file, &mut problems);
    let Some(Value::Table(table)) = document.get(section).map(|entry| &entry.node.value) else {
        return Ok(None);
    };
    let Some(from) = table.get(FROM) else { return Ok(None) };
    let sources =
        Sources { roots: roots(folder), chain: Vec::new(), path: Vec::new(), problems: &mut problems };
    sources
        .locate(from, folder)
        .map(Some)
        .map_err(|diagnostic| diagnostic.at(from.node.place.clone()).key(format!("{section}.{FROM}")))
}

/// How a design in `folder` names a file by `from`; none where it may not reach it, or either isn't there.
pub(crate) fn name_from(folder: &Path, file: &Path) -> Option<String> {
    let (own, found) = (canonical(folder).ok()?, canonical(file).ok()?);
    roots(folder).iter().any(|root| found.starts_with(root)).then_some(())?;
    let shared = own.components().zip(found.components()).take_while(|(a, b)| a == b).count();
    let up = own.components().skip(shared).map(|_| "..".to_string());
    let down = found.components().skip(shared).map(|part| part.as_os_str().to_string_lossy().into_owned());
    Some(up.chain(down).collect::<Vec<_>>().join("/"))
}

struct Sources<'a> {
    roots: Vec<PathBuf>,
    /// Files being read, outermost first.
    chain: Vec<PathBuf>,
    /// Keys down to the table at hand.
    path: Vec<String>,
    problems: &'a mut Problems,
}

impl Sources<'_> {
    /// Lays every table over the file it names.
    fn resolve(&mut self, table: &mut Table, folder: &Path) {
        let from = table.remove(FROM);
        for entry in &mut table.entries {
            self.path.push(entry.name.clone());
            self.resolve_value(&mut entry.node.value, folder);
            self.path.pop();
        }
        let Some(from) = from else { return };
        match self.taken_from(&from, folder) {
            Some(below) => {
                let place = table.place.clone();
                *table = std::mem::replace(table, Table::empty(place)).over(below);
            }
            None => table.is_complete = false,
        }
    }

    fn resolve_value(&mut self, value: &mut Value, folder: &Path) {
        match value {
            Value::Table(table) => self.resolve(table, folder),
            Value::List(list) => {
                for node in list {
                    self.resolve_value(&mut node.value, folder);
                }
            }
            Value::Text(_) | Value::Number { .. } | Value::Flag | Value::Date => {}
        }
    }

    fn taken_from(&mut self, from: &TableEntry, folder: &Path) -> Option<Table> {
        let key = self.path.iter().map(String::as_str).chain([FROM]).collect::<Vec<_>>().join(".");
        let (path, found) = match self.locate(from, folder) {
            Ok(located) => located,
            Err(diagnostic) => {
                self.problems.push(diagnostic.at(from.node.place.clone()).key(key));
                return None;
            }
        };
        let mut reading = Problems::default();
        let below = read(&path, &mut reading).and_then(|file| {
            let mut table = document::parse(&file, &mut reading);
            if reading.has_errors() {
                return None;
            }
            self.chain.push(found);
            self.resolve(&mut table, path.parent().unwrap_or(Path::new("")));
            self.chain.pop();
            Some(table)
        });
        for diagnostic in reading {
            let place = diagnostic.place.clone().unwrap_or_else(|| from.node.place.clone());
            self.problems.push(diagnostic.at(place).key(key.clone()));
        }
        below
    }

    /// The file meant, as shown to the user and as the system knows it.
    fn locate(&self, from: &TableEntry, folder: &Path) -> Result<(PathBuf, PathBuf), Diagnostic> {
        const EXAMPLE: &str = "from = \"motors/disc-86.toml\"";
        let Value::Text(text) = &from.node.value else {
            let message = format!("`from` takes a file's name, not {}", from.node.value.type_name());
            return Err(Diagnostic::error(Code::WrongType, message).example(EXAMPLE));
        };
        let refused = |message: &str| {
            Diagnostic::error(Code::FromRefused, message)
                .found(format!("\"{text}\""))
                .expected("a name relative to this file, inside the design's folder or a `designs` folder")
                .example(EXAMPLE)
        };
        let path = Path::new(text);
        let is_absolute = path.is_absolute()
            || text.starts_with(['/', '\\'])
            || path.components().any(|component| matches!(component, Component::Prefix(_)));
        if text.contains("://") {
            return Err(refused("`from` names a file beside the design, not an address"));
        }
        if is_absolute {
            return Err(refused("`from` is relative, so that a design can move with its files"));
        }
        let path = folder.join(path);
        let found = canonical(&path).map_err(|error| unreadable(&path.to_string_lossy(), &error))?;
        if !self.roots.iter().any(|root| found.starts_with(root)) {
            return Err(refused("`from` leaves the design's folder"));
        }
        if self.chain.contains(&found) || self.chain.len() >= LONGEST_CHAIN {
            let message = "This file takes values from itself, by way of the files it names";
            return Err(Diagnostic::error(Code::FromCycle, message).found(format!("\"{text}\"")));
        }
        Ok((path, found))
    }
}
