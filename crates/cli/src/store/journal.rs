//! What a run is about to write, noted before it is moved into place, so that
//! after a kill half-way the next run knows its files again.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use super::hash::Hash;

/// What the names of journals begin with.
const NAME: &str = ".pending";

/// A run's notes about one lesson's folder, a line to each file.
pub struct Journal {
    path: PathBuf,
    file: Mutex<Option<File>>,
    durable: bool,
}

impl Journal {
    /// The journal of the runs with this tag; made with its first line.
    pub fn new(folder: &Path, tag: &str, durable: bool) -> Journal {
        Journal {
            path: folder.join(format!("{NAME}{tag}")),
            file: Mutex::default(),
            durable,
        }
    }

    /// Whether a run left it behind.
    pub fn is_left(&self) -> bool {
        self.path.exists()
    }

    /// Notes that a file is about to hold this.
    pub fn note(&self, file: &str, hash: Hash) -> io::Result<()> {
        let mut opened = self.file.lock().unwrap_or_else(PoisonError::into_inner);
        let journal = match &mut *opened {
            Some(journal) => journal,
            none => none.insert(open(&self.path)?),
        };
        journal.write_all(format!("{hash} {file}\n").as_bytes())?;
        if self.durable {
            journal.sync_data()?;
        }
        Ok(())
    }

    /// Ends the notes: what they say stands elsewhere now.
    pub fn close(&self) -> io::Result<()> {
        *self.file.lock().unwrap_or_else(PoisonError::into_inner) = None;
        match fs::remove_file(&self.path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }
}

/// Every journal in a folder.
pub fn all(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut paths: Vec<PathBuf> = entries
        .filter(|entry| entry.file_name().to_string_lossy().starts_with(NAME))
        .map(|entry| entry.path())
        .collect();
    paths.sort();
    paths
}

/// A journal's notes; torn lines say nothing.
pub fn read(path: &Path) -> Vec<(String, Hash)> {
    let bytes = fs::read(path).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    let note = |line: &str| {
        let (hash, file) = line.split_once(' ')?;
        Some((file.to_owned(), hash.parse().ok()?))
    };
    text.lines().filter_map(note).collect()
}

fn open(path: &Path) -> io::Result<File> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    let left = path.exists();
    let mut file = OpenOptions::new().append(true).create(true).open(path)?;
    if left {
        // Ends a line that a killed run may have torn.
        file.write_all(b"\n")?;
    }
    Ok(file)
}
