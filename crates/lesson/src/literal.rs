//! A phrase that moves through the keys note for note.

use theory::{Degree, Mode};

use crate::PlacedChord;

/// A phrase as it stands, whatever scale it is from, and its chords.
///
/// Notes are degrees of the twelve against the major scale of the key, in a
/// minor key too: in C minor, E flat is b3. A degree gives its letter. The
/// symbols are named in C, and all of them move with the notes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Literal {
    /// Its notes, one to each count that sounds.
    pub notes: Vec<LiteralNote>,
    /// The chords over it, named in C major or C minor, each until the next;
    /// quarters from the figure's first bar line, negative in a pickup.
    pub chords: Vec<PlacedChord>,
    /// Whether its key is major or minor: C, or C minor, as it is written.
    pub mode: Mode,
}

/// A note of a literal phrase.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct LiteralNote {
    /// Against the major scale of the key, 1 to 13.
    pub degree: Degree,
    /// Octaves above the tonic from which degrees are counted upward:
    /// negative for `low`.
    pub octaves: i32,
}
