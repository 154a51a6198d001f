//! The names of a literal phrase: by rule 3's steps 2 and 3 alone, since a
//! degree gives its letter.

use theory::{Degree, Form, Interval, LineTone, Pitch, PitchName, Signature, SpellingStyle};

use crate::compose::literal::LiteralPhrase;
use crate::spell::passage::Spelling;

impl LiteralPhrase {
    /// Its notes on a root.
    pub fn spell(
        &self,
        root: Pitch,
        tones: &[LineTone],
        signature: Signature,
        style: SpellingStyle,
    ) -> Spelling {
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
        Spelling {
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
