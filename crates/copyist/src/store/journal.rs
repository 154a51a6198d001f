//! What a run is about to write, noted before it is moved into place, so that
//! after a kill half-way the next run knows its files again.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use super::hash::Hash;
use super::regular;

/// What the names of journals begin with.
const NAME: &str = ".pending";

/// A run's notes about one lesson's folder, a line to each file.
pub struct Journal {
    path: PathBuf,
    open: Mutex<Open>,
    durable: bool,
}

/// The journal's file, once it is made.
#[derive(Default)]
struct Open {
    file: Option<File>,
    /// Whether its last line may lack its end.
    torn: bool,
}

impl Journal {
    /// The journal of the runs with this tag; made with its first line.
    pub fn new(folder: &Path, tag: &str, durable: bool) -> Journal {
        Journal {
            path: folder.join(format!("{NAME}{tag}")),
            open: Mutex::default(),
            durable,
        }
    }

    /// Whether a run left it behind.
    pub fn is_left(&self) -> bool {
        self.path.exists()
    }

    /// Notes that a file is about to hold this.
    pub fn note(&self, file: &str, hash: Hash) -> io::Result<()> {
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        open.line(&self.path, &format!("{hash} {file}\n"), self.durable)
    }

    /// Ends the notes: what they say stands elsewhere now.
    pub fn close(&self) -> io::Result<()> {
        *self.open.lock().unwrap_or_else(PoisonError::into_inner) = Open::default();
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
    let bytes = regular::read(path).unwrap_or_default();
    let text = String::from_utf8_lossy(&bytes);
    let note = |line: &str| {
        let (hash, file) = line.split_once(' ')?;
        Some((file.to_owned(), hash.parse().ok()?))
    };
    text.lines().filter_map(note).collect()
}

impl Open {
    fn line(&mut self, path: &Path, line: &str, durable: bool) -> io::Result<()> {
        let mut file = match self.file.take() {
            Some(file) => file,
            None => {
                // A killed run may have left a line without its end.
                self.torn = path.exists();
                make(path)?
            }
        };
        let end = if self.torn { "\n" } else { "" };
        self.torn = true;
        let written = file.write_all(format!("{end}{line}").as_bytes());
        let written = written.and_then(|()| {
            self.torn = false;
            if durable { file.sync_data() } else { Ok(()) }
        });
        self.file = Some(file);
        written
    }
}

fn make(path: &Path) -> io::Result<File> {
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    regular::refuse_endless(path)?;
    OpenOptions::new().append(true).create(true).open(path)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_after_a_torn_one_is_read() {
        let name = format!("twelvefold-journal-{}", std::process::id());
        let path = std::env::temp_dir().join(name);
        let _ = fs::remove_file(&path);
        let hash = Hash::of(b"a sheet");
        let note =
            |open: &mut Open, file: &str| open.line(&path, &format!("{hash} {file}\n"), false);
        let mut open = Open::default();
        note(&mut open, "one").unwrap();
        // A file that can only be read, as good as a full disk.
        let writable = open.file.replace(File::open(&path).unwrap());
        note(&mut open, "two").unwrap_err();
        open.file = writable;
        write!(open.file.as_mut().unwrap(), "{hash} tw").unwrap();
        note(&mut open, "three").unwrap();
        // The next run begins after another torn line.
        write!(open.file.as_mut().unwrap(), "{hash} fo").unwrap();
        note(&mut Open::default(), "five").unwrap();
        let files: Vec<String> = read(&path).into_iter().map(|(file, _)| file).collect();
        assert_eq!(files, ["one", "tw", "three", "fo", "five"]);
        fs::remove_file(&path).unwrap();
    }
}
