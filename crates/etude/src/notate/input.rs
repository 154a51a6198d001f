//! What an exercise's measures are made of.

use lesson::{FigureMarks, Given, Hide, NoteNames};
use rhythm::Ticks;
use theory::{Instrument, KeySignature, LineTone, Mode, Pitch};

use crate::compose::timing::Timing;
use crate::compose::writing::Sound;
use crate::notate::marks::NotePosition;
use crate::print::Print;
use crate::spell::passage::Passage;

/// Everything that is known of an exercise on a sheet.
#[derive(Debug)]
pub(crate) struct NotationInput<'a> {
    /// Number on the sheet, from 0.
    pub number: u16,
    pub print: Print<'a>,
    /// Whether its last note is a root that closes it.
    pub closes: bool,
    /// The figure's signs, where it is said whole.
    pub marks: Option<&'a FigureMarks>,
    /// Names of sections by the times they begin at.
    pub sections: &'a [(Ticks, String)],
    /// Chord symbols by their times, in order.
    pub symbols: &'a [(Ticks, u16)],
    /// Whether a symbol, or else words, says the key of a passage.
    pub keyed: bool,
    /// The mode of a literal phrase, whose chords come at their own times.
    pub literal: Option<Mode>,
    pub timing: &'a Timing,
    /// What is played in each key, in order.
    pub passages: &'a [Passage<'a>],
    pub key: KeySignature,
    /// What is given, the bars after it being blank; none: everything.
    pub given: Option<Given>,
    /// What is left out for the student to fill in.
    pub hide: Option<Hide>,
    /// Whether chord symbols are printed.
    pub chord_symbols: bool,
    pub names: NoteNames,
    pub instrument: &'a Instrument,
    /// Where slashes stand.
    pub middle_line: Pitch,
}

/// A note and the passage it stands in.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NotePlace<'a> {
    pub passage: &'a Passage<'a>,
    pub tone: LineTone,
    pub pitch: Pitch,
    /// Whether it is the passage's first.
    pub opens: bool,
    /// Whether it is its closing root.
    pub closes: bool,
}

impl<'a> NotationInput<'a> {
    /// The note that an event is.
    pub fn note(&self, event: usize) -> Option<usize> {
        match self.timing.sounds[event] {
            Sound::Note(note) => Some(note),
            Sound::Slash { .. } | Sound::Silence => None,
        }
    }

    /// The chord symbol that is printed at a time.
    pub fn symbol(&self, time: Ticks) -> Option<u16> {
        let found = self.symbols.binary_search_by_key(&time, |(at, _)| *at).ok();
        found
            .filter(|_| self.chord_symbols)
            .map(|place| self.symbols[place].1)
    }

    /// The chord that sounds at a time.
    pub fn sounding(&self, time: Ticks) -> Option<u16> {
        let after = self.symbols.partition_point(|(at, _)| *at <= time);
        after.checked_sub(1).map(|place| self.symbols[place].1)
    }

    /// Where a note stands among the others, and whether a piece of it is its
    /// first and its last.
    pub fn position(&self, event: usize, first: bool, last: bool) -> NotePosition {
        let Timing {
            events,
            statements,
            numbers,
            ..
        } = self.timing;
        // Whether one note goes over into the next, of another statement.
        let joins = |before: usize| {
            let (one, next) = (events[before], events.get(before + 1));
            next.is_some_and(|next| {
                next.onset == one.onset + one.length && statements[before] != statements[before + 1]
            })
        };
        let before = event.checked_sub(1).filter(|before| joins(*before));
        NotePosition {
            number: numbers[event],
            first,
            last,
            after: before.map(|before| numbers[before]),
            leads_on: joins(event),
        }
    }

    pub fn at(&self, event: usize) -> NotePlace<'a> {
        let passages = &self.timing.passages;
        let number = passages.partition_point(|first| *first <= event) - 1;
        let (passage, within) = (&self.passages[number], event - passages[number]);
        NotePlace {
            passage,
            tone: passage.placed.tones[within],
            pitch: passage.spelled.pitches[within],
            opens: within == 0,
            closes: self.closes && within + 1 == passage.placed.tones.len(),
        }
    }
}
