//! `hubwright size FILE [--write FILE]`: from a requirement to a ranked table and a ready design file.

use std::io::{self, IsTerminal};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use serde_json::Value;

use super::{Answer, Exit, new_file};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::folder;
use crate::robot::made::MadeJoint;
use crate::robot::{self, Asked, Onlooker, Robot, Sized};
use crate::search::run::Progress;
use crate::search::{self, Found, Space, Watch, page, table};

/// Searches a joint or a whole robot.
pub fn size(file: &Path, write: Option<&Path>) -> Answer {
    match robot::load(file) {
        Ok(Asked::Joint(space)) => size_joint(&space, write),
        Ok(Asked::Robot(robot)) => size_robot(&robot, write),
        Err(problems) => Answer::refused(problems, Exit::WrongInput),
    }
}

/// With `write`, the first choice becomes a design file and the scatter a page beside it.
fn size_joint(space: &Space, write: Option<&Path>) -> Answer {
    if let Some(target) = write {
        let problems = refused_targets(space, target);
        if problems.has_errors() {
            return Answer::refused(problems, Exit::WrongInput);
        }
    }
    let stop = stopped_by_interruption();
    let found = searched(space, &stop);
    let mut tree = table::tree(space, &found);
    let text = table::text(space, &found);
    let Some(best) = found.choices.first() else { return Answer::new(text, tree, Exit::CheckFails) };
    let Some(target) = write else { return Answer::new(text, tree, Exit::AllWell) };
    let page = page::page(space, &found);
    // An interruption of the search ended that; from here on one ends the writing.
    stop.store(false, Ordering::Relaxed);
    let beside = page_path(target);
    let files = [(beside.as_path(), page.as_str()), (target, best.text.as_ref())];
    if let Err(diagnostic) = new_file::write_together(&files, &|| stop.load(Ordering::Relaxed)) {
        return Answer::refused(diagnostic.into(), Exit::CannotWrite);
    }
    if let Value::Object(map) = &mut tree {
        map.insert("written".into(), target.display().to_string().into());
    }
    let text = format!(
        "{text}\n{} and {} are written. Next: hubwright make {}\n",
        target.display(),
        page_path(target).display(),
        target.display()
    );
    Answer::new(text, tree, Exit::AllWell)
}

fn page_path(target: &Path) -> PathBuf {
    let stem = target.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    target.with_file_name(format!("{stem}-choices.html"))
}

/// What stands in the way of writing, before anything is searched.
fn refused_targets(space: &Space, target: &Path) -> Problems {
    let mut problems = Problems::default();
    for path in [target.to_path_buf(), page_path(target)] {
        problems.extend(new_file::refused(&path));
    }
    let folder = |path: &Path| path.parent().map(Path::to_path_buf).unwrap_or_default();
    if space.has_duty && folder(target) != folder(&space.path) {
        problems.push(
            Diagnostic::error(
                Code::Conflict,
                "The requirement names a duty's file, which a design elsewhere wouldn't find",
            )
            .key("requirement.duty")
            .expected("--write to a file beside the requirement"),
        );
    }
    problems
}

