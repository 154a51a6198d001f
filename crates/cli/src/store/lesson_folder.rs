//! One lesson's folder while a run writes into it. A file that somebody
//! edited is never lost: what is not known to be ours stays.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use anyhow::{Context, anyhow};

use super::hash::Hash;
use super::journal::{self, Journal};
use super::known::Known;
use super::versions::{beside, is_new};
use super::whole::{self, UNFINISHED, plainly};
use super::{Kept, Rules};

/// A lesson's folder, what is known of it, and what this run did there.
pub struct LessonFolder {
    path: PathBuf,
    pub known: Known,
    journal: Journal,
    done: Mutex<Done>,
}

/// What a run did in a folder.
#[derive(Default)]
struct Done {
    /// Every file this run answers for, with the hash to know it by: none
    /// where it isn't ours.
    files: BTreeMap<String, Option<Hash>>,
    kept: Vec<Kept>,
}

impl LessonFolder {
    /// Reads what is known of a folder, and sweeps out what a killed run
    /// left unfinished.
    pub fn open(path: PathBuf, rules: &Rules) -> LessonFolder {
        let known = Known::read(&path);
        let journal = Journal::new(&path, &rules.tag, rules.durable);
        if journal.is_left() {
            sweep(&path, &rules.tag);
        }
        LessonFolder {
            path,
            known,
            journal,
            done: Mutex::default(),
        }
    }

    /// Puts a file: nothing moves where it stands already, and an edited one
    /// stays, with the new version beside it.
    pub fn put(&self, file: &str, bytes: &[u8], rules: &Rules) -> anyhow::Result<()> {
        self.place(file, bytes, rules)
            .with_context(|| format!("could not write {}", self.path.join(file).display()))
    }

    fn place(&self, file: &str, bytes: &[u8], rules: &Rules) -> anyhow::Result<()> {
        let hash = Hash::of(bytes);
        match self.standing(file, bytes, hash)? {
            Standing::Same => {
                self.answer(file, Some(hash));
                Ok(())
            }
            Standing::Ours => self.write(file, bytes, hash, rules),
            Standing::Edited if rules.replace => {
                self.set_aside(file)?;
                self.write(file, bytes, hash, rules)
            }
            Standing::Edited => {
                let new = self.write_beside(file, bytes, hash, rules)?;
                let known = self.known.hashes.get(file);
                self.answer(file, known.and_then(|hashes| hashes.first()).copied());
                self.keep(Kept {
                    file: file.to_owned(),
                    new,
                });
                Ok(())
            }
        }
    }

    /// What stands in a file's place.
    fn standing(&self, file: &str, bytes: &[u8], hash: Hash) -> anyhow::Result<Standing> {
        match fs::read(self.path.join(file)) {
            Ok(old) if old == bytes => Ok(Standing::Same),
            Ok(old) => {
                let old = Hash::of(&old);
                if old == hash || self.known.is_ours(file, old) {
                    Ok(Standing::Ours)
                } else {
                    Ok(Standing::Edited)
                }
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Standing::Ours),
            Err(error) => Err(plainly(error)),
        }
    }

    fn write(&self, file: &str, bytes: &[u8], hash: Hash, rules: &Rules) -> anyhow::Result<()> {
        self.journal.note(file, hash).map_err(plainly)?;
        whole::put(&self.path.join(file), &rules.tag, bytes, rules.durable).map_err(plainly)?;
        self.answer(file, Some(hash));
        Ok(())
    }

    /// Writes the new version into the first name beside the file that is
    /// free or ours.
    fn write_beside(
        &self,
        file: &str,
        bytes: &[u8],
        hash: Hash,
        rules: &Rules,
    ) -> anyhow::Result<String> {
        let mut number = 1;
        loop {
            let new = beside(file, "new", number);
            match self.standing(&new, bytes, hash)? {
                Standing::Same => self.answer(&new, Some(hash)),
                Standing::Ours => self.write(&new, bytes, hash, rules)?,
                Standing::Edited => {
                    number += 1;
                    continue;
                }
            }
            return Ok(new);
        }
    }

    /// Moves an edited file to the first free name beside it.
    fn set_aside(&self, file: &str) -> anyhow::Result<()> {
        let free = (1..)
            .map(|number| self.path.join(beside(file, "edited", number)))
            .find(|path| path.symlink_metadata().is_err());
        let Some(free) = free else {
            return Err(anyhow!("no name beside it is free"));
        };
        fs::rename(self.path.join(file), free).map_err(plainly)
    }

    fn answer(&self, file: &str, hash: Option<Hash>) {
        let mut done = self.done.lock().unwrap_or_else(PoisonError::into_inner);
        done.files.insert(file.to_owned(), hash);
    }

