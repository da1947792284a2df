//! `hubwright start NAME`: a new commented design file that makes.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};

use serde_json::json;

use super::{Answer, Exit};
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
    let written = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&path)
        .and_then(|mut file| file.write_all(text.as_bytes()).and_then(|()| file.sync_all()));
    match written {
        Ok(()) => Answer::new(
            format!("{path} is written. Next: hubwright make {path}"),
            json!({ "file": path }),
            Exit::AllWell,
        ),
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            let diagnostic =
                Diagnostic::error(Code::CannotWrite, format!("{path} is there already and stays as it is"))
                    .hint("take another name, or move the file away");
            Answer::refused(diagnostic.into(), Exit::CannotWrite)
        }
        Err(error) => {
            let diagnostic =
                Diagnostic::error(Code::CannotWrite, format!("{path} cannot be written: {error}"));
            Answer::refused(diagnostic.into(), Exit::CannotWrite)
        }
    }
}
