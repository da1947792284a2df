//! `hubwright coupons DESIGN --found FILE`: what was noted at the coupons into the printer's profile.

use std::path::Path;

use serde_json::{Value, json};

use super::coupons::shapes;
use super::make::made;
use super::{Answer, Exit};
use crate::coupons::findings;
use crate::coupons::profile::{self, Change};
use crate::design::{self, Design, file};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::whole_file;
use crate::pipeline::{self, Made};

/// Takes findings over into the profile.
pub fn found(design: &Path, notes: &Path) -> Answer {
    match taken_over(design, notes) {
        Ok(answer) => answer,
        Err((problems, exit)) => Answer::refused(problems, exit),
    }
}

type Refused = (Problems, Exit);

fn wrong(problems: Problems) -> Refused {
    (problems, Exit::WrongInput)
}

fn taken_over(design: &Path, notes: &Path) -> Result<Answer, Refused> {
    let mut problems = Problems::default();
    // Read once: it may be standard input.
    let Some(source) = file::read(design, &mut problems) else { return Err(wrong(problems)) };
    let loaded = design::load_text(design, &source.text).map_err(wrong)?;
    let before = made(&loaded).map_err(wrong)?;
    let actuator = &before.product.actuator;
    let coupons = shapes(actuator).map_err(wrong)?;
    let found = findings::read(notes, &coupons, &loaded.design.printer).map_err(wrong)?;
    let (printer, changes) = profile::updated(&loaded.design.printer, &found);

    let folder = design.parent().unwrap_or(Path::new(""));
    let target = file::named_by("printer", &source, folder).map_err(|diagnostic| wrong(diagnostic.into()))?;
    // What the design itself says wins over the profile: it has to be changed there.
    let (own, in_profile): (Vec<Change>, Vec<Change>) = changes.into_iter().partition(|change| {
        let place = loaded.places.get(&format!("printer.{}", change.key));
        target.is_none() || place.is_some_and(|place| place.file.name == source.name)
    });
    let reprint = Reprint::of(&before, Design { printer, ..loaded.design.clone() });
    if let Some((shown, real)) = target.as_ref().filter(|_| !in_profile.is_empty()) {
        write_profile(shown, real, &in_profile)?;
    }
    let written = target.map(|(shown, _)| shown.display().to_string()).filter(|_| !in_profile.is_empty());
    let mut problems = loaded.problems.clone();
    problems.extend(reprint.problem());
    let tree = json!({
        "design": loaded.design.name,
        "profile": written,
        "changes": in_profile.iter().map(change_tree).collect::<Vec<_>>(),
        "to_change_in_the_design": own.iter().map(change_tree).collect::<Vec<_>>(),
        "reprint": reprint.parts,
    });
    let text = told(written.as_deref(), &in_profile, &own, &reprint);
    Ok(Answer { problems, ..Answer::new(text, tree, Exit::AllWell) })
}

fn change_tree(change: &Change) -> Value {
    json!({ "key": change.key, "range": change.range, "old": change.old, "new": change.new })
}

/// Changes the file as a whole or not at all.
fn write_profile(shown: &Path, real: &Path, changes: &[Change]) -> Result<(), Refused> {
    let mut problems = Problems::default();
    let Some(present) = file::read(shown, &mut problems) else { return Err(wrong(problems)) };
    let text = profile::edited(&present.text, changes).map_err(|error| {
        let message = format!("{} is not TOML: {}", shown.display(), error.message());
        wrong(Diagnostic::error(Code::Syntax, message).into())
    })?;
    whole_file::replace(real, &text).map_err(|error| {
        let message = format!("{} cannot be written: {error}", shown.display());
        (Diagnostic::error(Code::CannotWrite, message).into(), Exit::CannotWrite)
    })
}

/// What the new profile means for parts that are printed already.
struct Reprint {
    /// Names of parts whose printed shape changes.
    parts: Vec<&'static str>,
    /// The design can't be built with the new profile.
    broken: bool,
}

impl Reprint {
    fn of(before: &Made, design: Design) -> Reprint {
        let Ok(after) = pipeline::make(&design) else {
            return Reprint { parts: Vec::new(), broken: true };
        };
        let parts = after
            .product
            .parts
            .iter()
            .filter(|new| {
                let old = before.product.parts.iter().find(|old| old.part.name == new.part.name);
                old.is_none_or(|old| old.printed != new.printed)
            })
            .map(|new| new.part.name.as_str())
            .collect();
        Reprint { parts, broken: false }
    }

    fn problem(&self) -> Option<Diagnostic> {
        self.broken.then(|| {
            Diagnostic::warning(Code::CannotBuild, "With the profile as found this design can't be built")
                .key("printer")
                .hint("hubwright check DESIGN says which sizes clash")
        })
    }
}

fn told(profile: Option<&str>, in_profile: &[Change], own: &[Change], reprint: &Reprint) -> String {
    let rows = |changes: &[Change]| -> String {
        changes
            .iter()
            .map(|change| {
                let key = if change.range.is_empty() {
                    change.key.to_string()
                } else {
                    format!("{}, {}", change.key, change.range)
                };
                format!("  {key:<48} {:>9} -> {}\n", change.old, change.new)
            })
            .collect()
    };
    if in_profile.is_empty() && own.is_empty() {
        return "Nothing changes: the profile says what was found.".into();
    }
    let mut text = String::new();
    if let Some(profile) = profile {
        text.push_str(&format!(
            "{profile} is changed, for all designs that take from it:\n{}",
            rows(in_profile)
        ));
    }
    if !own.is_empty() {
        text.push_str(&format!(
            "To be changed in the design's own [printer]:\n{}\n[printer]\n{}\n",
            rows(own),
            profile::lines(own)
        ));
    }
    if reprint.parts.is_empty() {
        if !reprint.broken {
            text.push_str("No part of this design changes its shape.\n");
        }
    } else {
        text.push_str(&format!("To print again, since their shapes change: {}\n", reprint.parts.join(", ")));
    }
    text
}
