//! A literal phrase: note for note in every key, with its chords.
//!
//! Its notes are the rungs of a ladder of their own: each degree that occurs,
//! once. So the phrase is placed on a horn as any figure is; only its names
//! are found here, by rule 3's steps 2 and 3 alone, since a degree gives its
//! letter.

use lesson::{CellTone, Literal};
use rhythm::{Count, Ticks};
use theory::{
    ChordSymbol, Degree, Form, Interval, Ladder, LineTone, Mode, Pitch, PitchName, Scale,
    Signature, SpellingStyle,
};

use crate::figure::{Cell, CellNote};
use crate::spell::Spelled;
use crate::ticks::ticks;

/// A literal phrase before any key is thought of.
#[derive(Debug)]
pub(crate) struct LiteralPhrase {
    /// Its degrees, each once, upward from the tonic.
    pub ladder: Ladder,
    degrees: Vec<Degree>,
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
    ) -> impl Iterator<Item = (Ticks, ChordSymbol)> {
        // They are named in C.
        let by = Interval::from_coordinates(root.fifths(), 0);
        self.chords.iter().map(move |(at, symbol)| {
            let moved = if symbol.chord.is_none() {
                symbol.clone()
            } else {
                symbol.transposed(by).printed(signature)
            };
            (*at, moved)
        })
    }

    /// Its notes on a root.
    pub fn spell(
        &self,
        root: Pitch,
        tones: &[LineTone],
        signature: Signature,
        style: SpellingStyle,
    ) -> Spelled {
        let names = self.names(root.name(), signature, style);
        let mut respellings = 0;
        let pitch = |tone: &LineTone| {
            let rung = tone.tone.rung();
            let strict = root + self.ladder.interval(rung, Form::Rising);
            let name = names[rung.0.rem_euclid(self.ladder.size()) as usize];
            let turns = (name.fifths() - strict.name().fifths()) / 12;
            let named = strict + Interval::from_coordinates(12 * turns, -7 * turns);
            respellings += u32::from(named != strict);
            named.printable()
        };
        Spelled {
            pitches: tones.iter().map(pitch).collect(),
            respellings,
        }
    }

    /// What its degrees are called: by their letters; but a double accidental
    /// takes its simple twin, E sharp, B sharp, C flat and F flat outside the
    /// signature take theirs. As in a scale, a leading note among letters that
    /// all differ keeps its name, and so do names whose twin would crowd a
    /// neighbour's letter there.
    fn names(&self, root: PitchName, signature: Signature, style: SpellingStyle) -> Vec<PitchName> {
        let strict: Vec<PitchName> = self
            .degrees
            .iter()
            .map(|degree| root + degree.interval())
            .collect();
        if style == SpellingStyle::Strict {
            return strict;
        }
        let leads = |at: usize| self.degrees[at] == Degree::new(7, 0) && all_differ(&strict);
        let simple: Vec<PitchName> = (0..strict.len())
            .map(|at| {
                if leads(at) {
                    strict[at]
                } else {
                    simple(strict[at])
                }
            })
            .collect();
        let each_once = all_differ(&simple);
        let count = simple.len();
        let white = |at: usize| {
            let name = simple[at];
            let beside = [(at + count - 1) % count, (at + 1) % count];
            let kept = self.degrees[at] == Degree::ROOT || leads(at) || signature.has(name);
            let crowds = |twin: PitchName| {
                each_once
                    && beside
                        .iter()
                        .any(|at| simple[*at].letter() == twin.letter())
            };
            match name.white_twin() {
                Some(twin) if !kept && !crowds(twin) => twin,
                _ => name,
            }
        };
        (0..count).map(white).collect()
    }
}

fn simple(mut name: PitchName) -> PitchName {
    while name.is_double() {
        name = name.twin();
    }
    name
}

fn all_differ(names: &[PitchName]) -> bool {
    let letters = |name: &PitchName| 1u8 << name.letter().steps();
    let seen = names.iter().map(letters).fold(0, |seen, one| seen | one);
    seen.count_ones() as usize == names.len()
}
