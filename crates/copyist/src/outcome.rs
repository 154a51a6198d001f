//! What became of a lesson.

use std::collections::BTreeSet;

use crate::contents::{Contents, LeftOutEntry};
use crate::error::CopyError;
use crate::folder_outcome::FolderOutcome;
use crate::refusal::Refusal;
use crate::track_failure::TrackFailure;

/// What became of a lesson, or of all that is made of a course's lessons
/// together.
#[derive(Debug)]
pub struct LessonOutcome {
    /// Its folder, within the one that everything goes into.
    pub folder: String,
    /// What `contents.json` says now.
    pub contents: Contents,
    /// Files of this run: contents may tell of others too.
    pub files: usize,
    /// Sheets of this run with an exercise that is shorter than asked.
    pub shortened: usize,
    /// Sheets that could not be made.
    pub left_out: Vec<LeftOutEntry>,
    /// What stays in the folder that this run didn't make.
    pub settled: FolderOutcome,
    /// Tracks that could not be made.
    pub failed: Vec<TrackFailure>,
    /// What is to be said of its tracks.
    pub told: BTreeSet<String>,
    /// Sheets whose music is not that of their last edition.
    pub changed: Vec<String>,
    /// Whether all was made that was asked for; else the run ended before.
    pub whole: bool,
    /// What is to be said of a course.
    pub course: Option<CourseOutcome>,
    /// Books, scores and grids of earlier runs.
    pub(crate) bound: BTreeSet<String>,
}

/// What is to be said of a course beside its files.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CourseOutcome {
    /// Sheets that somebody edited, within the course's folder: the books and
    /// packets that this run made hold them as they are composed.
    pub edited: Vec<String>,
}

impl LessonOutcome {
    /// Of a lesson or a course, by its id and its title.
    pub(crate) fn new(id: &str, title: &str, folder: &str) -> LessonOutcome {
        LessonOutcome {
            folder: folder.to_owned(),
            contents: Contents::new(id, title),
            files: 0,
            shortened: 0,
            left_out: Vec::new(),
            settled: FolderOutcome::default(),
            failed: Vec::new(),
            told: BTreeSet::new(),
            changed: Vec::new(),
            whole: true,
            course: None,
            bound: BTreeSet::new(),
        }
    }
}

/// Why a lesson or a course isn't whole.
#[derive(Debug)]
pub(crate) struct Interruption {
    /// What ended the run.
    pub error: CopyError,
    /// What was written until then, if anything.
    pub outcome: Option<Box<LessonOutcome>>,
}

impl From<CopyError> for Interruption {
    fn from(error: CopyError) -> Interruption {
        Interruption {
            error,
            outcome: None,
        }
    }
}

impl From<Refusal> for Interruption {
    fn from(refusal: Refusal) -> Interruption {
        CopyError::from(refusal).into()
    }
}

impl LessonOutcome {
    /// What it came to: whole where all was `done` and `closed`, else what was
    /// written of it.
    pub(crate) fn ended(
        mut self,
        done: Result<(), CopyError>,
        closed: Result<(), CopyError>,
    ) -> Result<LessonOutcome, Interruption> {
        let told = closed.is_ok() && self.files > 0;
        let Err(error) = done.and(closed) else {
            return Ok(self);
        };
        self.whole = false;
        Err(Interruption {
            error,
            outcome: told.then(|| Box::new(self)),
        })
    }
}