    fn keep(&self, kept: Kept) {
        let mut done = self.done.lock().unwrap_or_else(PoisonError::into_inner);
        done.kept.push(kept);
    }

    /// Whether this run answers for any file here.
    pub fn is_used(&self) -> bool {
        !self.done().files.is_empty()
    }

    /// The edited files that stayed, by name.
    pub fn kept(&self) -> Vec<Kept> {
        let mut kept = self.done().kept.clone();
        kept.sort();
        kept
    }

    /// Files of ours that the lesson no longer makes, by `still`; those that
    /// nobody edited are removed if the rules say so.
    pub fn leftovers(
        &self,
        rules: &Rules,
        still: impl Fn(&str) -> bool,
    ) -> anyhow::Result<Vec<Leftover>> {
        let mut leftovers = Vec::new();
        for file in self.known.hashes.keys() {
            if self.done().files.contains_key(file) || (still(file) && !is_new(file)) {
                continue;
            }
            let path = self.path.join(file);
            let Ok(bytes) = fs::read(&path) else {
                continue;
            };
            let edited = !self.known.is_ours(file, Hash::of(&bytes));
            let removed = rules.tidy && !edited;
            if removed {
                fs::remove_file(&path)
                    .map_err(plainly)
                    .with_context(|| format!("could not remove {}", path.display()))?;
                if let Some(folder) = path.parent() {
                    // Stays where anything else is in it.
                    let _ = fs::remove_dir(folder);
                }
            }
            leftovers.push(Leftover {
                file: file.clone(),
                edited,
                removed,
            });
        }
        Ok(leftovers)
    }

    /// The hash to know each file by from now on; `known` is what the folder
    /// says by now, in case others wrote there too.
    pub fn remembered(&self, known: &Known) -> BTreeMap<String, String> {
        let done = self.done();
        let mut hashes: BTreeMap<String, String> = BTreeMap::new();
        for (file, told) in &known.hashes {
            if done.files.contains_key(file) {
                continue;
            }
            let Ok(bytes) = fs::read(self.path.join(file)) else {
                continue;
            };
            let now = Hash::of(&bytes);
            let hash = told.iter().find(|hash| **hash == now).or(told.first());
            hashes.extend(hash.map(|hash| (file.clone(), hash.to_string())));
        }
        for (file, hash) in &done.files {
            hashes.extend(hash.map(|hash| (file.clone(), hash.to_string())));
        }
        hashes
    }

    /// Writes `contents.json`, where it isn't the same already; a damaged one
    /// is set aside.
    pub fn put_contents(&self, json: &[u8], rules: &Rules) -> anyhow::Result<()> {
        let path = self.path.join("contents.json");
        let refused = || format!("could not write {}", path.display());
        if self.known.damaged && path.is_file() {
            self.set_aside("contents.json").with_context(refused)?;
        }
        if fs::read(&path).is_ok_and(|old| old == json) {
            return Ok(());
        }
        whole::put(&path, &rules.tag, json, rules.durable)
            .map_err(plainly)
            .with_context(refused)
    }

    /// Ends the notes; a run that has the folder to itself ends those of dead
    /// runs too.
    pub fn close(&self, rules: &Rules) -> anyhow::Result<()> {
        let closed = || {
            self.journal.close()?;
            if rules.tag.is_empty() {
                journal::all(&self.path)
                    .iter()
                    .try_for_each(fs::remove_file)?;
            }
            Ok(())
        };
        closed()
            .map_err(plainly)
            .with_context(|| format!("could not close {}", self.path.display()))
    }

    fn done(&self) -> std::sync::MutexGuard<'_, Done> {
        self.done.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// What stands where a file goes.
enum Standing {
    /// The very same bytes.
    Same,
    /// Nothing, or what a run of ours wrote.
    Ours,
    /// What we never wrote.
    Edited,
}

/// A file of ours that its lesson no longer makes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leftover {
    pub file: String,
    pub edited: bool,
    pub removed: bool,
}

/// Removes the unfinished files of dead runs: those with this tag, or all for
/// a run that has the folder to itself.
fn sweep(folder: &Path, tag: &str) {
    let unfinished = |name: &str| {
        name.starts_with('.')
            && name
                .rsplit_once(UNFINISHED)
                .is_some_and(|(_, after)| tag.is_empty() || after == tag)
    };
    let inside = |path: &Path| fs::read_dir(path).into_iter().flatten().flatten();
    let players = inside(folder).map(|entry| entry.path());
    let folders = players.filter(|path| path.is_dir());
    for folder in folders.chain([folder.to_owned()]) {
        for entry in inside(&folder) {
            if unfinished(&entry.file_name().to_string_lossy()) {
                // The next run finds what could not be removed now.
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}
