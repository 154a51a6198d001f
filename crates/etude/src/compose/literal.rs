//! A literal phrase: note for note in every key, with its chords.
//!
//! Its notes are the rungs of a ladder of their own: each degree that occurs,
//! once. So the phrase is placed on a horn as any figure is; only its names
//! are found otherwise.

use lesson::{CellTone, Literal};
use rhythm::{Count, Ticks};
use theory::{ChordSymbol, Degree, Interval, Ladder, Mode, PitchName, Scale, Signature};

use crate::compose::figure::{Cell, CellNote};
use crate::ticks::ticks;

/// A literal phrase before any key is thought of.
#[derive(Debug)]
pub(crate) struct LiteralPhrase {
    /// Its degrees, each once, upward from the tonic.
    pub ladder: Ladder,
    pub degrees: Vec<Degree>,
    pub cell: Cell,
    /// Its chords, in C, in ticks from its bar line.
    pub chords: Vec<(Ticks, ChordSymbol)>,
    pub mode: Mode,
}

impl LiteralPhrase {
    pub fn of(literal: &Literal, count: &Count, per_quarter: u32) -> LiteralPhrase {
        let folded: Vec<(Degree, i32)> = literal
            .notes
            .iter()
            .map(|note| {
                let place = note.degree.number.saturating_sub(1);
                let degree = Degree::new(place % 7 + 1, note.degree.alteration);
                (degree, note.octaves + i32::from(place / 7))
            })
            .collect();
        let mut degrees: Vec<Degree> = folded.iter().map(|(degree, _)| *degree).collect();
        degrees.push(Degree::ROOT);
        let height = |degree: &Degree| {
            let interval = degree.interval();
            (interval.semitones(), interval.fifths())
        };
        degrees.sort_by_key(height);
        degrees.dedup();
        let size = degrees.len() as i32;
        let place = |degree: &Degree| degrees.iter().position(|one| one == degree);
        let rungs = folded
            .iter()
            .map(|(degree, octaves)| place(degree).unwrap_or(0) as i32 + octaves * size);
        let sounding = count.slots.iter().filter(|slot| !slot.silent);
        let notes = sounding.zip(rungs).map(|(slot, rung)| CellNote {
            onset: ticks(slot.onset, per_quarter),
            length: ticks(slot.length, per_quarter),
            tone: CellTone::Rung(rung),
        });
        let cell = Cell {
            notes: notes.collect(),
        };
        let chords = literal.chords.iter();
        LiteralPhrase {
            ladder: Ladder::new(&Scale {
                id: None,
                name: "".into(),
                degrees: degrees.clone(),
                descending: None,
                chord: None,
            }),
            degrees,
            cell,
            chords: chords
                .map(|chord| (ticks(chord.at, per_quarter), chord.symbol.clone()))
                .collect(),
            mode: literal.mode,
        }
    }

    /// Its chord symbols in a written key, as they are printed.
    pub fn symbols(
        &self,
        root: PitchName,
        signature: Signature,
    ) -> impl Iterator<Item = ChordSymbol> {
        // They are named in C.
        let by = Interval::from_coordinates(root.fifths(), 0);
        self.chords.iter().map(move |(_, symbol)| {
            if symbol.chord.is_none() {
                symbol.clone()
            } else {
                symbol.transposed(by).printed(signature)
            }
        })
    }
}
