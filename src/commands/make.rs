//! `hubwright make DESIGN`: all files of a design.

use std::path::{Path, PathBuf};

use serde_json::json;

use super::{Answer, Exit};
use crate::checks::{Checked, Verdict};
use crate::design;
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::folder::{self, FolderError};
use crate::export::report;
use crate::export::{outputs, summary};
use crate::pipeline::{self, Made, MakeError};

/// Where outputs go when nothing else is said.
const OUTPUT: &str = "output";

/// Makes a design and writes its folder.
pub fn make(design: &Path, out: Option<&Path>) -> Answer {
    let loaded = match design::load(design) {
        Ok(loaded) => loaded,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let made = match made(&loaded.design, &loaded.problems) {
        Ok(made) => made,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    // The name is checked to be a plain one: it cannot lead out of the folder.
    let target = out.map_or_else(|| Path::new(OUTPUT).join(&loaded.design.name), PathBuf::from);
    let written = folder::replace(&target, |fresh| outputs::write(fresh, &made, loaded.input.clone()));
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
pub fn made(design: &design::Design, warnings: &Problems) -> Result<Made, Problems> {
    pipeline::make(design).map_err(|error| {
        let mut problems = warnings.clone();
        problems.extend(cannot_build(error));
        problems
    })
}

fn cannot_build(error: MakeError) -> Vec<Diagnostic> {
    match error {
        MakeError::Layout(faults) => faults
            .into_iter()
            .map(|fault| Diagnostic::error(Code::CannotBuild, fault.message).key(fault.id))
            .collect(),
        MakeError::Shape(errors) => errors
            .into_iter()
            .map(|error| Diagnostic::error(Code::CannotBuild, error.to_string()).key(error.part.as_str()))
            .collect(),
    }
}

fn not_written(error: &FolderError, mut problems: Problems) -> Answer {
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
