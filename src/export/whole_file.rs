//! One file written as a whole or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

/// Puts a file in the place of what is there, with its permissions; a new one is for everyone who may read its folder.
///
/// # Errors
/// What the system says; what was there is untouched then.
pub fn replace(path: &Path, text: &str) -> io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut fresh = tempfile::Builder::new().prefix(".hubwright-").tempfile_in(folder)?;
    fresh.write_all(text.as_bytes())?;
    match fs::metadata(path) {
        Ok(present) => fresh.as_file().set_permissions(present.permissions())?,
        Err(_) => readable(fresh.as_file())?,
    }
    fresh.as_file().sync_all()?;
    fresh.persist(path).map_err(|error| error.error)?;
    Ok(())
}

#[cfg(unix)]
fn readable(file: &fs::File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn readable(_: &fs::File) -> io::Result<()> {
    Ok(())
}
