//! Lines at a sheet's head.

/// A line at a sheet's head, and what it is about, for those who set lines of
/// one kind apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeadLine {
    /// What it is about.
    pub about: About,
    /// As it is printed.
    pub text: String,
}

/// What a line at a sheet's head is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum About {
    /// The sheet itself: that it holds the answers.
    Sheet,
    /// Who plays: a name, a class.
    Player,
    /// The key: `Written A · concert C`.
    Key,
    /// The figure: its moves in words.
    Figure,
    /// The order that the keys are in.
    Keys,
    /// A caution for those who practise.
    Care,
    /// The edition.
    Edition,
}

impl HeadLine {
    /// A line.
    pub fn new(about: About, text: impl Into<String>) -> HeadLine {
        HeadLine {
            about,
            text: text.into(),
        }
    }
}
