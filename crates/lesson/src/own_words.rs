//! What a teacher says on the sheets in words of their own.

/// Words on every sheet of a lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnWords {
    /// Who made it.
    pub author: Option<String>,
    /// Whose it is.
    pub rights: Option<String>,
    /// At the foot of each page.
    pub footer: Option<String>,
    /// Paragraphs under the title.
    pub text: Vec<String>,
    /// Whether the figure's moves stand at the head.
    pub show_moves: bool,
}

impl Default for OwnWords {
    fn default() -> OwnWords {
        OwnWords {
            author: None,
            rights: None,
            footer: None,
            text: Vec::new(),
            show_moves: true,
        }
    }
}

/// Words over a place of an exercise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WordsOver {
    /// Where they stand.
    pub place: WordsPlace,
    /// What they say, on one line.
    pub words: String,
}

/// A place of an exercise, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WordsPlace {
    /// A bar, from the exercise's own first whole one.
    Bar(u16),
    /// A statement of the figure.
    Statement(u16),
}

/// What the sheets are printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 8½ by 11 inches (ANSI/ASME Y14.1).
    Letter,
}
