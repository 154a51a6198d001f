//! Rule 3: what each rung of a scale is called in one key, going up and
//! coming down.

use crate::simple_name::{SimpleNames, all_differ};
use crate::{Chord, Degree, PitchName, Signature, SpellingStyle};

/// What decides how a scale's notes are called.
#[derive(Debug, Clone, Copy)]
pub struct Naming<'a> {
    /// The name of rung 0, by rule 1.
    pub root: PitchName,
    /// The scale's own chord; over changes, the chord that sounds.
    pub chord: Option<&'a Chord>,
    /// The chord that stands over the line, whose tones are never passing: an
    /// exercise's own where it has one, else the same as `chord`.
    pub over: Option<&'a Chord>,
    /// The signature that is printed.
    pub signature: Signature,
    /// Readable or strict.
    pub style: SpellingStyle,
}

/// The names of a rung.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RungName {
    /// With the letter of its degree.
    pub strict: PitchName,
    /// Where the line has no direction.
    pub plain: PitchName,
    /// Where the line goes up from it.
    pub going_up: PitchName,
    /// Where the line comes down from it.
    pub coming_down: PitchName,
}

impl RungName {
    fn fixed(strict: PitchName, name: PitchName) -> RungName {
        RungName {
            strict,
            plain: name,
            going_up: name,
            coming_down: name,
        }
    }
}

/// The names of one octave of degrees, from the root up.
pub(crate) fn rung_names(degrees: &[Degree], naming: &Naming<'_>) -> Vec<RungName> {
    let simple = SimpleNames::of(degrees, naming.root, naming.chord, naming.style);
    let SimpleNames { strict, names, .. } = &simple;
    let fixed = |names: &[PitchName]| {
        let pairs = strict.iter().zip(names);
        pairs
            .map(|(strict, name)| RungName::fixed(*strict, *name))
            .collect()
    };
    if naming.style == SpellingStyle::Strict {
        return fixed(names);
    }
    let plain = white(degrees, &simple, naming.signature);
    let mut named: Vec<RungName> = fixed(&plain);
    if degrees.len() != 7 {
        for at in 1..degrees.len() {
            if is_passing(degrees, at, naming.over) {
                let [below, above] = beside(at, degrees.len());
                let raised = readable(PitchName::from_fifths(plain[below].fifths() + SHARP));
                let lowered = readable(PitchName::from_fifths(plain[above].fifths() - SHARP));
                named[at].going_up = raised.or(lowered).unwrap_or(plain[at]);
                named[at].coming_down = lowered.or(raised).unwrap_or(plain[at]);
            }
        }
    }
    named
}

/// A sharp on the line of fifths.
const SHARP: i16 = 7;

/// E sharp, B sharp, C flat and F flat outside the signature made F, C, B and
/// E, but for the root and a kept leading note, and where a scale that has each
/// letter once would have one twice in a row.
fn white(degrees: &[Degree], simple: &SimpleNames, signature: Signature) -> Vec<PitchName> {
    let names = &simple.names;
    let each_letter_once = all_differ(names);
    let made_white = |at: usize| {
        let name = names[at];
        let white = name.white_twin().filter(|white| {
            let [below, above] = beside(at, names.len()).map(|at| names[at].letter());
            let crowded = each_letter_once && [below, above].contains(&white.letter());
            let kept = at == 0 || simple.is_leading_note(degrees[at]);
            !signature.has(name) && !crowded && !kept
        });
        white.unwrap_or(name)
    };
    (0..names.len()).map(made_white).collect()
}

/// A rung between two half steps whose degree has an accidental and that is no
/// tone of the chord.
fn is_passing(degrees: &[Degree], at: usize, over: Option<&Chord>) -> bool {
    let class = |degree: &Degree| degree.interval().semitones().rem_euclid(12);
    let half_step =
        |from: usize, to: usize| (class(&degrees[to]) - class(&degrees[from])).rem_euclid(12) == 1;
    let [below, above] = beside(at, degrees.len());
    let of_chord = over.is_some_and(|chord| {
        let tones = chord.degrees();
        tones.iter().any(|tone| class(tone) == class(&degrees[at]))
    });
    degrees[at].alteration != 0 && half_step(below, at) && half_step(at, above) && !of_chord
}

/// The rungs below and above, around the octave.
fn beside(at: usize, count: usize) -> [usize; 2] {
    [(at + count - 1) % count, (at + 1) % count]
}

/// A name that is neither double nor E sharp, B sharp, C flat or F flat.
fn readable(name: PitchName) -> Option<PitchName> {
    (!name.is_double() && name.white_twin().is_none()).then_some(name)
}
