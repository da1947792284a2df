//! The text of a design with another motor in it: `[motor]` is replaced, everything else stays byte for byte but the name.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use toml_edit::{DocumentMut, Item, Table, TableLike, Value, value};

use crate::design::document::{self, Table as Tree, Value as TreeValue};
use crate::design::file::{self, FROM};
use crate::design::{Design, declared};
use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};
use crate::search::text::lines;

/// Longest name of a folder that a design may give.
const LONGEST_NAME: usize = 60;
const MOTOR: &str = "motor";
/// The key that names a file of torque and speed over time.
const DUTY: [&str; 2] = ["requirement", "duty"];

/// A motor as a file gives it: a motor's own file, or the `[motor]` of a design.
#[derive(Clone, Debug)]
pub struct NewMotor {
    /// As the user typed it.
    file: Arc<SourceFile>,
    /// A file that holds all of it, to be named by `from`.
    reference: Option<PathBuf>,
    /// Beside `from`.
    overrides: Tree,
    /// All of it, with what it takes from other files.
    resolved: Tree,
}

impl NewMotor {
    /// Reads it; "-" is standard input.
    ///
    /// # Errors
    /// No such file, not TOML, or neither a motor nor a design.
    pub fn read(path: &Path) -> Result<NewMotor, Problems> {
        let mut problems = Problems::default();
        let Some(file) = file::read(path, &mut problems) else { return Err(problems) };
        let folder = path.parent().unwrap_or(Path::new(""));
        let own = document::parse(&file, &mut problems);
        if problems.has_errors() {
            return Err(problems);
        }
        let whole = file::tree(&file, folder, &mut problems).filter(|_| !problems.has_errors());
        let Some(whole) = whole else { return Err(problems) };
        let is_stdin = path.as_os_str() == "-";
        match (section(&own), section(&whole)) {
            (Some(own), Some(resolved)) => {
                let named = file::named_by(MOTOR, &file, folder).map_err(Problems::from)?;
                let mut overrides = own.clone();
                overrides.remove(FROM);
                // What takes values from a file of its own would look for it elsewhere: the values then.
                let reference = named.map(|(shown, _)| shown).filter(|_| !names_files(&overrides));
                Ok(NewMotor { file, reference, overrides, resolved: resolved.clone() })
            }
            _ if is_motor(&whole) => Ok(NewMotor {
                reference: (!is_stdin).then(|| path.to_path_buf()),
                overrides: Tree::empty(whole.place.clone()),
                resolved: whole,
                file,
            }),
            _ => Err(not_a_motor(&file).into()),
        }
    }

    /// Its name, or that of its file.
    pub fn name(&self) -> String {
        match self.resolved.get("name").map(|entry| &entry.node.value) {
            Some(TreeValue::Text(name)) => name.clone(),
            _ => Path::new(&self.file.name)
                .file_stem()
                .map_or(MOTOR.to_string(), |stem| stem.to_string_lossy().into_owned()),
        }
    }

    /// As lines of `[motor]` for a design in `folder`, and whether values had to be copied, since `from` can't reach their file.
    fn lines_in(&self, folder: &Path) -> (String, bool) {
        match self.reference.as_ref().and_then(|file| file::name_from(folder, file)) {
            Some(name) => (format!("{FROM} = {}\n{}", value(name), lines(&self.overrides)), false),
            None => (lines(&self.resolved), true),
        }
    }
}

fn section(tree: &Tree) -> Option<&Tree> {
    match tree.get(MOTOR).map(|entry| &entry.node.value) {
        Some(TreeValue::Table(table)) => Some(table),
        _ => None,
    }
}

/// Whether any table in it takes values from a file.
fn names_files(tree: &Tree) -> bool {
    tree.entries.iter().any(|entry| match &entry.node.value {
        TreeValue::Table(inner) => inner.get(FROM).is_some() || names_files(inner),
        _ => false,
    })
}

