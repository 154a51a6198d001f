//! Reading a lesson file.

use lesson::Lesson;

use crate::Mistake;

/// A lesson read, and the files it wants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading {
    /// The lesson.
    pub lesson: Lesson,
    /// Files the lesson names (none yet in this version's kinds).
    pub wants: Vec<String>,
}

/// Reads a lesson file. `stem` is the file's name without its ending, the
/// lesson's id if it says none.
///
/// # Errors
/// Every mistake in the file, in the order they stand there; never empty.
pub fn read(text: &str, stem: &str) -> Result<Reading, Vec<Mistake>> {
    todo!()
}
