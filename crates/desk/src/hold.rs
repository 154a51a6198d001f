//! Whether another desk is open on the folder.

use std::fs::{self, File, OpenOptions};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

/// Holds the folder as long as it lives.
#[derive(Debug)]
pub(crate) struct FolderHold {
    /// None where a lock can't be had: the folder can't be written, or its
    /// drive has none.
    file: Mutex<Option<(File, PathBuf)>>,
    /// Whether somebody else holds it.
    pub(crate) elsewhere: bool,
}

impl FolderHold {
    pub(crate) fn new(folder: &Path) -> FolderHold {
        let path = folder.join(".desk.lock");
        let file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path);
        let Ok(file) = file else {
            return FolderHold {
                file: Mutex::default(),
                elsewhere: false,
            };
        };
        match file.try_lock() {
            Ok(()) => FolderHold {
                file: Mutex::new(Some((file, path))),
                elsewhere: false,
            },
            Err(fs::TryLockError::WouldBlock) => FolderHold {
                file: Mutex::default(),
                elsewhere: true,
            },
            Err(fs::TryLockError::Error(_)) => FolderHold {
                file: Mutex::default(),
                elsewhere: false,
            },
        }
    }
}

impl FolderHold {
    /// Lets go of the folder before the end of its own.
    pub(crate) fn let_go(&self) {
        let mut file = self.file.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((file, path)) = file.take() {
            let _ = fs::remove_file(path);
            let _ = file.unlock();
        }
    }
}

impl Drop for FolderHold {
    fn drop(&mut self) {
        self.let_go();
    }
}
