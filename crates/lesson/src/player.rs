//! Who plays.

use theory::{Instrument, Level, Pitch, Range};

use crate::{Keys, slug};

/// One player of the room, or one instrument of a lesson that names no
/// players.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Player {
    /// The player's name, if the lesson says one: then the folder's name too.
    pub name: Option<String>,
    /// What is played.
    pub instrument: Instrument,
    /// How far the player has come.
    pub level: Level,
    /// A lowest written pitch of the player's own.
    pub low: Option<Pitch>,
    /// A highest written pitch of the player's own.
    pub high: Option<Pitch>,
    /// Keys of the player's own.
    pub keys: Option<Keys>,
    /// How many copies are wanted; only reported.
    pub copies: u16,
}

impl Player {
    /// The name of the player's folder: the player's own name as a slug, else
    /// the instrument's id. No two players of a lesson share one.
    pub fn folder(&self) -> String {
        match &self.name {
            Some(name) => slug(name),
            None => self.instrument.id.to_string(),
        }
    }

    /// The player's written range at a level.
    pub fn range(&self, level: Level) -> Range {
        let range = self.instrument.range(level);
        Range {
            low: self.low.unwrap_or(range.low),
            high: self.high.unwrap_or(range.high),
        }
    }
}
