//! `hubwright make DESIGN`: all files of a design.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::{Answer, Exit, conditions};
use crate::checks::{Checked, Verdict};
use crate::design::{self, Loaded};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::folder::{self, FolderError};
use crate::export::report;
use crate::export::{outputs, summary};
use crate::layout::Fault;
use crate::pipeline::{self, Made, MakeError};

/// Where outputs go when nothing else is said.
const OUTPUT: &str = "output";

/// Makes a design and writes its folder.
pub fn make(design: &Path, out: Option<&Path>) -> Answer {
    let loaded = match design::load(design) {
        Ok(loaded) => loaded,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let made = match made(&loaded) {
        Ok(made) => made,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let solids = match made.solids() {
        Ok(solids) => solids,
        Err(error) => return Answer::refused(refusal(error, &loaded), Exit::WrongInput),
    };
    // The name is checked to be a plain one: it cannot lead out of the folder.
    let target = out.map_or_else(|| Path::new(OUTPUT).join(&loaded.design.name), PathBuf::from);
    let written =
        folder::replace(&target, |fresh| outputs::write(fresh, &made, &solids, loaded.input.clone(), None));
    if let Err(error) = written {
        return not_written(&error, loaded.problems);
    }
    let text = summary::summary(&made, Some(&target.display().to_string()), colour_on_output());
    let tree = json!({
        "design": loaded.design.name,
        "folder": target.display().to_string(),
        "checks": checks_tree(&made.checks),
    });
    Answer { problems: loaded.problems, ..Answer::new(text, tree, exit(&made.checks)) }
}

/// Everything made of a design, or all that stands against it.
pub fn made(loaded: &Loaded) -> Result<Made, Problems> {
    pipeline::make(&loaded.design).map_err(|error| refusal(error, loaded))
}

/// What the design says already, and why it can't be built.
pub(crate) fn refusal(error: MakeError, loaded: &Loaded) -> Problems {
    let mut problems = loaded.problems.clone();
    problems.extend(cannot_build(error, loaded));
    problems.sort();
    problems
}

fn cannot_build(error: MakeError, loaded: &Loaded) -> Vec<Diagnostic> {
    match error {
        MakeError::Layout(faults) => {
            faults.into_iter().map(|fault| broken_condition(fault, loaded)).collect()
        }
        MakeError::Shape(errors) => errors
            .into_iter()
            .map(|error| Diagnostic::error(Code::CannotBuild, error.to_string()).key(error.part.as_str()))
            .collect(),
        MakeError::Scene(error) => vec![Diagnostic::error(Code::CannotBuild, error.to_string())],
    }
}

/// A condition of the layout that doesn't hold, at the line it turns on.
fn broken_condition(fault: Fault, loaded: &Loaded) -> Diagnostic {
    let given = conditions::keys(fault.id).iter().find_map(|key| Some((*key, loaded.places.get(*key)?)));
    let diagnostic = Diagnostic::error(Code::CannotBuild, fault.message.to_string());
    match given {
        Some((key, place)) => diagnostic.at(place.clone()).key(key).found(place.text()),
        None => diagnostic.key(fault.id),
    }
}

pub(super) fn not_written(error: &FolderError, mut problems: Problems) -> Answer {
    let diagnostic = Diagnostic::error(Code::CannotWrite, error.to_string());
    problems.push(diagnostic.hint("--out DIR writes somewhere else"));
    Answer::refused(problems, Exit::CannotWrite)
}

/// 1 when a check fails; warnings and what isn't applicable don't count.
pub fn exit(checks: &[Checked]) -> Exit {
    let fails = checks.iter().any(|checked| checked.outcome.verdict == Verdict::Fails);
    if fails { Exit::CheckFails } else { Exit::AllWell }
}

pub fn checks_tree(checks: &[Checked]) -> Vec<serde_json::Value> {
    checks.iter().map(report::check).collect()
}

/// Whether text on standard output may be coloured: a terminal, and NO_COLOR isn't set.
pub fn colour_on_output() -> bool {
    use std::io::IsTerminal;
    let refused = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    !refused && std::io::stdout().is_terminal()
}
