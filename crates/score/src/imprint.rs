//! What the teacher says on every sheet of a lesson.

/// Who made a lesson, on what terms, and what its sheets say beside the music.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Imprint {
    /// Who made it: the standard's creator of type `composer`.
    pub author: Option<String>,
    /// On what terms it may be used: the standard's `rights`.
    pub rights: Option<String>,
    /// A line at the foot.
    pub footer: Option<String>,
    /// Paragraphs under the title, each one line without end.
    pub text: Vec<String>,
}
