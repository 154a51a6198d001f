//! What became of a lesson.

use std::collections::BTreeSet;

use lesson::Lesson;

use crate::contents::{Contents, LeftOutEntry};
use crate::store::Settled;
use crate::track;

/// What became of a lesson.
pub struct Finished {
    pub contents: Contents,
    /// Files of this run: contents may tell of others too.
    pub files: usize,
    pub left_out: Vec<LeftOutEntry>,
    pub settled: Settled,
    /// Tracks that could not be made.
    pub failed: Vec<track::Failure>,
    /// Sheets whose music is not that of their last edition.
    pub changed: Vec<String>,
    /// Books, scores and grids of earlier runs.
    pub bound: BTreeSet<String>,
}

impl Finished {
    pub fn new(lesson: &Lesson) -> Finished {
        Finished {
            contents: Contents::new(lesson),
            files: 0,
            left_out: Vec::new(),
            settled: Settled::default(),
            failed: Vec::new(),
            changed: Vec::new(),
            bound: BTreeSet::new(),
        }
    }
}