/// Whether a file's keys are a motor's: one that only a motor has is enough, the reader says what is wrong with the rest.
fn is_motor(tree: &Tree) -> bool {
    /// Keys that a section of another name has too say nothing.
    const TELLING: [&str; 4] = ["kv", "pole_pairs", "outer_diameter", "stator_bolts"];
    TELLING.iter().any(|name| tree.get(name).is_some() && declared(&format!("{MOTOR}.{name}")).is_some())
}

fn not_a_motor(file: &Arc<SourceFile>) -> Diagnostic {
    Diagnostic::error(Code::MissingKey, format!("{} is neither a motor nor a design", file.name))
        .at(Place::start_of(file))
        .expected("a file with a motor's keys (kv, pole_pairs, outer_diameter ...), or a design file, whose [motor] is taken")
        .example("hubwright swap designs/weeder-shoulder.toml --motor designs/motors/disc-70.toml")
}

/// A design's text on another motor.
#[derive(Clone, Debug, PartialEq)]
pub struct NewDesign {
    pub name: String,
    pub text: String,
    /// Keys of the old `[motor]` beside its `from`: they were put over the old motor's own values, and went with it.
    pub dropped: Vec<String>,
    /// The motor's values stand in the design itself: `from` can't reach their file.
    pub is_copied: bool,
}

/// "weeder-shoulder-on-disc-70": a name of its own, so that the old product stays. A design that was put on a motor before loses that
/// motor's name.
pub fn new_name(old: &Design, motor: &str) -> String {
    let suffix = |motor: &str| format!("-on-{}", plain(motor));
    let base = old.name.strip_suffix(&suffix(&old.motor.name)).unwrap_or(&old.name);
    let suffix = suffix(motor);
    let room = LONGEST_NAME.saturating_sub(suffix.len());
    // Plain names are ASCII: any place is one between letters.
    let base = base.get(..room.min(base.len())).unwrap_or(base).trim_end_matches(['-', '_']);
    format!("{base}{suffix}")
}

/// Small letters, digits and hyphens.
fn plain(text: &str) -> String {
    /// A third of a name's room.
    const LONGEST: usize = 20;
    let letters: String = text
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' })
        .collect();
    let words: Vec<&str> = letters.split('-').filter(|word| !word.is_empty()).collect();
    let joined = words.join("-");
    let short = joined.get(..LONGEST.min(joined.len())).unwrap_or_default().trim_end_matches('-');
    if short.is_empty() { MOTOR.to_string() } else { short.to_string() }
}

/// The text of `source` on another motor, for a file in `landing`; `folder` is where the old one lies.
///
/// # Errors
/// Not TOML, or files that a design in `landing` can't name.
pub fn new_design(
    source: &SourceFile,
    folders: [&Path; 2],
    motor: &NewMotor,
    name: &str,
) -> Result<NewDesign, Problems> {
    let [folder, landing] = folders;
    let syntax = |error: toml_edit::TomlError| {
        Problems::from(Diagnostic::error(Code::Syntax, format!("This is not TOML: {}", error.message())))
    };
    let mut document: DocumentMut = source.text.parse().map_err(syntax)?;
    let (motor_lines, is_copied) = motor.lines_in(landing);
    let fresh: DocumentMut = format!("[{MOTOR}]\n{motor_lines}").parse().map_err(syntax)?;
    let dropped = replace_motor(&mut document, fresh);
    let mut problems = Problems::default();
    if !is_same_folder(folder, landing) {
        rename(document.as_table_mut(), &mut Vec::new(), [folder, landing], &mut problems);
    }
    if problems.has_errors() {
        return Err(problems);
    }
    let mut text = set_name(&mut document, name);
    // The library writes line feeds alone.
    if source.text.contains("\r\n") {
        text = text.replace("\r\n", "\n").replace('\n', "\r\n");
    }
    Ok(NewDesign { name: name.to_string(), text, dropped, is_copied })
}

