//! `hubwright rig DESIGN`: printed test parts for the bench, rated, with a test plan.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use super::make::{made, not_written};
use super::{Answer, Exit};
use crate::checks::Verdict;
use crate::design;
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::{folder, plates_svg, stl, threemf};
use crate::geometry::{Mesh, ShapeError};
use crate::rig::sheet::Rig;
use crate::rig::{self, Sizes};

/// Where outputs go when nothing else is said.
const OUTPUT: &str = "output";
/// The file by which a folder of a rig is known.
const MARK: &str = "rig.json";

/// Writes a design's rig.
pub fn rig(design: &Path, out: Option<&Path>) -> Answer {
    match made_rig(design, out) {
        Ok(answer) => answer,
        Err(problems) => Answer::refused(problems, Exit::WrongInput),
    }
}

fn cannot_build(message: String) -> Problems {
    Diagnostic::error(Code::CannotBuild, message).into()
}

fn made_rig(design: &Path, out: Option<&Path>) -> Result<Answer, Problems> {
    let loaded = design::load(design)?;
    let made = made(&loaded)?;
    let product = &made.product;
    let shape = |error: ShapeError| cannot_build(format!("rig: {error}"));
    let sizes = Sizes::of(&product.actuator).map_err(|error| cannot_build(error.to_string()))?;
    let parts =
        rig::parts(&product.actuator, &sizes).map_err(|error| cannot_build(format!("rig: {error}")))?;
    let checks = rig::checks(product, &sizes, &parts).map_err(shape)?;
    let meshes: Vec<Mesh> =
        parts.iter().map(|part| part.made.mesh()).collect::<Result<_, _>>().map_err(shape)?;
    let steps = rig::plan(product, &sizes);
    let rig = Rig { product, sizes: &sizes, parts: &parts, checks: &checks, steps: &steps };
    let name = format!("{}-rig", loaded.design.name);
    let target = out.map_or_else(|| Path::new(OUTPUT).join(name), PathBuf::from);
    if let Err(error) = folder::replace_marked(&target, MARK, |fresh| files(fresh, &rig, &meshes)) {
        return Ok(not_written(&error, loaded.problems));
    }
    let fails = checks.iter().any(|check| check.outcome.verdict == Verdict::Fails);
    let exit = if fails { Exit::CheckFails } else { Exit::AllWell };
    let text = rig.text(Some(&target.display().to_string()));
    Ok(Answer { problems: loaded.problems.clone(), ..Answer::new(text, rig.tree(), exit) })
}

fn files(fresh: &Path, rig: &Rig, meshes: &[Mesh]) -> io::Result<()> {
    let folder = fresh.join("parts");
    fs::create_dir(&folder)?;
    for (part, mesh) in rig.parts.iter().zip(meshes) {
        let mut out = BufWriter::new(File::create(folder.join(format!("{}.stl", part.name)))?);
        stl::write(mesh, &mut out)?;
        out.flush()?;
    }
    plates(fresh, rig, meshes)?;
    fs::write(fresh.join("test-plan.md"), rig.markdown())?;
    let text = serde_json::to_string_pretty(&rig.tree()).map_err(io::Error::other)?;
    fs::write(fresh.join(MARK), text + "\n")
}

fn plates(fresh: &Path, rig: &Rig, meshes: &[Mesh]) -> io::Result<()> {
    let design = &rig.product.actuator.design;
    let prints = rig::plates::prints(rig.product, rig.parts);
    let plates = rig::plates::plates(rig.product, &prints);
    let name = format!("{}-rig", design.name);
    for (plate, number) in plates.iter().zip(1..) {
        let title = format!("{name}, plate {number}");
        let bytes = threemf::plate(&title, plate, &prints, meshes).map_err(io::Error::other)?;
        fs::write(fresh.join(format!("plate-{number}.3mf")), bytes)?;
    }
    fs::write(
        fresh.join("plates.svg"),
        plates_svg::plates_svg(&name, 1, &plates, &prints, design.printer.bed),
    )
}
