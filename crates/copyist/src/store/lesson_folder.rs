//! One lesson's folder while a run writes into it. A file that somebody
//! edited is never lost: what is not known to be ours stays.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::error::{CopyError, Doing};

use super::content::Content;
use super::file_outcome::FileOutcome;
use super::hash::Hash;
use super::journal::{self, Journal};
use super::new_folder::NewFolder;
use super::record::{CONTENTS, Record};
use super::regular;
use super::rules::Rules;
use super::versions::beside;
use super::whole::{self, UNFINISHED};
use crate::folder_outcome::{KeptFile, Leftover};

/// A lesson's folder, what is known of it, and what this run did there.
pub struct LessonFolder {
    path: PathBuf,
    pub known: Record,
    journal: Journal,
    /// Where it isn't there yet.
    fresh: Option<NewFolder>,
    /// Every file this run answers for.
    done: Mutex<BTreeMap<String, Answer>>,
}

/// What a run did about a file.
struct Answer {
    /// The hash to know it by: none where it isn't ours.
    hash: Option<Hash>,
    outcome: FileOutcome,
}

impl LessonFolder {
    /// Reads what is known of a folder, and sweeps out what a killed run
    /// left unfinished. `at_once` says whether it is moved into place at once
    /// where it isn't there yet.
    pub fn open(path: PathBuf, rules: &Rules, at_once: bool) -> LessonFolder {
        let known = Record::read(&path);
        let journal = Journal::new(&path, &rules.tag, rules.durable);
        if journal.is_left() {
            sweep(&path, &rules.tag, DEPTH);
        }
        // Parts share the folder, and the disk is waited for at each file
        // only in its own place.
        let at_once = at_once && !rules.durable && rules.tag.is_empty();
        let fresh = at_once.then(|| NewFolder::begin(&path)).flatten();
        LessonFolder {
            path,
            known,
            journal,
            fresh,
            done: Mutex::default(),
        }
    }

    /// Puts a file: nothing moves where it stands already, and an edited one
    /// stays, with the new version beside it.
    pub fn put(&self, file: &str, content: Content<'_>, rules: &Rules) -> Result<(), CopyError> {
        self.place(file, content, rules)
            .map_err(|error| Doing::Write.failed(&self.path.join(file), error))
    }

    fn place(&self, file: &str, content: Content<'_>, rules: &Rules) -> io::Result<()> {
        let hash = content.hash()?;
        if let Some(fresh) = &self.fresh {
            fresh.put(file, content)?;
            self.answer(file, Some(hash), FileOutcome::Made);
            return Ok(());
        }
        let replaced = |edited| FileOutcome::Replaced { edited };
        match self.occupant(file, content, hash)? {
            Occupant::Same => self.answer(file, Some(hash), FileOutcome::Untouched),
            Occupant::Nothing => self.write(file, content, hash, FileOutcome::Made, rules)?,
            Occupant::Ours => self.write(file, content, hash, replaced(None), rules)?,
            Occupant::Edited if rules.replace => {
                let edited = self.set_aside(file)?;
                self.write(file, content, hash, replaced(Some(edited)), rules)?;
            }
            Occupant::Edited => {
                let new = self.write_beside(file, content, hash, rules)?;
                let known = self.known.hashes.get(file);
                let known = known.and_then(|hashes| hashes.first()).copied();
                self.answer(file, known, FileOutcome::Kept { new });
            }
        }
        Ok(())
    }

    /// What stands in a file's place.
    fn occupant(&self, file: &str, content: Content<'_>, hash: Hash) -> io::Result<Occupant> {
        match content.compared(&self.path.join(file), hash) {
            Ok(None) => Ok(Occupant::Same),
            Ok(Some(old)) => {
                if old == hash || self.known.is_ours(file, old) {
                    Ok(Occupant::Ours)
                } else {
                    Ok(Occupant::Edited)
                }
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Occupant::Nothing),
            Err(error) => Err(error),
        }
    }

    fn write(
        &self,
        file: &str,
        content: Content<'_>,
        hash: Hash,
        outcome: FileOutcome,
        rules: &Rules,
    ) -> io::Result<()> {
        self.journal.note(file, hash)?;
        whole::put(&self.path.join(file), &rules.tag, content, rules.durable)?;
        self.answer(file, Some(hash), outcome);
        Ok(())
    }

