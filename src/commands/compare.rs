//! `hubwright compare A B`: two designs side by side, differences first.

use std::path::Path;

use serde_json::{Value, json};

use super::make::made;
use super::{Answer, Exit, new_file};
use crate::comparison::blocks::Telling;
use crate::comparison::{Comparison, Side, page, text, tree};
use crate::design::{self, Design, Loaded};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::geometry::ShapeError;
use crate::pipeline::Made;

/// Which of the designs, above their columns, when their names don't tell.
const LETTERS: [&str; 2] = ["A", "B"];

/// Compares two designs; `all` lists what is alike too; `page` is where a page of it goes.
pub fn compare(designs: [&Path; 2], all: bool, page: Option<&Path>) -> Answer {
    match compared(designs, all, page) {
        Ok(answer) => answer,
        Err((problems, exit)) => Answer::refused(problems, exit),
    }
}

type Refused = (Problems, Exit);

fn wrong(problems: Problems) -> Refused {
    (problems, Exit::WrongInput)
}

fn compared(files: [&Path; 2], all: bool, page: Option<&Path>) -> Result<Answer, Refused> {
    let loaded = both_loaded(files, page.and_then(new_file::refused)).map_err(wrong)?;
    let made = both_made(&loaded).map_err(wrong)?;
    let sides = [0, 1].map(|side| Side { loaded: &loaded[side], made: &made[side] });
    let comparison = Comparison::of(sides[0], sides[1]).map_err(|error| wrong(cannot_compare(&error)))?;
    let pair = Pair { files, designs: [&loaded[0].design, &loaded[1].design] };
    let body = text::text(&comparison, Telling { heads: pair.heads(), all });
    let mut told = format!("{}\n\n{body}", pair.lines().join("\n"));
    if let Some(page) = page {
        let html = page::page(&comparison, pair.heads(), &pair.title(), &pair.about());
        new_file::write(page, &html).map_err(|diagnostic| (diagnostic.into(), Exit::CannotWrite))?;
        told.push_str(&format!("\n{} is written.\n", page.display()));
    }
    let mut tree = tree::tree(&comparison);
    if let Value::Object(map) = &mut tree {
        map.insert("files".into(), json!(files.map(|path| path.display().to_string())));
        map.insert("page".into(), json!(page.map(|page| page.display().to_string())));
    }
    let mut problems = Problems::default();
    loaded.iter().for_each(|one| problems.extend(one.problems.clone()));
    Ok(Answer { problems, ..Answer::new(told, tree, Exit::AllWell) })
}

/// What the two are called.
struct Pair<'a> {
    files: [&'a Path; 2],
    designs: [&'a Design; 2],
}

impl Pair<'_> {
    /// Two files of one design.
    fn are_versions(&self) -> bool {
        self.designs[0].name == self.designs[1].name
    }

    /// Above their columns.
    fn heads(&self) -> [&str; 2] {
        if self.are_versions() { LETTERS } else { self.designs.map(|design| design.name.as_str()) }
    }

    /// A line on each, for the terminal.
    fn lines(&self) -> [String; 2] {
        let heads = self.heads();
        [0, 1].map(|side| {
            format!("{}  {}  {}", heads[side], self.files[side].display(), self.designs[side].about)
        })
    }

    fn title(&self) -> String {
        let [first, second] = self.designs.map(|design| design.name.as_str());
        if self.are_versions() { format!("{first}, two versions") } else { format!("{first} and {second}") }
    }

    /// A line on each, for a page that travels: where the files lie is nothing for it.
    fn about(&self) -> [String; 2] {
        let heads = self.heads();
        [0, 1].map(|side| {
            let file = self.files[side].file_name().unwrap_or_default().to_string_lossy();
            let file = if self.are_versions() { format!(" ({file})") } else { String::new() };
            format!("{}: {}{file}", heads[side], self.designs[side].about)
        })
    }
}

/// Both designs, or all that is wrong with either and with what is to be written.
fn both_loaded(designs: [&Path; 2], refused: Option<Diagnostic>) -> Result<[Loaded; 2], Problems> {
    if designs.iter().all(|path| path.as_os_str() == "-") {
        return Err(Diagnostic::error(Code::Conflict, "Both designs are to come from standard input")
            .expected("one of them as a file")
            .example("hubwright compare designs/weeder-shoulder.toml -")
            .into());
    }
    match (both(designs.map(design::load)), refused) {
        (Err(mut problems), Some(refused)) => {
            problems.push(refused);
            Err(problems)
        }
        (Ok(_), Some(refused)) => Err(refused.into()),
        (found, None) => found,
    }
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
