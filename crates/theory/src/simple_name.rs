//! Rule 3, its first two steps: what a copyist calls the notes of a scale
//! before the signature is known.

use crate::{Chord, Degree, PitchName, SpellingStyle};

/// An octave of a scale's names, from the root up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct SimpleNames {
    /// With the letters of their degrees.
    pub strict: Vec<PitchName>,
    /// As the style has them, with no needless double accidental.
    pub names: Vec<PitchName>,
    /// Whether the strict letters all differ.
    pub each_letter_once: bool,
}

const THIRD: Degree = Degree::new(3, 0);
const DIMINISHED_FOURTH: Degree = Degree::new(4, -1);
const LEADING_NOTE: Degree = Degree::new(7, 0);

impl SimpleNames {
    pub fn of(
        degrees: &[Degree],
        root: PitchName,
        chord: Option<&Chord>,
        style: SpellingStyle,
    ) -> SimpleNames {
        let strict: Vec<PitchName> = degrees
            .iter()
            .map(|degree| root + degree.interval())
            .collect();
        let each_letter_once = all_differ(&strict);
        let third_of_chord = chord.and_then(Chord::third) == Some(THIRD);
        let fourth_is_third = third_of_chord && !degrees.contains(&THIRD);
        let simple = |(degree, strict): (&Degree, &PitchName)| {
            if *degree == DIMINISHED_FOURTH && fourth_is_third {
                return without_double(root + THIRD.interval());
            }
            if *degree == LEADING_NOTE && each_letter_once {
                return *strict;
            }
            without_double(*strict)
        };
        let names = match style {
            SpellingStyle::Strict => strict.clone(),
            SpellingStyle::Readable => degrees.iter().zip(&strict).map(simple).collect(),
        };
        SimpleNames {
            strict,
            names,
            each_letter_once,
        }
    }

    /// Whether a degree is a leading note that keeps its name: 7 in a scale
    /// whose strict letters all differ.
    pub fn is_leading_note(&self, degree: Degree) -> bool {
        degree == LEADING_NOTE && self.each_letter_once
    }
}

/// Whether no two names have one letter.
pub(crate) fn all_differ(names: &[PitchName]) -> bool {
    let letters = |name: &PitchName| 1u8 << name.letter().steps();
    let seen = names.iter().map(letters).fold(0, |seen, one| seen | one);
    seen.count_ones() as usize == names.len()
}

fn without_double(mut name: PitchName) -> PitchName {
    while name.is_double() {
        name = name.twin();
    }
    name
}
