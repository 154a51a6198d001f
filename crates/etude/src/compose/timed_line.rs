//! A line whose times are known, before it is written in bars: statements and
//! scales come to it by `statements`, lines over changes by `over`.

use rhythm::{Event, Ticks};

/// A line whose times are known.
#[derive(Debug, Default)]
pub(crate) struct TimedLine {
    /// Its notes in order.
    pub notes: Vec<TimedNote>,
    /// The first note of each passage: of each key, or of each chord's time.
    pub passages: Vec<usize>,
    /// The notes after which a breath may be taken.
    pub chances: Vec<usize>,
    /// Where statements' bar lines are (a pickup comes before its own).
    pub starts: Vec<Ticks>,
    /// Where a chord stands, in order: what sounds on is parted there.
    pub chords: Vec<Ticks>,
    /// The place among them of each key's first; over changes nobody asks.
    pub keys: Vec<usize>,
    /// Beats to improvise on, in order.
    pub slashes: Vec<Event>,
}

/// A note in time.
#[derive(Debug, Clone, Copy)]
pub(crate) struct TimedNote {
    pub event: Event,
    /// Its statement.
    pub statement: u16,
    /// Its number there, from 1; 0 for one that is none of the figure's.
    pub number: u16,
}
