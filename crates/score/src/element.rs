//! Notes and rests as written.

use std::borrow::Cow;

use rhythm::{Beams, NoteValue, TupletEdge};
use theory::Pitch;

use crate::Origin;

/// A note or a rest in a measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Element {
    /// A note.
    Note(Note),
    /// A rest.
    Rest(Rest),
}

/// What notes and rests share.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Written {
    /// Ticks.
    pub length: u32,
    /// As written.
    pub value: NoteValue,
    /// Where a tuplet begins or ends.
    pub edge: Option<TupletEdge>,
    /// The chord symbol printed over it: a place in the score's chords.
    pub chord: Option<u16>,
}

/// A note.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Length, value, tuplet, chord symbol.
    pub written: Written,
    /// Written pitch.
    pub pitch: Pitch,
    /// The accidental that is printed, if one is.
    pub accidental: Option<Accidental>,
    /// Tied from the note before.
    pub tied_from: bool,
    /// Tied to the note after.
    pub tied_to: bool,
    /// Its beams.
    pub beams: Beams,
    /// Labels under it, one per row; only on the first of tied notes.
    pub lyrics: Lyrics,
    /// Where it came from.
    pub origin: Origin,
}

/// A rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rest {
    /// Length, value, tuplet, chord symbol.
    pub written: Written,
    /// Whether it is a silent bar's rest, whose value means nothing.
    pub whole_bar: bool,
}

/// A printed accidental: the pitch's own alteration, and whether it is only
/// a courtesy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Accidental {
    /// A reminder that the bar's rules don't need.
    pub courtesy: bool,
}

/// A label's text: `♭7`, `&`, `F♯`.
pub type Lyric = Cow<'static, str>;

/// Rows of labels; a row without one at this note is `None`.
pub type Lyrics = [Option<Lyric>; 4];

impl Element {
    /// What notes and rests share.
    pub fn written(&self) -> &Written {
        match self {
            Element::Note(note) => &note.written,
            Element::Rest(rest) => &rest.written,
        }
    }
}
