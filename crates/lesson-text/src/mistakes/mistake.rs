//! A mistake in a lesson file.

use std::ops::Range;

/// One mistake: where, what, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mistake {
    /// Bytes of the file it stands at; on character boundaries, inside the
    /// file.
    pub place: Range<usize>,
    /// What is wrong, in a sentence.
    pub message: String,
    /// What to write instead.
    pub help: String,
}
