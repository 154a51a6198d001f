//! The two ways to spell.

/// How notes are spelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SpellingStyle {
    /// As a copyist writes them: no needless doubles, no needless E sharp, B
    /// sharp, C flat or F flat.
    #[default]
    Readable,
    /// A rung takes the letter of its degree.
    Strict,
}
