//! Output folders: written beside the target under a temporary name, then swapped in whole.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// The file by which a folder is known to be an earlier output of `make`.
const MARK: &str = "report.json";

/// Why a folder could not be written.
#[derive(Debug, thiserror::Error)]
pub enum FolderError {
    #[error("{path} is a file, not a folder")]
    IsFile { path: PathBuf },
    #[error(
        "{path} holds other things than an earlier output (no {mark} in it), so it isn't replaced: name another folder"
    )]
    NotOurs { path: PathBuf, mark: &'static str },
    #[error("cannot write {path}: {source}")]
    Io { path: PathBuf, source: io::Error },
}

/// Fills a new folder and puts it in the place of `target`. Until the last step `target` is untouched; what was there
/// is removed after. Nothing is left behind when filling fails.
pub fn replace(target: &Path, fill: impl FnOnce(&Path) -> io::Result<()>) -> Result<(), FolderError> {
    replace_marked(target, MARK, fill)
}

/// The same for a folder that is known by another file.
pub fn replace_marked(
    target: &Path,
    mark: &'static str,
    fill: impl FnOnce(&Path) -> io::Result<()>,
) -> Result<(), FolderError> {
    let fails = |source: io::Error| FolderError::Io { path: target.to_path_buf(), source };
    check_target(target, mark)?;
    let parent = match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    fs::create_dir_all(parent).map_err(fails)?;
    let fresh = tempfile::Builder::new().prefix(".hubwright-").tempdir_in(parent).map_err(fails)?;
    fill(fresh.path()).map_err(fails)?;
    readable(fresh.path()).map_err(fails)?;
    if target.exists() {
        swap(fresh.path(), target).map_err(fails)?;
        // What was at the target now lies under the temporary name and goes with it.
        return fresh.close().map_err(fails);
    }
    let path = fresh.keep();
    fs::rename(&path, target).map_err(|error| {
        // The new folder can't be put in place: don't leave it lying about. Its own removal may fail too; the first
        // error is the one to tell.
        let _ = fs::remove_dir_all(&path);
        fails(error)
    })
}

fn check_target(target: &Path, mark: &'static str) -> Result<(), FolderError> {
    if target.is_file() {
        return Err(FolderError::IsFile { path: target.to_path_buf() });
    }
    let Ok(mut entries) = fs::read_dir(target) else { return Ok(()) };
    if entries.next().is_some() && !target.join(mark).is_file() {
        return Err(FolderError::NotOurs { path: target.to_path_buf(), mark });
    }
    Ok(())
}

/// Temporary folders are the owner's alone; outputs are for everyone who may read the parent.
fn readable(folder: &Path) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        fs::set_permissions(folder, fs::Permissions::from_mode(0o755))?;
    }
    let _ = folder;
    Ok(())
}

#[cfg(target_os = "linux")]
fn swap(fresh: &Path, target: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    match renameat_with(CWD, fresh, CWD, target, RenameFlags::EXCHANGE) {
        Ok(()) => Ok(()),
        // Some file systems can't exchange.
        Err(_) => swap_in_two_steps(fresh, target),
    }
}

#[cfg(not(target_os = "linux"))]
fn swap(fresh: &Path, target: &Path) -> io::Result<()> {
    swap_in_two_steps(fresh, target)
}

/// Where folders can't be exchanged: the old one waits under its own hidden name for the moment between.
fn swap_in_two_steps(fresh: &Path, target: &Path) -> io::Result<()> {
    let mut waiting = fresh.as_os_str().to_os_string();
    waiting.push("-old");
    let waiting = PathBuf::from(waiting);
    fs::rename(target, &waiting)?;
    if let Err(error) = fs::rename(fresh, target) {
        fs::rename(&waiting, target)?;
        return Err(error);
    }
    fs::rename(&waiting, fresh)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .expect("folder")
            .map(|entry| entry.expect("entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_new_output_replaces_the_old_one_whole() {
        let root = tempfile::tempdir().expect("root");
        let target = root.path().join("joint");
        replace(&target, |folder| {
            fs::write(folder.join(MARK), "1").and_then(|()| fs::write(folder.join("old"), ""))
        })
        .expect("first");
        replace(&target, |folder| fs::write(folder.join(MARK), "2")).expect("second");
        assert_eq!(files(&target), [MARK]);
        assert_eq!(files(root.path()), ["joint"], "nothing else is left");
    }

    #[test]
    fn a_failure_leaves_the_old_one() {
        let root = tempfile::tempdir().expect("root");
        let target = root.path().join("joint");
        replace(&target, |folder| fs::write(folder.join(MARK), "1")).expect("first");
        let failed = replace(&target, |folder| {
            fs::write(folder.join(MARK), "2")?;
            Err(io::Error::new(io::ErrorKind::StorageFull, "disk full"))
        });
        assert!(matches!(failed, Err(FolderError::Io { .. })));
        assert_eq!(fs::read_to_string(target.join(MARK)).expect("old"), "1");
        assert_eq!(files(root.path()), ["joint"]);
    }

    #[test]
    fn a_folder_with_other_things_is_not_replaced() {
        let root = tempfile::tempdir().expect("root");
        fs::write(root.path().join("thesis.txt"), "years of work").expect("write");
        let refused = replace(root.path(), |_| Ok(()));
        assert!(matches!(refused, Err(FolderError::NotOurs { .. })));
        assert_eq!(files(root.path()), ["thesis.txt"]);
        let file = root.path().join("thesis.txt");
        assert!(matches!(replace(&file, |_| Ok(())), Err(FolderError::IsFile { .. })));
    }
}