fn is_same_folder(a: &Path, b: &Path) -> bool {
    matches!((file::canonical(a), file::canonical(b)), (Ok(a), Ok(b)) if a == b)
}

/// Puts the new `[motor]` where the old one stands, with the comments around its heading; keys of the old one beside `from`.
fn replace_motor(document: &mut DocumentMut, mut fresh: DocumentMut) -> Vec<String> {
    let Some(Item::Table(mut table)) = fresh.remove(MOTOR) else { return Vec::new() };
    let old = document.get(MOTOR);
    let mut dropped = Vec::new();
    if let Some(old) = old.and_then(Item::as_table_like).filter(|old| old.contains_key(FROM)) {
        keys_of(old, MOTOR, &mut dropped);
    }
    match old {
        Some(Item::Table(old)) if !old.is_dotted() && !old.is_implicit() => {
            *table.decor_mut() = old.decor().clone();
            place_all(&mut table, old.position());
        }
        _ => place_all(&mut table, None),
    }
    document.insert(MOTOR, Item::Table(table));
    dropped
}

/// The library writes tables by their place in the text: those of the fresh one stand where the old one did.
fn place_all(table: &mut Table, position: Option<isize>) {
    table.set_position(position);
    for (_, item) in table.iter_mut() {
        if let Item::Table(inner) = item {
            place_all(inner, position);
        }
    }
}

/// Dotted paths of all values, but `from`.
fn keys_of(table: &dyn TableLike, above: &str, found: &mut Vec<String>) {
    for (name, item) in table.iter() {
        let key = format!("{above}.{name}");
        match item.as_table_like() {
            Some(inner) => keys_of(inner, &key, found),
            None if name == FROM => {}
            None => found.push(key),
        }
    }
}

/// Names of files as a design elsewhere has to write them.
fn rename(table: &mut dyn TableLike, above: &mut Vec<String>, folders: [&Path; 2], problems: &mut Problems) {
    for (key, item) in table.iter_mut() {
        let name = key.get().to_string();
        // The new motor's is written for the new place already.
        if above.is_empty() && name == MOTOR {
            continue;
        }
        let is_file = name == FROM || (above.len() == 1 && above[0] == DUTY[0] && name == DUTY[1]);
        above.push(name);
        if let Some(inner) = item.as_table_like_mut() {
            rename(inner, above, folders, problems);
        } else if let (true, Some(present)) = (is_file, item.as_value_mut()) {
            rename_one(present, &above.join("."), folders, problems);
        }
        above.pop();
    }
}

fn rename_one(present: &mut Value, key: &str, [folder, landing]: [&Path; 2], problems: &mut Problems) {
    let Some(named) = present.as_str() else { return };
    match file::name_from(landing, &folder.join(named)) {
        Some(name) => {
            let mut fresh = Value::from(name);
            *fresh.decor_mut() = present.decor().clone();
            *present = fresh;
        }
        None => {
            let shown = landing.display().to_string();
            let place = if shown.is_empty() { "this folder".to_string() } else { shown };
            problems.push(
                Diagnostic::error(
                    Code::FromRefused,
                    format!("A design in {place} can't name the file of `{key}`"),
                )
                .key(key)
                .found(format!("\"{named}\""))
                .expected(
                    "--write to a file beside the design, or inside a `designs` folder that holds both",
                ),
            );
        }
    }
}

/// The text under its new name.
fn set_name(document: &mut DocumentMut, name: &str) -> String {
    match document.get_mut("name").and_then(Item::as_value_mut) {
        Some(present) => {
            let mut fresh = Value::from(name);
            *fresh.decor_mut() = present.decor().clone();
            *present = fresh;
            document.to_string()
        }
        // A file without a name goes by its own: the new one may be called anything.
        None => format!("name = {}\n{}", value(name), document),
    }
}
