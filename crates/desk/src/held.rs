//! Whether another desk is open on the folder.

use std::fs::{self, File, OpenOptions};
use std::path::{Path, PathBuf};

/// Holds the folder as long as it lives.
#[derive(Debug)]
pub(crate) struct Held {
    /// None where a lock can't be had: the folder can't be written, or its
    /// drive has none.
    file: Option<(File, PathBuf)>,
    /// Whether somebody else holds it.
    pub(crate) elsewhere: bool,
}

impl Held {
    pub(crate) fn new(folder: &Path) -> Held {
        let path = folder.join(".desk.lock");
        let file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(&path);
        let Ok(file) = file else {
            return Held {
                file: None,
                elsewhere: false,
            };
        };
        match file.try_lock() {
            Ok(()) => Held {
                file: Some((file, path)),
                elsewhere: false,
            },
            Err(fs::TryLockError::WouldBlock) => Held {
                file: None,
                elsewhere: true,
            },
            Err(fs::TryLockError::Error(_)) => Held {
                file: None,
                elsewhere: false,
            },
        }
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        if let Some((file, path)) = self.file.take() {
            let _ = fs::remove_file(path);
            let _ = file.unlock();
        }
    }
}
