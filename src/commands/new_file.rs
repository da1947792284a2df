//! A file that a command writes on request: never over another one.

use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::Path;

use tempfile::NamedTempFile;

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
/// As [`write_together`].
#[allow(clippy::result_large_err, reason = "made once, for a file that can't be written: nothing to save")]
pub fn write(path: &Path, content: &str) -> Result<(), Diagnostic> {
    write_together(&[(path, content)], &|| false)
}

/// Writes files that aren't there yet, all of them or none: each is whole under a hidden name before the first appears.
///
/// # Arguments
/// * `is_stopped`: asked before the first appears.
///
/// # Errors
/// One is there by now, it was stopped, or what the system says.
#[allow(clippy::result_large_err, reason = "made once, for a file that can't be written: nothing to save")]
pub fn write_together(files: &[(&Path, &str)], is_stopped: &dyn Fn() -> bool) -> Result<(), Diagnostic> {
    let hidden: Vec<(&Path, NamedTempFile)> = files
        .iter()
        .map(|(path, content)| Ok((*path, hidden(path, content).map_err(|error| cannot(path, &error))?)))
        .collect::<Result<_, Diagnostic>>()?;
    if is_stopped() {
        return Err(Diagnostic::error(Code::CannotWrite, "Interrupted: nothing is written"));
    }
    let mut written: Vec<&Path> = Vec::new();
    for (path, file) in hidden {
        if let Err(error) = file.persist_noclobber(path) {
            // This call's own files: what was there before isn't among them.
            written.iter().for_each(|path| drop(fs::remove_file(path)));
            return Err(cannot(path, &error.error));
        }
        written.push(path);
    }
    Ok(())
}

/// The whole content beside its place.
fn hidden(path: &Path, content: &str) -> io::Result<NamedTempFile> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut builder = tempfile::Builder::new();
    builder.prefix(".hubwright-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As any new file: the user's mask takes its part.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(folder)?;
    file.write_all(content.as_bytes())?;
    file.as_file().sync_all()?;
    Ok(file)
}

fn cannot(path: &Path, error: &io::Error) -> Diagnostic {
    match error.kind() {
        ErrorKind::AlreadyExists => already_there(path),
        _ => Diagnostic::error(Code::CannotWrite, format!("{} cannot be written: {error}", path.display())),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("folder");
        let mut names: Vec<String> =
            entries.map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn stopped_between_making_and_showing_leaves_nothing() {
        let folder = tempfile::tempdir().expect("folder");
        let (one, two) = (folder.path().join("one.toml"), folder.path().join("two.html"));
        // Both are whole under their hidden names when it is asked.
        let asked = std::cell::Cell::new(0);
        let stopped = || {
            asked.set(names(folder.path()).len());
            true
        };
        let said = write_together(&[(&one, "1"), (&two, "2")], &stopped).expect_err("stopped");
        assert!(said.message.contains("nothing is written"), "{}", said.message);
        assert_eq!(asked.get(), 2);
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn where_one_is_in_the_way_the_other_doesn_t_appear() {
        let folder = tempfile::tempdir().expect("folder");
        let (one, two) = (folder.path().join("one.toml"), folder.path().join("two.html"));
        fs::write(&two, "mine").expect("written");
        let said = write_together(&[(&one, "1"), (&two, "2")], &|| false).expect_err("in the way");
        assert!(said.message.contains("there already"), "{}", said.message);
        assert_eq!(names(folder.path()), ["two.html"]);
        assert_eq!(fs::read_to_string(&two).expect("still there"), "mine");
    }
}
