//! `hubwright start NAME`: a new commented design file that makes.

use std::path::Path;

use serde_json::json;

use super::{Answer, Exit, new_file};
use crate::design;
use crate::diagnostic::{Code, Diagnostic};

/// Writes NAME.toml into the current folder; a file that is there already stays as it is.
pub fn start(name: &str) -> Answer {
    let name = name.strip_suffix(".toml").unwrap_or(name);
    let Some(text) = design::starting_file(name) else {
        let diagnostic = Diagnostic::error(Code::OutOfRange, format!("\"{name}\" can't name a design"))
            .expected(design::PLAIN_NAME)
            .example("hubwright start weeder-elbow");
        return Answer::refused(diagnostic.into(), Exit::WrongInput);
    };
    let path = format!("{name}.toml");
    match new_file::write(Path::new(&path), &text) {
        Ok(()) => Answer::new(
            format!("{path} is written. Next: hubwright make {path}"),
            json!({ "file": path }),
            Exit::AllWell,
        ),
        Err(diagnostic) => Answer::refused(diagnostic.into(), Exit::CannotWrite),
    }
}
