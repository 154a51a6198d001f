//! Rule 3: how each note of a line is spelled.

use crate::{ChordSymbol, Form, Ladder, Pitch, Rung, Signature};

/// How notes are spelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SpellingStyle {
    /// For reading: the chord's letters, no needless doubles.
    #[default]
    Readable,
    /// A rung takes the letter of its degree.
    Strict,
}

/// A note before it is spelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tone {
    /// A rung of the ladder.
    Rung(Rung),
    /// A half step above the rung it leads to.
    Above(Rung),
    /// A half step below the rung it leads to.
    Below(Rung),
}

/// A tone and the form of the scale it is taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct LineTone {
    /// What sounds.
    pub tone: Tone,
    /// Rising or falling form.
    pub form: Form,
}

/// Spells the lines of one scale on one root under one chord.
#[derive(Debug)]
pub struct Speller<'a> {
    /// The scale's ladder.
    pub ladder: &'a Ladder,
    /// The pitch of rung 0.
    pub root: Pitch,
    /// The chord shown over the line, on the same (written) root names.
    pub chord: Option<&'a ChordSymbol>,
    /// The signature on the staff.
    pub signature: Signature,
    /// Strict or readable.
    pub style: SpellingStyle,
}

impl Speller<'_> {
    /// The pitch of each tone as `strict` has it, by sound always right.
    pub fn strict(&self, tone: LineTone) -> Pitch {
        todo!()
    }

    /// The whole line, in order, into `out` (cleared first).
    pub fn spell(&self, line: &[LineTone], out: &mut Vec<Pitch>) {
        todo!()
    }
}
