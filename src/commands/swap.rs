//! `hubwright swap DESIGN --motor MOTOR`: the same joint on another motor, and what changes.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::{Value, json};

use super::compare::cannot_compare;
use super::make::{exit, made, not_written, refusal};
use super::{Answer, Exit, new_file};
use crate::comparison::Side;
use crate::comparison::carried::carried;
use crate::comparison::inputs;
use crate::comparison::new_motor::{NewDesign, NewMotor, new_design, new_name};
use crate::comparison::swap::Swap;
use crate::design::{self, Loaded, file};
use crate::diagnostic::{Code, Diagnostic, Problems, SourceFile};
use crate::export::{folder, outputs};
use crate::pipeline::MakeError;

/// Where outputs go when nothing else is said.
const OUTPUT: &str = "output";
/// The tree of the answer, beside the product.
const SWAP: &str = "swap.json";

/// Where a swap's results go.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    pub out: Option<&'a Path>,
    pub write: Option<&'a Path>,
}

type Refused = (Problems, Exit);

fn wrong(problems: impl Into<Problems>) -> Refused {
    (problems.into(), Exit::WrongInput)
}

/// Makes a design on another motor.
pub fn swap(design: &Path, motor: &Path, wanted: Wanted) -> Answer {
    match swapped(design, motor, wanted) {
        Ok(answer) => answer,
        Err((problems, exit)) => Answer::refused(problems, exit),
    }
}

/// Both designs as read.
struct Read {
    old: Loaded,
    new: Loaded,
    written: NewDesign,
    /// On the new design: what was chosen for the old motor.
    notes: Vec<Diagnostic>,
}

fn swapped(design: &Path, motor: &Path, wanted: Wanted) -> Result<Answer, Refused> {
    let Read { old, new, written, notes } = read(design, motor, wanted.write)?;
    let both = rayon::join(|| made(&old), || made(&new));
    let (old_made, new_made) = match both {
        (Ok(old), Ok(new)) => (old, new),
        (Err(problems), _) => return Err(wrong(problems)),
        // What can't be laid out may be so by what the design carries over.
        (_, Err(mut problems)) => {
            problems.extend(notes);
            return Err(wrong(problems));
        }
    };
    let sides = [Side { loaded: &old, made: &old_made }, Side { loaded: &new, made: &new_made }];
    let swap = Swap::of(sides, &written, &notes).map_err(|error| wrong(cannot_compare(&error)))?;
    let no_solid = |error: MakeError| wrong(refusal(error, &new));
    let solids = new_made.solids().map_err(no_solid)?;
    let target = wanted.out.map_or_else(|| Path::new(OUTPUT).join(&new.design.name), PathBuf::from);
    let folder_name = target.display().to_string();
    let mut tree = swap.tree(&folder_name);
    let filled = folder::replace(&target, |fresh| {
        outputs::write(fresh, &new_made, &solids, new.input.clone(), Some(swap.chapter()))?;
        let text = serde_json::to_string_pretty(&tree).map_err(io::Error::other)?;
        fs::write(fresh.join(SWAP), text + "\n")
    });
    if let Err(error) = filled {
        let refused = not_written(&error, new.problems);
        return Err((refused.problems, refused.exit));
    }
    let mut text = swap.text(&folder_name);
    match wanted.write {
        Some(path) => {
            new_file::write(path, &written.text)
                .map_err(|diagnostic| (diagnostic.into(), Exit::CannotWrite))?;
            text.push_str(&format!("\n{} is written. Next: hubwright make {0}\n", path.display()));
        }
        None => text.push_str("\n--write FILE keeps the new design file.\n"),
    }
    if let Value::Object(map) = &mut tree {
        map.insert("written".into(), json!(wanted.write.map(|path| path.display().to_string())));
    }
    let mut problems = new.problems.clone();
    problems.extend(notes.iter().cloned());
    Ok(Answer { problems, ..Answer::new(text, tree, exit(&new_made.checks)) })
}

fn read(design: &Path, motor: &Path, write: Option<&Path>) -> Result<Read, Refused> {
    let mut problems = Problems::default();
    problems.extend(write.and_then(new_file::refused));
    if [design, motor].iter().all(|path| path.as_os_str() == "-") {
        problems.push(
            Diagnostic::error(Code::Conflict, "Design and motor are both to come from standard input")
                .expected("one of them as a file")
                .example("hubwright swap - --motor designs/motors/disc-70.toml"),
        );
        return Err(wrong(problems));
    }
    // All are read before any is judged, so that all problems are told at once.
    let source = file::read(design, &mut problems);
    let old = source.as_ref().map(|source| design::load_text(design, &source.text));
    let motor = NewMotor::read(motor).map_err(|faults| problems.extend(faults)).ok();
    let (Some(source), Some(Ok(old)), Some(motor), false) = (&source, &old, &motor, problems.has_errors())
    else {
        if let Some(Err(faults)) = old {
            problems.extend(faults);
        }
        return Err(wrong(problems));
    };
    let (new, written) = on_new_motor(design, source, old, motor, write)?;
    let rows = inputs::rows([old, &new]);
    let notes = carried(old, &new, &written, &rows);
    Ok(Read { old: old.clone(), new, written, notes })
}

/// The new design's text, loaded where it lands: at the file asked for, else beside the old one.
fn on_new_motor(
    design: &Path,
    source: &Arc<SourceFile>,
    old: &Loaded,
    motor: &NewMotor,
    write: Option<&Path>,
) -> Result<(Loaded, NewDesign), Refused> {
    let folder = folder_of(design);
    let name = new_name(&old.design, &motor.name());
    let landing = write.map_or_else(|| folder.join(format!("{name}.toml")), PathBuf::from);
    let written = new_design(source, [folder, folder_of(&landing)], motor, &name).map_err(wrong)?;
    let new = design::load_text(&landing, &written.text).map_err(wrong)?;
    if new.design.motor == old.design.motor {
        let message = format!("{} is on this motor already: nothing to swap", design.display());
        let same = Diagnostic::error(Code::Conflict, message)
            .key("motor")
            .found(format!("{} with the same data", old.design.motor.name))
            .expected("another motor's file, or a design on another motor");
        return Err(wrong(same));
    }
    Ok((new, written))
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new(""))
}
