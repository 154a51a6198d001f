//! How far a player has come.

/// A player's level. It chooses the range and how notes are beamed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum Level {
    /// First years.
    Beginner,
    /// Said by most lessons, and the default.
    #[default]
    Intermediate,
    /// The whole working range.
    Advanced,
}

impl Level {
    /// All levels, easiest first.
    pub const ALL: [Level; 3] = [Level::Beginner, Level::Intermediate, Level::Advanced];

    /// The word a lesson uses.
    pub const fn word(self) -> &'static str {
        match self {
            Level::Beginner => "beginner",
            Level::Intermediate => "intermediate",
            Level::Advanced => "advanced",
        }
    }
}
