//! Files on disk, each whole or not at all: written beside its place and
//! moved there.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process;

use anyhow::{Context, anyhow};

/// The folder everything is written under, if anything is.
pub struct Store {
    root: Option<PathBuf>,
}

impl Store {
    pub fn new(root: &Path) -> Store {
        Store {
            root: Some(root.to_owned()),
        }
    }

    /// A store that keeps nothing: for trying out.
    pub fn nowhere() -> Store {
        Store { root: None }
    }

    /// Puts a file under the root, with the folders on the way to it; what
    /// stood there before is replaced in one move.
    pub fn put(&self, relative: &str, bytes: &[u8]) -> anyhow::Result<()> {
        let Some(root) = &self.root else {
            return Ok(());
        };
        let path = root.join(relative);
        let refused = || format!("could not write {}", path.display());
        if path.is_dir() {
            return Err(anyhow!("a folder has that name").context(refused()));
        }
        let beside = beside(&path);
        let moved = write_new(&beside, bytes).and_then(|()| fs::rename(&beside, &path));
        if moved.is_err() {
            // Whether it could be made at all is in the error already.
            let _ = fs::remove_file(&beside);
        }
        moved.map_err(plainly).with_context(refused)
    }
}

/// Writes a new file where none may be yet.
pub fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)?
        .write_all(bytes)
}

fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    match fs::write(path, bytes) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            if let Some(folder) = path.parent() {
                fs::create_dir_all(folder)?;
            }
            fs::write(path, bytes)
        }
        done => done,
    }
}

fn beside(path: &Path) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}.{}.part", process::id()))
}

/// The system's reason in words a teacher reads.
fn plainly(error: io::Error) -> anyhow::Error {
    let words = match error.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "writing there is not allowed"
        }
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full",
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => {
            "a file stands where a folder is needed"
        }
        io::ErrorKind::InvalidFilename => "the path is too long",
        _ => return error.into(),
    };
    anyhow!(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn root(name: &str) -> PathBuf {
        let root = std::env::temp_dir().join(format!("twelvefold-store-{}-{name}", process::id()));
        let _ = fs::remove_dir_all(&root);
        root
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_is_put_with_its_folders_and_replaced() {
        let root = root("put");
        let store = Store::new(&root);
        store.put("a/b/c.txt", b"one").unwrap();
        store.put("a/b/c.txt", b"two").unwrap();
        assert_eq!(fs::read(root.join("a/b/c.txt")).unwrap(), b"two");
        assert_eq!(names(&root.join("a/b")), ["c.txt"]);
        fs::remove_dir_all(root).unwrap();
    }

    #[test]
    fn a_folder_or_file_in_the_way_is_told_and_leaves_nothing_behind() {
        let root = root("refuse");
        fs::create_dir_all(root.join("x/taken.txt")).unwrap();
        fs::write(root.join("file"), b"mine").unwrap();
        let store = Store::new(&root);
        let folder = store.put("x/taken.txt", b"one").unwrap_err();
        assert!(
            format!("{folder:#}").ends_with("a folder has that name"),
            "{folder:#}"
        );
        let file = store.put("file/c.txt", b"one").unwrap_err();
        assert!(
            format!("{file:#}").ends_with("a file stands where a folder is needed"),
            "{file:#}"
        );
        assert_eq!(names(&root.join("x")), ["taken.txt"]);
        assert_eq!(fs::read(root.join("file")).unwrap(), b"mine");
        fs::remove_dir_all(root).unwrap();
    }

    #[test]
    fn create_never_replaces() {
        let root = root("create");
        fs::create_dir_all(&root).unwrap();
        let path = root.join("lesson.toml");
        create(&path, b"one").unwrap();
        assert_eq!(
            create(&path, b"two").unwrap_err().kind(),
            io::ErrorKind::AlreadyExists
        );
        assert_eq!(fs::read(&path).unwrap(), b"one");
        fs::remove_dir_all(root).unwrap();
    }
}
