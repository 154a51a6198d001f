//! A mistake in a lesson's or a course's file.

use std::ops::Range;

/// One mistake: where, what, and what to write instead. Every stage makes this
/// one; which file it stands in is known to whoever gave the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mistake {
    /// Bytes of the file it stands at. As a whole reading returns it, on
    /// character boundaries, inside the file.
    pub span: Range<usize>,
    /// What is wrong, in a sentence.
    pub message: String,
    /// What to write instead; empty where there is nothing to say.
    pub help: String,
}

impl Mistake {
    /// A mistake at these bytes.
    pub fn new(span: Range<usize>, message: impl Into<String>, help: impl Into<String>) -> Mistake {
        Mistake {
            span,
            message: message.into(),
            help: help.into(),
        }
    }
}