    /// Writes the new version into the first name beside the file that is
    /// free or ours.
    fn write_beside(
        &self,
        file: &str,
        content: Content<'_>,
        hash: Hash,
        rules: &Rules,
    ) -> io::Result<String> {
        let mut number = 1;
        loop {
            let new = beside(file, "new", number);
            match self.occupant(&new, content, hash)? {
                Occupant::Same => self.answer(&new, Some(hash), FileOutcome::Untouched),
                Occupant::Nothing => self.write(&new, content, hash, FileOutcome::Made, rules)?,
                Occupant::Ours => {
                    let outcome = FileOutcome::Replaced { edited: None };
                    self.write(&new, content, hash, outcome, rules)?;
                }
                Occupant::Edited => {
                    number += 1;
                    continue;
                }
            }
            return Ok(new);
        }
    }

    /// Moves an edited file to the first free name beside it, and says which.
    fn set_aside(&self, file: &str) -> io::Result<String> {
        let free = (1..)
            .map(|number| beside(file, "edited", number))
            .find(|name| self.path.join(name).symlink_metadata().is_err());
        let Some(free) = free else {
            return Err(io::Error::other("no name beside it is free"));
        };
        fs::rename(self.path.join(file), self.path.join(&free))?;
        Ok(free)
    }

    fn answer(&self, file: &str, hash: Option<Hash>, outcome: FileOutcome) {
        self.done()
            .insert(file.to_owned(), Answer { hash, outcome });
    }

    /// Whether this run answers for any file here.
    pub fn is_used(&self) -> bool {
        !self.done().is_empty()
    }

    /// What this run did about a file, if anything.
    pub fn outcome(&self, file: &str) -> Option<FileOutcome> {
        self.done().get(file).map(|done| done.outcome.clone())
    }

    /// The edited files that stayed, by name.
    pub fn kept(&self) -> Vec<KeptFile> {
        let done = self.done();
        let kept = done.iter().filter_map(|(file, done)| match &done.outcome {
            FileOutcome::Kept { new } => Some(KeptFile {
                file: file.clone(),
                new: new.clone(),
            }),
            _ => None,
        });
        kept.collect()
    }

    /// Files of ours that the lesson no longer makes, by `stands`; those that
    /// nobody edited are removed if the rules say so, or if this run put the
    /// same sheet under its new name, by `renames`.
    pub fn leftovers(
        &self,
        rules: &Rules,
        stands: impl Fn(&str) -> bool,
        renames: &BTreeMap<String, String>,
    ) -> Result<Vec<Leftover>, CopyError> {
        let mut leftovers = Vec::new();
        for file in self.known.hashes.keys() {
            if self.done().contains_key(file) || stands(file) {
                continue;
            }
            let path = self.path.join(file);
            let Ok(hash) = Hash::of_file(&path) else {
                continue;
            };
            let edited = !self.known.is_ours(file, hash);
            let renamed = renames.get(file).filter(|new| self.outcome(new).is_some());
            let removed = !edited && (rules.tidy || renamed.is_some());
            if removed {
                fs::remove_file(&path).map_err(|error| Doing::Remove.failed(&path, error))?;
                if let Some(folder) = path.parent() {
                    // Stays where anything else is in it.
                    let _ = fs::remove_dir(folder);
                }
            }
            leftovers.push(Leftover {
                file: file.clone(),
                renamed: renamed.cloned(),
                made_of_sheets: self.known.contents.bound.contains(file),
                edited,
                removed,
            });
        }
        Ok(leftovers)
    }

