//! A folder that isn't there yet. It is written under a hidden name and moved
//! into place at once, so its files need no moves of their own, and no notes:
//! until then nothing stands that a later run would have to know again.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::content::Content;
use super::whole::{UNFINISHED, write};

/// A folder before it is in place.
#[derive(Debug)]
pub struct NewFolder {
    place: PathBuf,
    hidden: PathBuf,
}

impl NewFolder {
    /// Begins one where nothing stands yet.
    pub fn begin(place: &Path) -> Option<NewFolder> {
        let missing = place.symlink_metadata().is_err();
        let name = place.file_name().filter(|_| missing)?.to_string_lossy();
        Some(NewFolder {
            place: place.to_owned(),
            hidden: place.with_file_name(format!(".{name}{UNFINISHED}")),
        })
    }

    /// Puts a file in it, whole or not at all.
    pub fn put(&self, file: &str, content: Content<'_>) -> io::Result<()> {
        let path = self.hidden.join(file);
        write(&path, content, false).inspect_err(|_| {
            // Whether it could be made at all is in the error already.
            let _ = fs::remove_file(&path);
        })
    }

    /// Moves it into place. Where that can't be done nothing of it stays.
    pub fn settle(&self) -> io::Result<()> {
        fs::rename(&self.hidden, &self.place).inspect_err(|_| self.drop())
    }

    /// Takes it away again.
    pub fn drop(&self) {
        // The next run sweeps what could not be removed now.
        let _ = fs::remove_dir_all(&self.hidden);
    }
}

/// Removes what dead runs left of such folders.
pub fn sweep(root: &Path) {
    for entry in fs::read_dir(root).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        let hidden = name.starts_with('.') && name.ends_with(UNFINISHED);
        if hidden && entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            // The next run finds what could not be removed now.
            let _ = fs::remove_dir_all(entry.path());
        }
    }
}
