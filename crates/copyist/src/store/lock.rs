//! One run at a time in a folder: the system's lock on a file that stays. A
//! dead run's lock dies with it.

use std::fs::{File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;

use crate::error::{CopyError, Doing};
use crate::news::{News, Tell};
use crate::run_part::RunPart;
use crate::stop::Stop;

use super::regular;

/// Held by every run: alone by a whole one, shared by parts.
const NAME: &str = ".twelvefold.lock";

/// Held while parts tell the contents they share.
const CONTENTS: &str = ".twelvefold-contents.lock";

/// How long until a lock is tried again.
const PAUSE: Duration = Duration::from_millis(50);

/// What a run holds until it ends.
pub struct Lock {
    root: PathBuf,
    part: Option<RunPart>,
    _held: Vec<File>,
}

impl Lock {
    /// Takes the lock of a folder, as soon as it can be had.
    pub fn take(
        root: &Path,
        part: Option<RunPart>,
        stop: &Stop,
        tell: &mut Tell<'_>,
    ) -> Result<Lock, CopyError> {
        let mut held = Vec::new();
        let own = part.map(|part| format!(".twelvefold{}.lock", part.tag()));
        let names = [Some(NAME.to_owned()), own];
        for (place, name) in names.into_iter().flatten().enumerate() {
            let path = root.join(name);
            let file = open(&path).map_err(|error| Doing::Write.failed(root, error))?;
            let shared = place == 0 && part.is_some();
            let mut told = false;
            loop {
                let tried = if shared {
                    file.try_lock_shared()
                } else {
                    file.try_lock()
                };
                match tried {
                    Ok(()) => break,
                    Err(TryLockError::WouldBlock) => {}
                    Err(TryLockError::Error(error)) => {
                        tell(News::Unlockable {
                            folder: root.to_owned(),
                            reason: error.to_string(),
                        })?;
                        break;
                    }
                }
                stop.check()?;
                if !told {
                    tell(News::Waiting {
                        folder: root.to_owned(),
                        lock: path.clone(),
                    })?;
                    told = true;
                }
                thread::sleep(PAUSE);
            }
            held.push(file);
        }
        Ok(Lock {
            root: root.to_owned(),
            part,
            _held: held,
        })
    }

    /// Held for a moment while contents are told: parts share them.
    pub fn contents(&self) -> io::Result<Option<File>> {
        if self.part.is_none() {
            return Ok(None);
        }
        let file = open(&self.root.join(CONTENTS))?;
        file.lock()?;
        Ok(Some(file))
    }
}

fn open(path: &Path) -> io::Result<File> {
    regular::refuse_endless(path)?;
    // On a network drive a shared lock wants a file that can be read, the other
    // one that can be written (Linux man-pages, flock(2)).
    OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .open(path)
}
