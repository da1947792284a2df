//! Changes of the files on the disk. Folders are watched, not files: an editor that replaces a file by another is noticed.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Weak;

use notify::{RecommendedWatcher, RecursiveMode, Watcher};

use super::Session;
use crate::design::Loaded;

/// Folders of the design and of every file that a key of it comes from.
pub fn folders(path: &Path, loaded: Option<&Loaded>) -> Vec<PathBuf> {
    let folder_of = |file: &Path| match file.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    };
    let others = loaded.into_iter().flat_map(|loaded| loaded.places.values());
    let mut found: BTreeSet<PathBuf> = others.map(|place| folder_of(Path::new(&place.file.name))).collect();
    found.insert(folder_of(path));
    found.into_iter().collect()
}

/// Watches folders, as far as the system can; the maker looks by itself now and then too.
pub struct Watch {
    watcher: Option<RecommendedWatcher>,
    watched: BTreeSet<PathBuf>,
}

impl Watch {
    pub fn new(session: Weak<Session>) -> Watch {
        let watcher = notify::recommended_watcher(move |event: notify::Result<notify::Event>| {
            // Reading the file is an event too, and would never end.
            let is_read = event.as_ref().is_ok_and(|event| event.kind.is_access());
            if let Some(session) = session.upgrade().filter(|_| !is_read) {
                session.want();
            }
        });
        Watch { watcher: watcher.ok(), watched: BTreeSet::new() }
    }

    /// Watches these folders too; one that can't be watched is tried again next time.
    pub fn over(&mut self, folders: Vec<PathBuf>) {
        let Some(watcher) = &mut self.watcher else { return };
        for folder in folders {
            if !self.watched.contains(&folder) && watcher.watch(&folder, RecursiveMode::NonRecursive).is_ok()
            {
                self.watched.insert(folder);
            }
        }
    }
}