/// The robot's joints together.
fn size_robot(robot: &Robot, write: Option<&Path>) -> Answer {
    let problems = write.map(|target| refused_folder(robot, target)).unwrap_or_default();
    if problems.has_errors() {
        return Answer::refused(problems, Exit::WrongInput);
    }
    let stop = stopped_by_interruption();
    let bar = ProgressBar::with_draw_target(None, draw_target());
    if let Ok(style) = ProgressStyle::with_template("{spinner} {msg}") {
        bar.set_style(style);
    }
    let tell = |searched: usize, joint: &str| {
        bar.set_message(format!("{searched} pairs of motor and bearing searched; now {joint}"));
        bar.tick();
    };
    let sized = robot::size(robot, &Onlooker { stop: &stop, tell: &tell });
    bar.finish_and_clear();
    let sized = match sized {
        Ok(sized) => sized,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let (text, tree) = (robot::text::text(robot, &sized), robot::tree::tree(robot, &sized));
    match (sized.choices.first(), write) {
        (None, _) => Answer::new(text, tree, Exit::CheckFails),
        (Some(_), None) => Answer::new(text, tree, Exit::AllWell),
        (Some(best), Some(target)) => {
            // An interruption of the search ended that; from here on one ends the writing.
            stop.store(false, Ordering::Relaxed);
            match robot::made::made(robot, best) {
                Ok(joints) => write_robot((robot, &sized, &joints), (target, &stop), (text, tree)),
                Err(sentences) => {
                    let mut problems = Problems::default();
                    problems
                        .extend(sentences.into_iter().map(|why| Diagnostic::error(Code::CannotBuild, why)));
                    Answer::refused(problems, Exit::WrongInput)
                }
            }
        }
    }
}

/// The folder of the first robot, unless it is interrupted before its last file.
fn write_robot(
    (robot, sized, joints): (&Robot, &Sized, &[MadeJoint]),
    (target, stop): (&Path, &AtomicBool),
    (text, mut tree): (String, Value),
) -> Answer {
    let written = folder::replace_marked(target, robot::outputs::MARK, |fresh| {
        robot::outputs::write(fresh, robot, sized, joints, tree.clone())?;
        if stop.load(Ordering::Relaxed) {
            return Err(io::Error::new(io::ErrorKind::Interrupted, "interrupted, nothing is written"));
        }
        Ok(())
    });
    if let Err(error) = written {
        return Answer::refused(
            Diagnostic::error(Code::CannotWrite, error.to_string()).into(),
            Exit::CannotWrite,
        );
    }
    if let Value::Object(map) = &mut tree {
        map.insert("written".into(), target.display().to_string().into());
    }
    let first = joints.first().map_or("", |joint| joint.design.as_str());
    let text = format!(
        "{text}\n{target} holds a design a joint, shopping.csv, plates.csv, the plates to print and robot.html.\nNext: hubwright make {target}/joints/{first}.toml, and so on\n",
        target = target.display()
    );
    Answer::new(text, tree, Exit::AllWell)
}

/// What stands in the way of writing a robot's folder.
fn refused_folder(robot: &Robot, target: &Path) -> Problems {
    let mut problems = Problems::default();
    if target.exists() {
        problems.push(new_file::already_there(target));
    }
    if target.extension().is_some_and(|extension| extension == "toml") {
        problems.push(
            Diagnostic::error(Code::Conflict, "A robot is written as a folder, a design file a joint")
                .found(target.display().to_string())
                .expected("the name of a new folder")
                .example(format!("--write {}", robot.name)),
        );
    }
    if robot.has_duty() {
        problems.push(
            Diagnostic::error(
                Code::Conflict,
                "A joint names a duty's file, which its design in a new folder wouldn't find",
            )
            .key("requirement.duty")
            .expected("torques instead, or no --write"),
        );
    }
    problems
}

/// Becomes true when the user interrupts.
fn stopped_by_interruption() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let asked = Arc::clone(&stop);
    // Without a handler an interruption ends the program, which has written nothing yet.
    let _ = ctrlc::set_handler(move || {
        // Asked twice: at once. 130 is what shells expect after an interruption.
        if asked.swap(true, Ordering::Relaxed) {
            std::process::exit(130);
        }
    });
    stop
}

/// The search with a bar on a terminal, and an end when interrupted.
fn searched(space: &Space, stop: &AtomicBool) -> Found {
    let bar = ProgressBar::with_draw_target(None, draw_target());
    if let Ok(style) = ProgressStyle::with_template("{bar:30} {pos}/{len} {msg}") {
        bar.set_style(style);
    }
    let tell = |progress: &Progress| {
        bar.set_length(progress.candidates as u64);
        bar.set_position(progress.done as u64);
        bar.set_message(format!("{} made, {} on the table", progress.made, progress.front));
    };
    let found = search::run(space, &Watch { stop, tell: &tell });
    bar.finish_and_clear();
    found
}

fn draw_target() -> ProgressDrawTarget {
    if std::io::stderr().is_terminal() { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() }
}
