//! `hubwright coupons DESIGN`: test prints; with `--found FILE`, what was noted at them into the printer's profile.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::make::{self, made};
use super::{Answer, Exit};
use crate::coupons::findings;
use crate::coupons::profile::{self, Change};
use crate::coupons::{self, Coupon, Place, sheet, template};
use crate::design::{self, Design, Loaded, file};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::folder;
use crate::export::stl;
use crate::geometry::{Mesh, ShapeError};
use crate::layout::Actuator;
use crate::pipeline::Made;

/// Where outputs go when nothing else is said.
const OUTPUT: &str = "output";
/// The file by which a folder of coupons is known.
const MARK: &str = "coupons.json";
const FOUND: &str = "found.toml";

/// Writes a design's coupons, with the sheet and the file to note findings in.
pub fn coupons(design: &Path, out: Option<&Path>) -> Answer {
    let (loaded, made) = match loaded_and_made(design) {
        Ok(both) => both,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let actuator = &made.product.actuator;
    let printed = match Printed::of(actuator) {
        Ok(printed) => printed,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let name = format!("{}-coupons", loaded.design.name);
    let target = out.map_or_else(|| Path::new(OUTPUT).join(name), PathBuf::from);
    if let Ok(notes) = fs::read_to_string(target.join(FOUND))
        && findings::has_notes(&notes)
    {
        let message = format!("{} has notes in it, and stays as it is", target.join(FOUND).display());
        let diagnostic = Diagnostic::error(Code::CannotWrite, message)
            .hint("move it away, or name another folder with --out DIR");
        return Answer::refused(diagnostic.into(), Exit::CannotWrite);
    }
    if let Err(error) = folder::replace_marked(&target, MARK, |fresh| printed.write(fresh, actuator)) {
        return make::not_written(&error, loaded.problems);
    }
    let folder = target.display().to_string();
    let tree = json!({
        "design": loaded.design.name,
        "folder": folder,
        "coupons": printed.tree(&loaded.design),
    });
    let text = printed.summary(&loaded.design, &folder);
    Answer { problems: loaded.problems, ..Answer::new(text, tree, Exit::AllWell) }
}

fn loaded_and_made(design: &Path) -> Result<(Loaded, Made), Problems> {
    let loaded = design::load(design)?;
    let made = made(&loaded)?;
    Ok((loaded, made))
}

fn shapes(actuator: &Actuator) -> Result<Vec<Coupon>, Problems> {
    coupons::all(actuator).map_err(|errors| {
        let mut problems = Problems::default();
        problems.extend(errors.into_iter().map(|error| cannot_build(error.to_string())));
        problems
    })
}

fn cannot_build(message: String) -> Diagnostic {
    Diagnostic::error(Code::CannotBuild, message)
}

/// One plate of a coupon.
struct Plate {
    file: String,
    mesh: Mesh,
    /// Exact \[mm3\].
    volume: f64,
}

/// Coupons with their triangles: a file a plate.
struct Printed {
    coupons: Vec<Coupon>,
    files: Vec<Vec<Plate>>,
    /// Each coupon's mass \[g\] and rough time \[min\].
    weights: Vec<[f64; 2]>,
}

impl Printed {
    fn of(actuator: &Actuator) -> Result<Printed, Problems> {
        let bed = actuator.design.printer.bed;
        let coupons = shapes(actuator)?;
        let (mut files, mut weights, mut problems) = (Vec::new(), Vec::new(), Problems::default());
        for coupon in &coupons {
            let Some(plates) = coupon.plates(bed) else {
                problems.push(cannot_build(format!("coupon {} is larger than the bed", coupon.name)));
                continue;
            };
            let weight = coupon
                .mass(&actuator.design)
                .and_then(|mass| Ok([mass * 1e3, coupon.minutes()?]))
                .map_err(|error| cannot_build(format!("coupon {}: {error}", coupon.name)));
            let plates = meshed(coupon, &plates)
                .map_err(|error| cannot_build(format!("coupon {}: {error}", coupon.name)));
            match (weight, plates) {
                (Ok(weight), Ok(plates)) => {
                    weights.push(weight);
                    files.push(plates);
                }
                (weight, plates) => problems.extend(weight.err().into_iter().chain(plates.err())),
            }
        }
        if problems.has_errors() { Err(problems) } else { Ok(Printed { coupons, files, weights }) }
    }

    fn write(&self, folder: &Path, actuator: &Actuator) -> io::Result<()> {
        let parts = folder.join("parts");
        fs::create_dir(&parts)?;
        for plate in self.files.iter().flatten() {
            let mut out = BufWriter::new(File::create(parts.join(&plate.file))?);
            stl::write(&plate.mesh, &mut out)?;
            out.flush()?;
        }
        let names: Vec<Vec<String>> = self
            .files
            .iter()
            .map(|plates| plates.iter().map(|plate| format!("parts/{}", plate.file)).collect())
            .collect();
        let sheet = sheet::markdown(actuator, &self.coupons, &names).map_err(io::Error::other)?;
        fs::write(folder.join("coupons.md"), sheet)?;
        let design = &actuator.design;
        fs::write(folder.join(FOUND), template::found_file(&design.name, &self.coupons))?;
        let tree = json!({ "design": design.name, "coupons": self.tree(design) });
        let text = serde_json::to_string_pretty(&tree).map_err(io::Error::other)?;
        fs::write(folder.join(MARK), text + "\n")
    }

    fn tree(&self, design: &Design) -> Vec<Value> {
        let rows = self.coupons.iter().zip(&self.files).zip(&self.weights);
        rows.map(|((coupon, files), [mass, minutes])| {
            let steps: Vec<String> =
                coupon.steps.iter().map(|step| coupons::values::step(coupon.kind, *step)).collect();
            let files: Vec<Value> = files
                .iter()
                .map(|plate| {
                    json!({
                        "file": format!("parts/{}", plate.file),
                        "volume_mm3": plate.volume,
                        "size_mm": plate.mesh.size(),
                        "triangles": plate.mesh.triangles.len(),
                    })
                })
                .collect();
            json!({
                "name": coupon.name,
                "title": coupon.title,
                "print_as": coupon.part.as_str(),
                "material": design.settings(coupon.part).material.name,
                "steps": steps,
                "bodies": coupon.pieces.len(),
                "mass_g": mass,
                "print_time_min": minutes,
                "files": files,
            })
        })
        .collect()
    }

    fn summary(&self, design: &Design, folder: &str) -> String {
        let mut text = format!("Coupons of {} in {folder}\n\n", design.name);
        for (coupon, [mass, minutes]) in self.coupons.iter().zip(&self.weights) {
            text.push_str(&format!(
                "  {:<16} {:>5.1} g {minutes:>4.0} min  {}\n",
                coupon.name, mass, coupon.title
            ));
        }
        let total = |index: usize| self.weights.iter().map(|weight| weight[index]).sum::<f64>();
        text.push_str(&format!(
            "  {:<16} {:>5.1} g {:>4.0} min  (times are rough)\n\nWhat to try and note: {folder}/coupons.md. Then fill in \
             {folder}/{FOUND} and run hubwright coupons DESIGN --found {folder}/{FOUND}\n",
            "all",
            total(0),
            total(1)
        ));
        text
    }
}

/// A file a plate, numbered where there are several.
fn meshed(coupon: &Coupon, plates: &[Vec<Place>]) -> Result<Vec<Plate>, ShapeError> {
    let file = |number: usize| match plates.len() {
        1 => format!("{}.stl", coupon.name),
        _ => format!("{}-{number}.stl", coupon.name),
    };
    (1..)
        .zip(plates)
        .map(|(number, plate)| {
            let pieces = plate.iter().filter_map(|place| coupon.pieces.get(place.piece));
            let volume = pieces.map(|piece| piece.stack.volume()).sum::<Result<f64, _>>()?;
            Ok(Plate { file: file(number), mesh: coupon.mesh(plate)?, volume })
        })
        .collect()
}

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
    json!({ "key": change.key, "range": change.where_, "old": change.old, "new": change.new })
}

/// Changes the file as a whole or not at all.
fn write_profile(shown: &Path, real: &Path, changes: &[Change]) -> Result<(), Refused> {
    let mut problems = Problems::default();
    let Some(present) = file::read(shown, &mut problems) else { return Err(wrong(problems)) };
    let text = profile::edited(&present.text, changes).map_err(|error| {
        let message = format!("{} is not TOML: {}", shown.display(), error.message());
        wrong(Diagnostic::error(Code::Syntax, message).into())
    })?;
    let replaced = || -> io::Result<()> {
        let folder = real.parent().unwrap_or(Path::new("."));
        let mut fresh = tempfile::Builder::new().prefix(".hubwright-").tempfile_in(folder)?;
        fresh.write_all(text.as_bytes())?;
        fresh.as_file().set_permissions(fs::metadata(real)?.permissions())?;
        fresh.as_file().sync_all()?;
        fresh.persist(real).map_err(|error| error.error)?;
        Ok(())
    };
    replaced().map_err(|error| {
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
        let Ok(after) = crate::pipeline::make(&design) else {
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
                let key = if change.where_.is_empty() {
                    change.key.to_string()
                } else {
                    format!("{}, {}", change.key, change.where_)
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
        text.push_str(&format!("{profile} is changed:\n{}", rows(in_profile)));
    }
    if !own.is_empty() {
        text.push_str(&format!(
            "To be changed in the design's own [printer]:\n{}\n[printer]\n{}",
            rows(own),
            profile::lines(own)
        ));
    }
    if reprint.parts.is_empty() {
        if !reprint.broken {
            text.push_str("No part of this design changes its shape.\n");
        }
    } else {
        text.push_str(&format!("To print again: {}\n", reprint.parts.join(", ")));
    }
    text
}
