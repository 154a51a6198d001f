//! The folder of lessons: the only place, beside where sheets go, that is
//! read or written. Names come from a page, so none is trusted: a lesson is a
//! plain name in the folder itself, and no link leads out of it.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Component, Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::version::version;

/// A lesson holds a page of words; what is longer is something else.
const LESSON_BYTES: u64 = 1_000_000;
/// A score holds less than this.
const SCORE_BYTES: u64 = 32 * 1024 * 1024;

/// A folder of lessons.
#[derive(Debug)]
pub(crate) struct Folder {
    /// Without links.
    path: PathBuf,
    /// FolderHold while a file is compared and replaced.
    writing: Mutex<()>,
}

/// Why a file can't be had or written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum FolderFault {
    /// It has no name that a lesson may have, or lies elsewhere.
    Outside,
    /// There is none.
    Missing,
    /// There is one already.
    Taken,
    /// It is another version by now: its text and version.
    Changed(String, String),
    /// Anything else, in a sentence.
    Other(String),
}

impl Folder {
    pub(crate) fn open(path: &Path) -> io::Result<Folder> {
        let path = fs::canonicalize(path)?;
        fs::read_dir(&path)?;
        Ok(Folder {
            path,
            writing: Mutex::new(()),
        })
    }

    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// The names of its lesson files, in order.
    pub(crate) fn names(&self) -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for entry in fs::read_dir(&self.path)? {
            let Ok(name) = entry?.file_name().into_string() else {
                continue;
            };
            if self.existing(&name).is_ok() {
                names.push(name);
            }
        }
        names.sort();
        Ok(names)
    }

    /// A lesson's text and version.
    pub(crate) fn read(&self, name: &str) -> Result<(String, String), FolderFault> {
        let bytes = bytes(&self.existing(name)?, LESSON_BYTES)?;
        let version = version(&bytes);
        let text = String::from_utf8(bytes)
            .map_err(|_| FolderFault::Other(format!("{name} is not UTF-8 text")))?;
        Ok((text, version))
    }

    /// A file that a lesson names, beside it.
    pub(crate) fn beside(&self, relative: &str) -> Result<Vec<u8>, FolderFault> {
        let relative = Path::new(relative);
        let inside = relative
            .components()
            .all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
        if !inside {
            return Err(FolderFault::Outside);
        }
        bytes(&self.inside(&self.path.join(relative))?, SCORE_BYTES)
    }

    /// Writes a text in place of the version that its writer has seen; none
    /// for a file that isn't there.
    pub(crate) fn save(
        &self,
        name: &str,
        text: &str,
        seen: Option<&str>,
    ) -> Result<String, FolderFault> {
        let path = self.named(name)?;
        let _held = self.held();
        match (self.read(name), seen) {
            (Ok((_, now)), Some(seen)) if now == seen => {}
            (Ok((now, version)), _) => return Err(FolderFault::Changed(now, version)),
            // Gone from outside: what is open in a page isn't lost with it.
            (Err(FolderFault::Missing), _) => return self.create_held(&path, text),
            (Err(other), _) => return Err(other),
        }
        let path = self.inside(&path)?;
        let part = self.written_beside(&path, text)?;
        fs::rename(&part, &path).map_err(|error| {
            let _ = fs::remove_file(&part);
            other(&error)
        })?;
        Ok(version(text.as_bytes()))
    }

    /// Writes a lesson that isn't there yet.
    pub(crate) fn create(&self, name: &str, text: &str) -> Result<String, FolderFault> {
        let path = self.named(name)?;
        let _held = self.held();
        self.create_held(&path, text)
    }

    /// Gives a lesson another name, if it is still the version seen.
    pub(crate) fn rename(&self, name: &str, to: &str, seen: &str) -> Result<(), FolderFault> {
        let target = self.named(to)?;
        let _held = self.held();
        let path = self.same(name, seen)?;
        // A link is made only where nothing is, so nothing is replaced.
        match fs::hard_link(&path, &target) {
            Ok(()) => fs::remove_file(&path).map_err(|error| other(&error)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(FolderFault::Taken),
            Err(_) if target.exists() => Err(FolderFault::Taken),
            // Drives without links.
            Err(_) => fs::rename(&path, &target).map_err(|error| other(&error)),
        }
    }

    /// Deletes a lesson, if it is still the version seen.
    pub(crate) fn delete(&self, name: &str, seen: &str) -> Result<(), FolderFault> {
        let _held = self.held();
        let path = self.same(name, seen)?;
        fs::remove_file(path).map_err(|error| other(&error))
    }

    fn same(&self, name: &str, seen: &str) -> Result<PathBuf, FolderFault> {
        let (text, now) = self.read(name)?;
        if now == seen {
            self.existing(name)
        } else {
            Err(FolderFault::Changed(text, now))
        }
    }

    fn create_held(&self, path: &Path, text: &str) -> Result<String, FolderFault> {
        let part = self.written_beside(path, text)?;
        // Appears whole, and only where nothing is.
        let linked = fs::hard_link(&part, path).or_else(|error| {
            if error.kind() == io::ErrorKind::AlreadyExists || path.exists() {
                Err(io::Error::from(io::ErrorKind::AlreadyExists))
            } else {
                fs::copy(&part, path).map(|_| ())
            }
        });
        let _ = fs::remove_file(&part);
        match linked {
            Ok(()) => Ok(version(text.as_bytes())),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(FolderFault::Taken),
            Err(error) => Err(other(&error)),
        }
    }

    fn written_beside(&self, path: &Path, text: &str) -> Result<PathBuf, FolderFault> {
        if text.len() as u64 > LESSON_BYTES {
            return Err(FolderFault::Other(
                "the text is larger than a lesson can be, 1 MB".to_owned(),
            ));
        }
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let part = self.path.join(format!(".{name}.part"));
        let written = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(true)
            .open(&part)
            .and_then(|mut file| {
                file.write_all(text.as_bytes())?;
                file.sync_all()
            });
        written.map_err(|error| other(&error))?;
        Ok(part)
    }

    /// The place of a lesson with this name.
    fn named(&self, name: &str) -> Result<PathBuf, FolderFault> {
        let mut parts = Path::new(name).components();
        let single = matches!(parts.next(), Some(Component::Normal(_))) && parts.next().is_none();
        let plain = name
            .chars()
            .all(|letter| !letter.is_control() && !matches!(letter, '/' | '\\' | ':'));
        let stem = name.strip_suffix(".toml").unwrap_or_default();
        if !single || !plain || stem.is_empty() || name.starts_with('.') || name.len() > 200 {
            return Err(FolderFault::Outside);
        }
        Ok(self.path.join(name))
    }

    fn existing(&self, name: &str) -> Result<PathBuf, FolderFault> {
        self.inside(&self.named(name)?)
    }

    /// A plain file in the folder, links followed.
    fn inside(&self, path: &Path) -> Result<PathBuf, FolderFault> {
        let real = fs::canonicalize(path).map_err(|error| match error.kind() {
            io::ErrorKind::NotFound => FolderFault::Missing,
            _ => other(&error),
        })?;
        if !real.starts_with(&self.path) {
            return Err(FolderFault::Outside);
        }
        let kind = fs::metadata(&real).map_err(|error| other(&error))?;
        if !kind.is_file() {
            return Err(FolderFault::Missing);
        }
        Ok(real)
    }

    fn held(&self) -> MutexGuard<'_, ()> {
        self.writing.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, FolderFault> {
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(most + 1).read_to_end(&mut bytes))
        .map_err(|error| other(&error))?;
    if bytes.len() as u64 > most {
        return Err(FolderFault::Other("the file is too large".to_owned()));
    }
    Ok(bytes)
}

