//! Why a run ended before everything was done. What was written until then is
//! whole.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::refusal::Refusal;
use crate::stopped::is_stopped;

/// What ended a run.
#[derive(Debug, thiserror::Error)]
pub enum CopyError {
    /// Someone asked it to stop.
    #[error("stopped; what is written is whole, and the same command goes on from there")]
    Stopped,
    /// A file or folder that the disk refused.
    #[error("could not {doing} {}: {reason}", place.display())]
    Disk {
        /// What was tried.
        doing: Doing,
        /// On what.
        place: PathBuf,
        /// Why it failed, in words.
        reason: String,
    },
    /// A sheet that could not be put into a format.
    #[error("could not make {file}: {reason}")]
    Format {
        /// The file it was to be, or the sheet.
        file: String,
        /// What the format's maker says.
        reason: String,
    },
    /// What was asked for can't be done.
    #[error("{0}")]
    Refused(Refusal),
    /// Whoever was told could not hear any more.
    #[error("what was made could not be told")]
    Unheard(#[from] io::Error),
}

/// What was tried on a file or folder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doing {
    /// Writing it.
    Write,
    /// Taking it away.
    Remove,
    /// Writing down what is in it, at a run's end.
    Close,
}

impl Doing {
    /// The error this comes to on a path.
    pub(crate) fn failed(self, place: &Path, error: io::Error) -> CopyError {
        if is_stopped(&error) {
            return CopyError::Stopped;
        }
        CopyError::Disk {
            doing: self,
            place: place.to_owned(),
            reason: plainly(error),
        }
    }
}

impl fmt::Display for Doing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Doing::Write => "write",
            Doing::Remove => "remove",
            Doing::Close => "close",
        })
    }
}

impl From<Refusal> for CopyError {
    fn from(refusal: Refusal) -> CopyError {
        CopyError::Refused(refusal)
    }
}

/// The system's reason in words a teacher reads.
fn plainly(error: io::Error) -> String {
    let words = match error.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "writing there is not allowed"
        }
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full",
        io::ErrorKind::FileTooLarge => "files there may not be that large",
        io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => {
            "a file stands where a folder is needed"
        }
        io::ErrorKind::DirectoryNotEmpty => "a folder of that name was made meanwhile",
        io::ErrorKind::IsADirectory => "a folder has that name",
        io::ErrorKind::InvalidFilename => "the path is too long",
        _ => return error.to_string(),
    };
    words.to_owned()
}
