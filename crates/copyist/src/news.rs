//! What a run tells while it goes.

use std::path::PathBuf;

use crate::outcome::LessonOutcome;

/// Told in the order of the lessons, on the thread that called.
#[derive(Debug)]
pub enum News<'a> {
    /// Another run writes into the folder, holding this lock; this one waits.
    Waiting {
        /// The folder.
        folder: PathBuf,
        /// The lock that is held.
        lock: PathBuf,
    },
    /// The folder's drive can't lock, so only one run may write there at a
    /// time.
    Unlockable {
        /// The folder.
        folder: PathBuf,
        /// What the system says.
        reason: String,
    },
    /// What a sheet contains, a JSON object; only where that was asked for.
    Sheet(&'a [u8]),
    /// A lesson is done.
    Lesson(&'a LessonOutcome),
}

/// Hears the news. Where it can't hear any more, the run ends.
pub type Tell<'a> = dyn FnMut(News<'_>) -> std::io::Result<()> + 'a;

/// Counts sheets as they are made, with their bars; from any thread.
pub type Count<'a> = dyn Fn(u32) + Sync + 'a;