fn other(error: &io::Error) -> FolderFault {
    FolderFault::Other(match error.kind() {
        io::ErrorKind::PermissionDenied => "you may not write there".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        _ => error.to_string(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> Folder {
        let path = std::env::temp_dir().join(format!("desk-{}-{name}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(path.join("inside")).unwrap();
        Folder::open(&path.join("inside")).unwrap()
    }

    #[test]
    fn only_plain_names_in_the_folder_are_lessons() {
        let folder = folder("names");
        let outside = folder.path().parent().unwrap().join("secret.toml");
        fs::write(&outside, "title = \"x\"").unwrap();
        for name in [
            "../secret.toml",
            "..\\secret.toml",
            "/etc/passwd",
            "a/b.toml",
            "secret",
            ".toml",
            ".hidden.toml",
            "",
            "a\0.toml",
            "c:a.toml",
        ] {
            assert_eq!(folder.read(name), Err(FolderFault::Outside), "{name:?}");
            assert_eq!(
                folder.create(name, ""),
                Err(FolderFault::Outside),
                "{name:?}"
            );
        }
        assert_eq!(folder.beside("../secret.toml"), Err(FolderFault::Outside));
        assert_eq!(folder.beside("/etc/hostname"), Err(FolderFault::Outside));
        #[cfg(unix)]
        {
            let link = folder.path().join("link.toml");
            std::os::unix::fs::symlink(&outside, &link).unwrap();
            assert_eq!(folder.read("link.toml"), Err(FolderFault::Outside));
            assert_eq!(folder.beside("link.toml"), Err(FolderFault::Outside));
            assert_eq!(
                folder.save("link.toml", "", Some("")),
                Err(FolderFault::Outside)
            );
            assert!(folder.names().unwrap().is_empty());
        }
    }

    #[test]
    fn an_edit_names_the_version_it_was_made_on() {
        let folder = folder("versions");
        let first = folder.create("a.toml", "one").unwrap();
        assert_eq!(folder.create("a.toml", "two"), Err(FolderFault::Taken));
        let second = folder.save("a.toml", "two", Some(&first)).unwrap();
        let changed = FolderFault::Changed("two".to_owned(), second.clone());
        assert_eq!(
            folder.save("a.toml", "three", Some(&first)),
            Err(changed.clone())
        );
        assert_eq!(folder.save("a.toml", "three", None), Err(changed.clone()));
        assert_eq!(
            folder.rename("a.toml", "b.toml", &first),
            Err(changed.clone())
        );
        assert_eq!(folder.delete("a.toml", &first), Err(changed));
        folder.create("b.toml", "other").unwrap();
        assert_eq!(
            folder.rename("a.toml", "b.toml", &second),
            Err(FolderFault::Taken)
        );
        folder.rename("a.toml", "c.toml", &second).unwrap();
        assert_eq!(folder.names().unwrap(), ["b.toml", "c.toml"]);
        folder.delete("c.toml", &second).unwrap();
        assert_eq!(folder.read("c.toml"), Err(FolderFault::Missing));
        // Gone from outside, it is written again.
        folder.save("c.toml", "two", Some(&second)).unwrap();
        let left = fs::read_dir(folder.path()).unwrap().count();
        assert_eq!(left, 2, "no part of a file is left");
    }
}
