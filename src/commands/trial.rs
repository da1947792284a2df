//! `hubwright trial DESIGN LOG`: a log of the bench against the prediction; measured values into a design file on request.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::make::{made, not_written};
use super::{Answer, Exit};
use crate::book::trial_page;
use crate::design::{self, file};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::{folder, whole_file};
use crate::trial::write_back::{self, Changes};
use crate::trial::{Trial, columns_sheet, log, plot, sheet};

/// The file by which a folder of a trial is known.
const MARK: &str = "trial.json";

/// Where a trial's results go: nowhere, unless asked.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    pub write: Option<&'a Path>,
    pub out: Option<&'a Path>,
}

type Refused = (Problems, Exit);

/// Holds a log against the prediction.
pub fn trial(design: &Path, log: &Path, wanted: Wanted) -> Answer {
    match judged(design, log, wanted) {
        Ok(answer) => answer,
        Err((problems, exit)) => Answer::refused(problems, exit),
    }
}

/// What a log may hold.
pub fn columns() -> Answer {
    let text = columns_sheet::columns_sheet();
    let tree = json!({ "columns": text });
    Answer::new(text, tree, Exit::AllWell)
}

fn wrong(problems: Problems) -> Refused {
    (problems, Exit::WrongInput)
}

fn judged(design: &Path, log: &Path, wanted: Wanted) -> Result<Answer, Refused> {
    let mut problems = Problems::default();
    // Both are read before either is judged, so that all problems are told at once.
    let source = file::read(design, &mut problems);
    let loaded = source.as_ref().map(|source| design::load_text(design, &source.text));
    let readings = match log::read(log) {
        Ok(readings) => Some(readings),
        Err(faults) => {
            problems.extend(faults);
            None
        }
    };
    let (Some(source), Some(Ok(loaded)), Some(readings)) = (&source, &loaded, readings) else {
        if let Some(Err(faults)) = loaded {
            problems.extend(faults);
        }
        return Err(wrong(problems));
    };
    let made = made(loaded).map_err(wrong)?;
    let trial = Trial::of(&made.product, &readings);
    let name = &loaded.design.name;
    let mut text = sheet::text(&trial, name);
    let mut tree = sheet::tree(&trial, name);
    let changes = Changes::of(&trial, &loaded.places, &source.name);
    if let Some(target) = wanted.write {
        write(design, target, &source.text, &changes)?;
        text.push_str(&told(&changes, target));
    }
    insert(&mut tree, "changes", changes_tree(&changes));
    let written = wanted.write.map(|path| path.display().to_string());
    insert(&mut tree, "written", json!(written));
    if let Some(out) = wanted.out {
        if let Err(error) = folder::replace_marked(out, MARK, |fresh| {
            files(fresh, &trial, name, &tree)?;
            fs::write(fresh.join("trial.html"), trial_page::page(&trial, name, &changes, written.as_deref()))
        }) {
            let refused = not_written(&error, loaded.problems.clone());
            return Err((refused.problems, refused.exit));
        }
        text.push_str(&format!("\nPage (trial.html) and plots in {}\n", out.display()));
    }
    Ok(Answer { problems: loaded.problems.clone(), ..Answer::new(text, tree, Exit::AllWell) })
}

fn insert(tree: &mut Value, key: &str, value: Value) {
    if let Value::Object(map) = tree {
        map.insert(key.into(), value);
    }
}

fn changes_tree(changes: &Changes) -> Value {
    let row = |change: &write_back::Change| json!({ "key": change.key, "old": change.old, "new": change.new, "source": change.comment, "removed": change.removed });
    json!({ "changes": changes.changes.iter().map(row).collect::<Vec<_>>(), "refused": changes.refused })
}

fn files(fresh: &Path, trial: &Trial, name: &str, tree: &Value) -> io::Result<()> {
    for result in &trial.results {
        fs::write(fresh.join(format!("{}.svg", result.kind.word())), plot::svg(result))?;
    }
    fs::write(fresh.join("trial.md"), sheet::markdown(trial, name))?;
    let text = serde_json::to_string_pretty(tree).map_err(io::Error::other)?;
    fs::write(fresh.join(MARK), text + "\n")
}

/// Into the design itself or a new file; never over another one.
fn write(design: &Path, target: &Path, text: &str, changes: &Changes) -> Result<(), Refused> {
    let cannot = |message: String| {
        let diagnostic = Diagnostic::error(Code::CannotWrite, message)
            .hint("name the design file itself, or a file that isn't there yet");
        (Problems::from(diagnostic), Exit::CannotWrite)
    };
    let is_design = || match (fs::canonicalize(design), fs::canonicalize(target)) {
        (Ok(design), Ok(target)) => design == target,
        _ => false,
    };
    if fs::symlink_metadata(target).is_ok() && !is_design() {
        return Err(cannot(format!("{} is there already and isn't the design", target.display())));
    }
    let edited = write_back::edited(text, &changes.changes).map_err(|error| {
        let message = format!("{} is not TOML: {}", design.display(), error.message());
        wrong(Diagnostic::error(Code::Syntax, message).into())
    })?;
    // What is written must load: measured values can clash with what else the file says.
    design::load_text(target, &edited).map_err(|mut faults| {
        faults.push(Diagnostic::error(
            Code::Conflict,
            format!("With the measured values {} would not load; nothing is written", target.display()),
        ));
        wrong(faults)
    })?;
    let real: PathBuf = fs::canonicalize(target).unwrap_or_else(|_| target.to_path_buf());
    whole_file::replace(&real, &edited)
        .map_err(|error| cannot(format!("{} cannot be written: {error}", target.display())))
}

fn told(changes: &Changes, target: &Path) -> String {
    let mut text = if changes.changes.is_empty() {
        format!(
            "\nNothing measured has a key of the design file; {} says what the design says.\n",
            target.display()
        )
    } else {
        format!("\nWritten into {}:\n", target.display())
    };
    for change in &changes.changes {
        let old = if change.old.is_empty() { "not given" } else { change.old.as_str() };
        text.push_str(&format!("  {:<32} {old} -> {}\n", change.key, change.new));
        for removed in &change.removed {
            text.push_str(&format!("  {removed:<32} taken out: it said the same in another way\n"));
        }
    }
    for refused in &changes.refused {
        text.push_str(&format!("  {refused}\n"));
    }
    text
}
