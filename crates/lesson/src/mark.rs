//! Marks that a whole exercise is given, and how its notes are called.

/// What becomes of the places where a player must breathe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Breath {
    /// The player finds them.
    #[default]
    None,
    /// A breath mark.
    Mark,
    /// A rest, taken from the note before; a mark where that note has none to
    /// give.
    Rest,
}

/// What notes are called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum NoteNames {
    /// By letters: B flat, B.
    #[default]
    English,
    /// By letters as in German usage: B, H.
    German,
    /// By fixed syllables: Si flat, Si.
    Latin,
}

/// How loud.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Dynamic {
    Pianissimo,
    Piano,
    MezzoPiano,
    MezzoForte,
    Forte,
    Fortissimo,
}

impl Dynamic {
    /// As it is printed.
    pub const fn letters(self) -> &'static str {
        match self {
            Dynamic::Pianissimo => "pp",
            Dynamic::Piano => "p",
            Dynamic::MezzoPiano => "mp",
            Dynamic::MezzoForte => "mf",
            Dynamic::Forte => "f",
            Dynamic::Fortissimo => "ff",
        }
    }
}
