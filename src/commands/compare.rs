//! `hubwright compare A B`: two designs side by side, differences first.

use std::path::Path;

use serde_json::{Value, json};

use super::make::made;
use super::{Answer, Exit};
use crate::comparison::blocks::Telling;
use crate::comparison::{Comparison, Side, text, tree};
use crate::design::{self, Loaded};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::geometry::ShapeError;
use crate::pipeline::Made;

/// Which of the designs, above their columns, when their names don't tell.
const LETTERS: [&str; 2] = ["A", "B"];

/// Compares two designs; `all` lists what is alike too.
pub fn compare(designs: [&Path; 2], all: bool) -> Answer {
    match compared(designs, all) {
        Ok(answer) => answer,
        Err(problems) => Answer::refused(problems, Exit::WrongInput),
    }
}

fn compared(designs: [&Path; 2], all: bool) -> Result<Answer, Problems> {
    let loaded = both_loaded(designs)?;
    let made = both_made(&loaded)?;
    let sides = [0, 1].map(|side| Side { loaded: &loaded[side], made: &made[side] });
    let comparison = Comparison::of(sides[0], sides[1]).map_err(|error| cannot_compare(&error))?;
    let names = [comparison.names[0].as_str(), comparison.names[1].as_str()];
    let heads = if names[0] == names[1] { LETTERS } else { names };
    let paths = designs.map(|path| path.display().to_string());
    let body = text::text(&comparison, Telling { heads, all });
    let title = [0, 1].map(|side| {
        let design = &loaded[side].design;
        format!("{}  {} ({})  {}", LETTERS[side], design.name, paths[side], design.about)
    });
    let mut tree = tree::tree(&comparison);
    if let Value::Object(map) = &mut tree {
        map.insert("files".into(), json!(paths));
    }
    let mut problems = Problems::default();
    loaded.iter().for_each(|one| problems.extend(one.problems.clone()));
    let text = format!("{}\n\n{body}", title.join("\n"));
    Ok(Answer { problems, ..Answer::new(text, tree, Exit::AllWell) })
}

/// Both designs, or all that is wrong with either.
fn both_loaded(designs: [&Path; 2]) -> Result<[Loaded; 2], Problems> {
    if designs.iter().all(|path| path.as_os_str() == "-") {
        return Err(Diagnostic::error(Code::Conflict, "Both designs are to come from standard input")
            .expected("one of them as a file")
            .example("hubwright compare designs/weeder-shoulder.toml -")
            .into());
    }
    both(designs.map(design::load))
}

fn both_made(loaded: &[Loaded; 2]) -> Result<[Made; 2], Problems> {
    let [first, second] = loaded;
    let (first, second) = rayon::join(|| made(first), || made(second));
    both([first, second])
}

fn both<T>([first, second]: [Result<T, Problems>; 2]) -> Result<[T; 2], Problems> {
    match (first, second) {
        (Ok(first), Ok(second)) => Ok([first, second]),
        (first, second) => {
            let mut problems = Problems::default();
            [first.err(), second.err()].into_iter().flatten().for_each(|found| problems.extend(found));
            Err(problems)
        }
    }
}

pub(super) fn cannot_compare(error: &ShapeError) -> Problems {
    Diagnostic::error(Code::CannotBuild, format!("The printed shapes can't be compared: {error}")).into()
}