    /// The hash to know each file by from now on, and the files that somebody
    /// edited; `known` is what the folder says by now, in case others wrote
    /// there too. In haste, what is known in one way only isn't read again.
    pub fn remembered(
        &self,
        known: &Record,
        in_haste: bool,
    ) -> (BTreeMap<String, String>, Vec<String>) {
        let done = self.done();
        let mut hashes: BTreeMap<String, String> = BTreeMap::new();
        let is_kept = |outcome: &FileOutcome| matches!(outcome, FileOutcome::Kept { .. });
        let kept = done.iter().filter(|(_, done)| is_kept(&done.outcome));
        let mut edited: Vec<String> = kept.map(|(file, _)| file.clone()).collect();
        for (file, told) in &known.hashes {
            if done.contains_key(file) {
                continue;
            }
            let path = self.path.join(file);
            let only = told.first().filter(|_| in_haste && told.len() == 1);
            let hash = match only {
                Some(_) if !path.is_file() => continue,
                Some(only) => Some(only),
                None => {
                    let Ok(now) = Hash::of_file(&path) else {
                        continue;
                    };
                    if !known.is_ours(file, now) {
                        edited.push(file.clone());
                    }
                    told.iter().find(|hash| **hash == now).or(told.first())
                }
            };
            hashes.extend(hash.map(|hash| (file.clone(), hash.to_string())));
        }
        for (file, done) in &*done {
            hashes.extend(done.hash.map(|hash| (file.clone(), hash.to_string())));
        }
        edited.sort();
        (hashes, edited)
    }

    /// Ends the run here: `contents.json` says what is in the folder, and then
    /// the notes go. Where it can't be written the notes stay, for the next
    /// run to go by; a folder that isn't in place yet is left out whole.
    pub fn close(&self, contents: &[u8], rules: &Rules) -> Result<(), CopyError> {
        let unwritten = |error| Doing::Write.failed(&self.path.join(CONTENTS), error);
        let unclosed = |error| Doing::Close.failed(&self.path, error);
        let Some(fresh) = &self.fresh else {
            self.put_contents(contents, rules).map_err(unwritten)?;
            return self.end_notes(rules).map_err(unclosed);
        };
        let put = fresh.put(CONTENTS, Content::Bytes(contents));
        put.inspect_err(|_| fresh.drop()).map_err(unwritten)?;
        fresh.settle().map_err(unclosed)
    }

    /// Leaves out whole a folder that isn't in place yet.
    pub fn abandon(&self) {
        if let Some(fresh) = &self.fresh {
            fresh.drop();
        }
    }

    /// Writes `contents.json`, where it isn't the same already; a damaged one
    /// is set aside.
    fn put_contents(&self, json: &[u8], rules: &Rules) -> io::Result<()> {
        let path = self.path.join(CONTENTS);
        if self.known.damaged && path.is_file() {
            self.set_aside(CONTENTS)?;
        }
        match regular::read(&path) {
            Ok(old) if old == json => return Ok(()),
            Err(error) if error.kind() == io::ErrorKind::Unsupported => return Err(error),
            _ => {}
        }
        whole::put(&path, &rules.tag, Content::Bytes(json), rules.durable)
    }

    /// A run that has the folder to itself ends the notes of dead runs too.
    fn end_notes(&self, rules: &Rules) -> io::Result<()> {
        self.journal.close()?;
        if rules.tag.is_empty() {
            journal::all(&self.path)
                .iter()
                .try_for_each(fs::remove_file)?;
        }
        Ok(())
    }

    fn done(&self) -> MutexGuard<'_, BTreeMap<String, Answer>> {
        self.done.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// What stands where a file goes.
enum Occupant {
    Nothing,
    /// The very same bytes.
    Same,
    /// What a run of ours wrote.
    Ours,
    /// What we never wrote.
    Edited,
}

/// How far below a folder its files lie: `player/week-01/track`.
const DEPTH: u8 = 2;

/// Removes the unfinished files of dead runs, in the folder and so deep below
/// it: those with this tag, or all for a run that has the folder to itself.
fn sweep(folder: &Path, tag: &str, depth: u8) {
    let unfinished = |name: &str| {
        name.starts_with('.')
            && name
                .rsplit_once(UNFINISHED)
                .is_some_and(|(_, after)| tag.is_empty() || after == tag)
    };
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if unfinished(&entry.file_name().to_string_lossy()) {
            // The next run finds what could not be removed now.
            let _ = fs::remove_file(path);
        } else if depth > 0 && path.is_dir() {
            sweep(&path, tag, depth - 1);
        }
    }
}
