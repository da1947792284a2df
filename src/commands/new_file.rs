//! A file that a command writes on request: never over another one.

use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::Path;

use crate::diagnostic::{Code, Diagnostic};

/// What stands in the way of writing, before anything is made.
pub fn refused(path: &Path) -> Option<Diagnostic> {
    if fs::symlink_metadata(path).is_ok() {
        return Some(already_there(path));
    }
    let folder = path.parent().unwrap_or(Path::new(""));
    let is_folder = folder.as_os_str().is_empty() || folder.is_dir();
    (!is_folder).then(|| {
        Diagnostic::error(Code::CannotWrite, format!("There is no folder {}", folder.display()))
            .hint("make it first, or write elsewhere")
    })
}

/// A file or folder in the way.
pub fn already_there(path: &Path) -> Diagnostic {
    Diagnostic::error(Code::CannotWrite, format!("{} is there already and stays as it is", path.display()))
        .hint("take another name, or move the file away")
}

/// Writes a file that isn't there yet.
///
/// # Errors
/// It is there by now, or what the system says.
#[allow(clippy::result_large_err, reason = "made once, for a file that can't be written: nothing to save")]
pub fn write(path: &Path, content: &str) -> Result<(), Diagnostic> {
    let written = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .and_then(|mut file| file.write_all(content.as_bytes()).and_then(|()| file.sync_all()));
    written.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => already_there(path),
        _ => Diagnostic::error(Code::CannotWrite, format!("{} cannot be written: {error}", path.display())),
    })
}
