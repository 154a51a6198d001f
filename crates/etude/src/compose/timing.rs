//! When each note of an exercise sounds, and how that is written in bars: one
//! way for statements, scales and lines over changes.

use lesson::{Exercise, Figure, KindName, Label};
use rhythm::{BarPieces, BeamStyle, CountWord, Event, Fraction, PieceKind, Ticks, count_word};

use crate::bars::Bars;
use crate::compose::breaks;
use crate::compose::breath::Breathing;
use crate::compose::timed_line::TimedLine;
use crate::compose::writing::{Sound, Writing};
use crate::print::Print;
use crate::ticks::{quarters, ticks};

/// The time of an exercise, written in bars.
#[derive(Debug)]
pub(crate) struct Timing {
    /// Its notes in order.
    pub events: Vec<Event>,
    /// The statement each note belongs to.
    pub statements: Vec<u16>,
    /// The number of each note in its statement, from 1; 0 for one that is
    /// none of the figure's.
    pub numbers: Vec<u16>,
    /// The notes after which a breath mark stands.
    pub breaths: Vec<usize>,
    /// What the events of the bars are.
    pub sounds: Vec<Sound>,
    /// The first note of each passage.
    pub passages: Vec<usize>,
    /// Where statements' bar lines are (a pickup comes before its own), in
    /// ticks from the first.
    pub starts: Vec<Ticks>,
    /// Where a chord stands.
    pub chords: Vec<Ticks>,
    /// The place among them of each key's first; over changes nobody asks.
    pub keys: Vec<usize>,
    /// Its bars.
    pub bars: Vec<BarPieces>,
    /// Whether a system begins with each bar.
    pub systems: Vec<bool>,
    /// How each note is counted aloud, where that stands under it.
    pub counts: Vec<Option<CountWord>>,
}

impl Timing {
    /// Writes a line in bars.
    pub fn of(
        line: TimedLine,
        bars: &Bars,
        per_quarter: u32,
        style: BeamStyle,
        breathing: Breathing,
    ) -> Timing {
        let mut events: Vec<Event> = line.notes.iter().map(|note| note.event).collect();
        let breaths = breathing.take(&mut events, &line.chances, per_quarter);
        let writing = Writing {
            bars,
            per_quarter,
            style,
        };
        let (bars, sounds) = writing.write(&events, line.slashes, &line.chords);
        Timing {
            events,
            statements: line.notes.iter().map(|note| note.statement).collect(),
            numbers: line.notes.iter().map(|note| note.number).collect(),
            breaths,
            sounds,
            passages: line.passages,
            starts: line.starts,
            chords: line.chords,
            keys: line.keys,
            bars,
            systems: Vec::new(),
            counts: Vec::new(),
        }
    }

    /// With what its sheets print of it.
    pub fn printed(mut self, print: Print) -> Timing {
        self.systems = breaks::systems(&self.bars, &self.starts, print);
        if print.rows.contains(&Label::Counts) {
            self.counts = self.counted(print);
        }
        self
    }

    /// Where chords stand in a key, by its place.
    pub fn chords_of(&self, key: usize) -> &[Ticks] {
        let from = self.keys[key];
        let until = self.keys.get(key + 1).copied();
        &self.chords[from..until.unwrap_or(self.chords.len())]
    }

    fn counted(&self, print: Print) -> Vec<Option<CountWord>> {
        let mut counts = vec![None; self.events.len()];
        for bar in &self.bars {
            let meter = print.meter(bar);
            // A pickup is counted as the end of a whole bar.
            let line = if bar.start < 0 {
                -ticks(meter.bar(), print.per_quarter)
            } else {
                bar.start
            };
            for piece in &bar.pieces {
                if let PieceKind::Note {
                    event,
                    tied_from: false,
                    ..
                } = piece.kind
                    && let Sound::Note(note) = self.sounds[event]
                {
                    let at = quarters(self.events[note].onset - line, print.per_quarter);
                    counts[note] = count_word(meter, at, print.counting);
                }
            }
        }
        counts
    }
}

/// All times of a lesson's figures, for the common ticks.
pub(crate) fn times<'a>(
    figures: &'a [Figure],
    exercises: &'a [Exercise],
) -> impl Iterator<Item = Fraction> + 'a {
    let used = exercises.iter().filter_map(|exercise| {
        let figure = &figures[exercise.kind.figure()?];
        Some((exercise.kind.name(), figure))
    });
    let counts = used.flat_map(|(kind, figure)| {
        let slots = if kind == KindName::Scale {
            &[][..]
        } else {
            &figure.count.slots
        };
        let inside = slots.iter().flat_map(|slot| [slot.onset, slot.length]);
        let frame = [figure.meter.bar(), figure.count.length, figure.count.pickup];
        inside.chain(frame).chain(figure.meter.beats())
    });
    counts.chain([Fraction::new(1, 2)])
}
