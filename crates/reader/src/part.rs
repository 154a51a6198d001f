//! A part as it was read: measures with notes, chords and bar lines at exact
//! times, pitches already as they were asked for.

use lesson::{Home, PlayedBy};
use rhythm::{Fraction, Meter};
use theory::{ChordSymbol, Interval, KeySignature, Pitch};

use crate::ReadError;
use crate::sign::Sign;

/// One part, or as much of it as could be read.
#[derive(Debug, Default)]
pub(crate) struct Part {
    /// What its measures say it belongs to.
    pub id: String,
    /// Its name in the list of parts.
    pub name: Option<String>,
    /// What that list says of who plays it.
    pub played_by: PlayedBy,
    pub measures: Vec<Measure>,
    /// The key at the beginning.
    pub key: Option<KeySignature>,
    /// The names of its voices.
    pub voices: Vec<String>,
    pub warnings: Vec<PlacedWarning>,
    /// The measure where its time was lost, by its place, and why: nothing
    /// after that was read.
    pub fault: Option<(usize, ReadError)>,
}

/// A warning, and what it is about: changes need not hear of pitches.
#[derive(Debug)]
pub(crate) struct PlacedWarning {
    pub about: Concern,
    pub warning: crate::Warning,
    /// The measure's place in the part.
    pub measure: usize,
}

/// What a warning is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Concern {
    /// Time, keys, the file: everyone hears of it.
    All,
    /// Pitches, ties and what else only a line has.
    Line,
    /// Chord symbols, repeats and what else only changes have.
    Chords,
}

/// One measure; times are quarters from its own start.
#[derive(Debug)]
pub(crate) struct Measure {
    /// As it is printed.
    pub number: String,
    /// Whether it says that it isn't counted.
    pub implicit: bool,
    /// The meter in force, if any was given so far.
    pub meter: Option<Meter>,
    /// Written to sounding, and the key, as they are in force at its start.
    pub written_to_sounding: Interval,
    pub key: Option<KeySignature>,
    /// The tonic and scale that are stated with the key.
    pub home: Option<Home>,
    /// How far its notes, rests and skips reach.
    pub length: Fraction,
    pub notes: Vec<Note>,
    pub chords: Vec<Chord>,
    pub lines: BarLines,
    /// Its rehearsal mark.
    pub mark: Option<String>,
    /// What it says of the way through the piece.
    pub signs: Vec<Sign>,
}

/// A note, a rest, or what takes time without a pitch.
#[derive(Debug)]
pub(crate) struct Note {
    pub at: Fraction,
    pub length: Fraction,
    /// Its staff, from 1 at the top.
    pub staff: u8,
    /// Its voice, by the order in which the part's voices appear.
    pub voice: usize,
    /// Whether it stands on the stem of the note before.
    pub on_stem: bool,
    pub sound: Sound,
    pub tie: Tie,
}

/// What a note sounds.
#[derive(Debug)]
pub(crate) enum Sound {
    Pitch(Pitch),
    /// A rest that is seen.
    Rest,
    /// Nothing that is seen: a hidden rest or note.
    Hidden,
    /// Something without a pitch: percussion, slashes, a cue.
    Unpitched(&'static str),
    /// A pitch that can't be read.
    Unreadable(ReadError),
}

/// A note's ties, for the ear (`tie`) and for the eye (`tied`).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Tie {
    pub starts: bool,
    pub stops: bool,
    pub starts_drawn: bool,
    pub stops_drawn: bool,
}

/// A chord symbol at its place, or why it can't be read.
#[derive(Debug)]
pub(crate) struct Chord {
    /// Quarters from the measure's start, the offset counted in.
    pub at: Fraction,
    pub symbol: Result<ChordSymbol, ReadError>,
}

/// What a measure's bar lines say.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct BarLines {
    /// A repeat begins before it.
    pub forward: bool,
    /// A repeat begins after it.
    pub forward_after: bool,
    /// A repeat ends after it, and how often it is played in all, if said.
    pub backward: bool,
    /// A repeat ends before it.
    pub backward_before: bool,
    pub times: Option<u16>,
    /// An ending begins before it: its times.
    pub ending: Option<Vec<u16>>,
    /// An ending is over after it.
    pub ending_over: bool,
}

impl Part {
    /// What a message calls it.
    pub fn shown_name(&self) -> String {
        let name = self.name.as_deref().filter(|name| !name.is_empty());
        crate::shown::short(name.unwrap_or(&self.id))
    }
}
