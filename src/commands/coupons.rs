//! `hubwright coupons DESIGN`: test prints for the fits of a design, with a sheet and a file to note findings in.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::json;

use super::make::{self, made};
use super::{Answer, Exit};
use crate::coupons::{self, Coupon, CouponError, findings};
use crate::design::{self, Loaded};
use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::export::coupon_files::{CouponFiles, FOUND, MARK};
use crate::export::folder;
use crate::layout::Actuator;
use crate::pipeline::Made;

/// Where outputs go when nothing else is said.
const OUTPUT: &str = "output";

/// Writes a design's coupons, with the sheet and the file to note findings in.
pub fn coupons(design: &Path, out: Option<&Path>) -> Answer {
    let (loaded, made) = match loaded_and_made(design) {
        Ok(both) => both,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    let actuator = &made.product.actuator;
    let files = match CouponFiles::of(actuator) {
        Ok(files) => files,
        Err(errors) => return Answer::refused(cannot_build(errors), Exit::WrongInput),
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
    if let Err(error) = folder::replace_marked(&target, MARK, |fresh| files.write(fresh, actuator)) {
        return make::not_written(&error, loaded.problems);
    }
    let folder = target.display().to_string();
    let tree = json!({
        "design": loaded.design.name,
        "folder": folder,
        "coupons": files.tree(&loaded.design),
    });
    let text = files.summary(&loaded.design, &folder);
    Answer { problems: loaded.problems, ..Answer::new(text, tree, Exit::AllWell) }
}

fn loaded_and_made(design: &Path) -> Result<(Loaded, Made), Problems> {
    let loaded = design::load(design)?;
    let made = made(&loaded)?;
    Ok((loaded, made))
}

/// The design's coupons without triangles.
pub(super) fn shapes(actuator: &Actuator) -> Result<Vec<Coupon>, Problems> {
    coupons::all(actuator).map_err(cannot_build)
}

fn cannot_build(errors: Vec<CouponError>) -> Problems {
    let mut problems = Problems::default();
    problems.extend(errors.iter().map(|error| Diagnostic::error(Code::CannotBuild, error.to_string())));
    problems
}
