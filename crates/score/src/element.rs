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
    /// A slash: something to be played that isn't written.
    Slash(Slash),
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
    /// How it is played.
    pub marks: Marks,
    /// Where it came from.
    pub origin: Origin,
}

/// Signs over or under a note that say how it is played. Of tied notes the
/// first has them, but for the ends of slurs, the breath, falls and doits,
/// which the last has, and parentheses, which all have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Marks {
    /// A slur ends here.
    pub slur_ends: bool,
    /// A slur begins here.
    pub slur_begins: bool,
    /// An accent.
    pub accent: bool,
    /// A dot: short.
    pub staccato: bool,
    /// A line: held.
    pub tenuto: bool,
    /// A breath after it.
    pub breath: bool,
    /// Hardly heard: its head stands in parentheses.
    pub ghost: bool,
    /// It falls away.
    pub fall: bool,
    /// It is slid into from below.
    pub scoop: bool,
    /// It is bent upward and away.
    pub doit: bool,
}

/// A slash on the staff's middle line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slash {
    /// Everything else of it: what stands in `pitch` is only a place on the
    /// staff, and sounds nothing.
    pub note: Note,
    /// Whether its rhythm is given (a slash with stem, flags and beams), or
    /// only its beat (a slash alone).
    pub rhythmic: bool,
}

/// A rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rest {
    /// Length, value, tuplet, chord symbol.
    pub written: Written,
    /// Whether it is a silent bar's rest, whose value means nothing.
    pub whole_bar: bool,
    /// Whether it is there only to fill its bar, and isn't printed.
    pub hidden: bool,
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
            Element::Slash(slash) => &slash.note.written,
        }
    }
}
