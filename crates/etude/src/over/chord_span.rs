//! The time of a chord in a chorus, and what its tones and its scale are to
//! each other.

use lesson::{ChordTime, ScaleRule};
use rhythm::Ticks;
use theory::{ChordSymbol, Degree, Form, Ladder, LineTone, Rung, Scale, Tone};

use crate::heights::Heights;
use crate::spell::clash::clashes;

/// A chord's time in one of the choruses.
#[derive(Debug)]
pub(crate) struct ChordSpan {
    pub at: Ticks,
    pub until: Ticks,
    pub symbol: ChordSymbol,
    /// Its scale among the lesson's.
    pub scale: Option<usize>,
    pub rule: ScaleRule,
    /// Its chorus, from 1.
    pub chorus: usize,
    /// The place of the first chord whose notes are named as its are.
    pub named_as: usize,
    /// Heights of its scale; of nothing where there is none.
    pub heights: Option<Heights>,
    /// Semitones of its tones above its root.
    pub tones: Vec<i32>,
    /// Those of its third and seventh.
    pub guides: Vec<i32>,
    /// Semitones above its root where statements may begin; empty: anywhere.
    pub starts: Vec<i32>,
    /// Degrees to begin on that its scale lacks.
    pub lacking: Vec<Degree>,
    /// Tones of the chord that its scale lacks.
    pub missing: Vec<Degree>,
    /// Degrees of its scale that clash with it.
    pub clashes: Vec<Degree>,
}

impl ChordSpan {
    /// A chord with its scale, in a chorus, from one time until another.
    pub fn of(
        chord: &ChordTime,
        scale: Option<&Scale>,
        begins: &[Degree],
        chorus: usize,
        (at, until): (Ticks, Ticks),
    ) -> ChordSpan {
        let ladder = scale.map(Ladder::new);
        let symbol = chord.symbol.clone();
        let rubs = |ladder| clashes(ladder, &rungs(ladder), &symbol);
        let (starts, lacking) = ladder
            .as_ref()
            .map_or((Vec::new(), Vec::new()), |ladder| starts(ladder, begins));
        ChordSpan {
            at,
            until,
            scale: chord.scale,
            rule: chord.rule,
            chorus,
            named_as: 0,
            heights: ladder.as_ref().map(Heights::of),
            tones: semitones(&symbol, |_| true),
            guides: guides(&symbol),
            starts,
            lacking,
            missing: ladder
                .as_ref()
                .map_or(Vec::new(), |ladder| missing(ladder, &symbol)),
            clashes: ladder.as_ref().map_or(Vec::new(), rubs),
            symbol,
        }
    }
}

fn semitones(symbol: &ChordSymbol, of: impl Fn(u8) -> bool) -> Vec<i32> {
    let degrees = symbol.chord.degrees().iter();
    degrees
        .filter(|degree| of(degree.number))
        .map(|degree| i32::from(degree.interval().semitones()).rem_euclid(12))
        .collect()
}

/// Third and seventh; the fourth or second of a suspended chord, the sixth of
/// one without a seventh; the fifth only where there is none of these.
fn guides(symbol: &ChordSymbol) -> Vec<i32> {
    let first = |numbers: &[u8]| {
        numbers
            .iter()
            .map(|number| semitones(symbol, |of| of == *number))
            .find(|found| !found.is_empty())
            .unwrap_or_default()
    };
    let guides = [first(&[3, 4, 2]), first(&[7, 6])].concat();
    if guides.is_empty() {
        return first(&[5]);
    }
    guides
}

/// Where statements may begin, in semitones above the root, and which degrees
/// the scale lacks; the root where it has none of them.
fn starts(ladder: &Ladder, begins: &[Degree]) -> (Vec<i32>, Vec<Degree>) {
    let mut starts = Vec::new();
    let mut lacking = Vec::new();
    for degree in begins {
        match ladder.rung_of(*degree) {
            Some(rung) => {
                let above = ladder.interval(rung, Form::Rising).semitones();
                starts.push(i32::from(above).rem_euclid(12));
            }
            None => lacking.push(*degree),
        }
    }
    if starts.is_empty() && !begins.is_empty() {
        starts.push(0);
    }
    (starts, lacking)
}

/// One octave of a ladder.
fn rungs(ladder: &Ladder) -> Vec<LineTone> {
    let rung = |at| LineTone {
        tone: Tone::Rung(Rung(at)),
        form: Form::Rising,
    };
    (0..ladder.size()).map(rung).collect()
}

/// Tones of a chord that its scale lacks.
fn missing(ladder: &Ladder, symbol: &ChordSymbol) -> Vec<Degree> {
    let class = |degree: Degree| degree.interval().semitones().rem_euclid(12);
    let has = |degree: &Degree| {
        (0..ladder.size()).any(|at| class(ladder.degree(Rung(at), Form::Rising)) == class(*degree))
    };
    let tones = symbol.chord.degrees().iter().copied();
    tones.filter(|degree| !has(degree)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Semitones above the root, as common practice has them.
    fn check(symbol: &str, expected: &[i32]) {
        assert_eq!(guides(&symbol.parse().unwrap()), expected, "{symbol}");
    }

    #[test]
    fn guide_tones_of_chords() {
        check("Cmaj7", &[4, 11]);
        check("C7", &[4, 10]);
        check("Cm7(b5)", &[3, 10]);
        check("Cdim7", &[3, 9]);
        // A plain triad has but its third.
        check("C", &[4]);
        check("Am", &[3]);
        check("C6", &[4, 9]);
        check("Cm6", &[3, 9]);
        check("C7sus4", &[5, 10]);
        check("Csus2", &[2]);
        check("C13(b9)", &[4, 10]);
        check("N.C.", &[]);
    }
}
