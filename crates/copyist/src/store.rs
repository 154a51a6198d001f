//! The folder everything is written under. Files get there whole or not at
//! all, and what somebody edited is kept.

mod content;
mod file_outcome;
mod hash;
mod journal;
mod lesson_folder;
mod lock;
mod new_folder;
mod record;
mod regular;
mod rules;
mod versions;
mod whole;

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, PoisonError, RwLock};

use crate::contents::Contents;
use crate::error::{CopyError, Doing};
use crate::folder_outcome::FolderOutcome;
use crate::news::Tell;
use crate::run_part::RunPart;
use crate::stop::Stop;

pub use content::Content;
pub use file_outcome::FileOutcome;
pub use hash::Hash;
pub use lesson_folder::LessonFolder;
pub use rules::Rules;
pub use whole::create;

use lock::Lock;
use record::{CONTENTS, Record};
use versions::is_new;

/// The folder everything is written under, held for one run.
pub struct Store {
    root: PathBuf,
    rules: Rules,
    stop: Stop,
    lock: Option<Lock>,
    open: RwLock<BTreeMap<String, Arc<LessonFolder>>>,
    bytes: AtomicU64,
}

impl Store {
    pub fn new(root: &Path, rules: Rules, stop: &Stop) -> Store {
        Store {
            stop: stop.clone(),
            root: root.to_owned(),
            rules,
            lock: None,
            open: RwLock::default(),
            bytes: AtomicU64::new(0),
        }
    }

    /// Waits until no other run writes under the root; it is told once if that
    /// takes time.
    pub fn hold(&mut self, part: Option<RunPart>, tell: &mut Tell<'_>) -> Result<(), CopyError> {
        fs::create_dir_all(&self.root).map_err(|error| Doing::Write.failed(&self.root, error))?;
        self.lock = Some(Lock::take(&self.root, part, &self.stop, tell)?);
        if part.is_none() {
            new_folder::sweep(&self.root);
        }
        Ok(())
    }

    /// Opens a lesson's folder: to be called before its files are put.
    pub fn open(&self, folder: &str) -> Arc<LessonFolder> {
        self.opening(folder, self.rules.at_once)
    }

    /// Opens a course's folder, in which others lie that are opened after it:
    /// it is never moved into place at once. `lessons` is where they lie.
    pub fn open_around(&self, folder: &str, lessons: &str) -> Arc<LessonFolder> {
        if self.rules.tag.is_empty() {
            new_folder::sweep(&self.root.join(lessons));
        }
        self.opening(folder, false)
    }

    fn opening(&self, folder: &str, at_once: bool) -> Arc<LessonFolder> {
        let path = self.root.join(folder);
        let opened = Arc::new(LessonFolder::open(path, &self.rules, at_once));
        let mut open = self.open.write().unwrap_or_else(PoisonError::into_inner);
        open.insert(folder.to_owned(), Arc::clone(&opened));
        opened
    }

    /// Puts a file into an open folder: nothing moves where the same stands
    /// already; an edited one stays, with the new version beside it.
    pub fn put(&self, folder: &str, file: &str, bytes: &[u8]) -> Result<(), CopyError> {
        self.put_content(folder, file, Content::Bytes(bytes))
    }

    /// The same of what may be too long to hold.
    pub fn put_content(
        &self,
        folder: &str,
        file: &str,
        content: Content<'_>,
    ) -> Result<(), CopyError> {
        if self.rules.nowhere {
            return Ok(());
        }
        let Some(folder) = self.opened(folder) else {
            let nowhere = io::Error::other("it is in no lesson");
            return Err(Doing::Write.failed(&Path::new(folder).join(file), nowhere));
        };
        folder.put(file, content, &self.rules)?;
        self.bytes
            .fetch_add(content.length().unwrap_or(0), Ordering::Relaxed);
        Ok(())
    }

    /// What became of a file that this run put into an open folder.
    pub fn outcome(&self, folder: &str, file: &str) -> Option<FileOutcome> {
        self.opened(folder)?.outcome(file)
    }

    /// A folder that is open.
    pub fn opened(&self, folder: &str) -> Option<Arc<LessonFolder>> {
        let open = self.open.read().unwrap_or_else(PoisonError::into_inner);
        open.get(folder).cloned()
    }

    /// Closes a lesson's folder with its contents told. `still` says whether
    /// the lesson, as it is now, makes a file. A run that was asked to stop
    /// answers for what it made alone: all else stays and is still told.
    pub fn close(
        &self,
        folder: &str,
        contents: &mut Contents,
        still: impl Fn(&str) -> bool,
    ) -> Result<FolderOutcome, CopyError> {
        let mut open = self.open.write().unwrap_or_else(PoisonError::into_inner);
        let Some(closing) = open.remove(folder) else {
            return Ok(FolderOutcome::default());
        };
        drop(open);
        let path = self.root.join(folder);
        if !closing.is_used() && contents.is_empty() && !path.join(CONTENTS).exists() {
            // Nothing came of it: no folder is left for it either.
            closing.abandon();
            let _ = fs::remove_dir(&path);
            return Ok(FolderOutcome::default());
        }
        let renames = contents.renames(&closing.known.contents);
        let stopped = self.stop.is_asked();
        // What a stopped run didn't come to isn't looked at, and tells nothing
        // of what stands there.
        let unasked = |file: &str| stopped && !renames.contains_key(file);
        let stands = |file: &str| unasked(file) || still(file) && !is_new(file);
        let leftovers = closing.leftovers(&self.rules, stands, &renames)?;
        let held = self
            .lock
            .as_ref()
            .map(Lock::contents)
            .transpose()
            .map_err(|error| Doing::Write.failed(&path, error))?
            .flatten();
        // Another part may have told more since; else nobody has.
        let now = held.as_ref().map(|_| Record::read(&path));
        let now = now.as_ref().unwrap_or(&closing.known);
        let exists = |file: &str| path.join(file).exists();
        let told = |file: &str| (unasked(file) || still(file)) && exists(file);
        contents.take_in(&now.contents, told, exists);
        let edited;
        (contents.files, edited) = closing.remembered(now, stopped);
        let json = contents
            .to_json()
            .map_err(|error| Doing::Write.failed(&path.join(CONTENTS), error.into()))?;
        closing.close(&json, &self.rules)?;
        drop(held);
        Ok(FolderOutcome {
            kept: closing.kept(),
            edited,
            leftovers,
            damaged: closing.known.damaged,
        })
    }

    /// Takes away the folder of a lesson that a course no longer has, once
    /// nothing of ours is in it any more.
    pub fn clear(&self, folder: &str, contents: &Contents) {
        let path = self.root.join(folder);
        if self.rules.tidy && contents.files.is_empty() {
            // What somebody else put there stays, and the folder with it.
            let _ = fs::remove_file(path.join(CONTENTS));
            for player in fs::read_dir(&path).into_iter().flatten().flatten() {
                let _ = fs::remove_dir(player.path());
            }
            let _ = fs::remove_dir(&path);
        }
    }

    /// Whether a folder is there.
    pub fn has(&self, folder: &str) -> bool {
        self.root.join(folder).is_dir()
    }

    /// Bytes that were put so far.
    pub fn bytes(&self) -> u64 {
        self.bytes.load(Ordering::Relaxed)
    }
}

#[cfg(test)]
mod tests;
