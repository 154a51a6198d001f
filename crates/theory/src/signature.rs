//! Key signatures and rule 4: which one a scale on a root is written with.

use crate::simple_name::SimpleNames;
use crate::{Degree, Letter, PitchName, Scale, SpellingStyle, formula};

/// A key signature: sharps positive, flats negative, −7 to 7.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Signature(i8);

impl Signature {
    /// No sharps or flats.
    pub const NONE: Signature = Signature(0);

    /// With that many sharps (positive) or flats (negative), if it exists.
    pub const fn new(fifths: i16) -> Option<Signature> {
        if fifths >= -7 && fifths <= 7 {
            Some(Signature(fifths as i8))
        } else {
            None
        }
    }

    /// Sharps positive, flats negative.
    pub const fn fifths(self) -> i8 {
        self.0
    }

    /// What the signature does to a letter: −1, 0 or 1.
    pub const fn alteration(self, letter: Letter) -> i16 {
        (self.0 as i16 - letter.fifths() + 5).div_euclid(7)
    }

    /// Whether a name needs no accidental under it.
    pub const fn has(self, name: PitchName) -> bool {
        self.alteration(name.letter()) == name.alteration()
    }
}

/// Major or minor, the only modes that are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Mode {
    /// Major.
    Major,
    /// Minor.
    Minor,
}

/// A signature with the mode, where it has one to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct KeySignature {
    /// The sharps or flats.
    pub signature: Signature,
    /// Major for the major scale, minor where a musician calls the key minor
    /// and this is its minor signature.
    pub mode: Option<Mode>,
}

/// How a lesson chooses signatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SignatureStyle {
    /// The signature, nearest to the tonic's, that leaves no accidentals, or
    /// the usual one where none does.
    #[default]
    Fitting,
    /// The tonic's own.
    Tonic,
    /// None at all.
    None,
}

/// Rule 4, judged on the names of the way up before the signature touches
/// them; strictly, on the strict ones.
pub fn key_signature(
    scale: &Scale,
    root: PitchName,
    style: SignatureStyle,
    spelling: SpellingStyle,
) -> KeySignature {
    let fitting = || fitting(scale, root, spelling);
    let tonic = tonic_signature(scale, root);
    let signature = match style {
        SignatureStyle::None => return KeySignature::default(),
        SignatureStyle::Tonic => tonic.or_else(fitting),
        SignatureStyle::Fitting => fitting(),
    };
    let printed = signature.unwrap_or_default();
    let mode = match tonic == Some(printed) {
        true if scale.has_only(&MAJOR) => Some(Mode::Major),
        true if scale.says_minor() => Some(Mode::Minor),
        _ => None,
    };
    KeySignature {
        signature: printed,
        mode,
    }
}

/// The signature of the major key on a root, or of the minor key for scales of
/// the minor type, unless it has more than seven signs.
pub(crate) fn tonic_signature(scale: &Scale, root: PitchName) -> Option<Signature> {
    Signature::new(tonic_fifths(scale, root))
}

const MAJOR: [Degree; 7] = formula::parse("1 2 3 4 5 6 7");

fn tonic_fifths(scale: &Scale, root: PitchName) -> i16 {
    root.fifths() - if scale.is_minor_type() { 3 } else { 0 }
}

/// The signature that leaves no accidentals, nearest the tonic's; where none
/// does, the one that is usual for such a scale, if any is.
fn fitting(scale: &Scale, root: PitchName, spelling: SpellingStyle) -> Option<Signature> {
    let chord = scale.chord.as_ref();
    let names = SimpleNames::of(&scale.degrees, root, chord, spelling).names;
    let tonic = tonic_fifths(scale, root);
    let usual = || {
        if repeats_within_the_octave(&scale.degrees) {
            None
        } else if scale.is_minor_type() && scale.has_fifth() {
            Signature::new(tonic)
        } else if scale.has_major_third() {
            nearly_fitting(&names, root.fifths())
        } else {
            None
        }
    };
    without_accidentals(&names, tonic).or_else(usual)
}

/// Of the signatures that leave no accidentals the nearest to the tonic's; of
/// two as near, the one with fewer signs, then the flats.
fn without_accidentals(names: &[PitchName], tonic: i16) -> Option<Signature> {
    // A signature's seven names lie side by side on the line of fifths, from
    // one before its tonic to five after it.
    let fifths = || names.iter().map(|name| name.fifths());
    let (first, last) = (fifths().min()?, fifths().max()?);
    (last - 5..=first + 1)
        .filter_map(Signature::new)
        .min_by_key(|signature| {
            let fifths = i16::from(signature.fifths());
            ((fifths - tonic).abs(), fifths.abs())
        })
}

/// Accidentals to the octave that a signature may leave beside it.
const FEW: usize = 2;

/// The major key of the root or one a fifth either side, whichever leaves
/// fewest accidentals, if they are few: of equals the tonic's own, then the
/// flatter.
fn nearly_fitting(names: &[PitchName], tonic: i16) -> Option<Signature> {
    let accidentals = |signature: Signature| {
        let outside = names.iter().filter(|name| !signature.has(**name));
        outside.count()
    };
    let tried = [tonic, tonic - 1, tonic + 1].into_iter();
    let counted = tried.filter_map(|fifths| {
        let signature = Signature::new(fifths)?;
        Some((accidentals(signature), signature))
    });
    let fewest = counted.min_by_key(|(accidentals, _)| *accidentals)?;
    (fewest.0 <= FEW).then_some(fewest.1)
}

/// Whole tone, diminished, augmented: a scale that is itself again some half
/// steps higher.
fn repeats_within_the_octave(degrees: &[Degree]) -> bool {
    let sounds = degrees.iter().fold(0u16, |sounds, degree| {
        sounds | 1 << (degree.interval().semitones() % 12)
    });
    let moved = |by: u32| (sounds << by | sounds >> (12 - by)) & 0xfff;
    (1..12).any(|by| moved(by) == sounds)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(scale: &str, root: &str, style: SignatureStyle, fifths: i8, mode: Option<Mode>) {
        let key = key_signature(
            &Scale::named(scale).unwrap(),
            root.parse().unwrap(),
            style,
            SpellingStyle::Readable,
        );
        assert_eq!(
            (key.signature.fifths(), key.mode),
            (fifths, mode),
            "{root} {scale}, {style:?}"
        );
    }

    #[test]
    fn letters_under_a_signature() {
        let check = |fifths: i16, expected: [i16; 7]| {
            let signature = Signature::new(fifths).unwrap();
            assert_eq!(
                Letter::ALL.map(|letter| signature.alteration(letter)),
                expected,
                "{fifths}"
            );
        };
        check(0, [0; 7]);
        check(1, [0, 0, 0, 1, 0, 0, 0]);
        check(2, [1, 0, 0, 1, 0, 0, 0]);
        check(-1, [0, 0, 0, 0, 0, 0, -1]);
        check(-3, [0, 0, -1, 0, 0, -1, -1]);
        check(7, [1; 7]);
        check(-7, [-1; 7]);
        assert_eq!((Signature::new(8), Signature::new(-8)), (None, None));
    }

    fn fitting(scale: &str, root: &str, fifths: i8, mode: Option<Mode>) {
        check(scale, root, SignatureStyle::Fitting, fifths, mode);
    }

    #[test]
    fn fitting_leaves_no_accidentals() {
        fitting("major", "Gb", -6, Some(Mode::Major));
        fitting("dorian", "C", -2, None);
        fitting("dorian", "C#", 5, None);
        fitting("natural minor", "C", -3, Some(Mode::Minor));
        fitting("lydian", "F", 0, None);
        fitting("locrian", "B", 0, None);
        fitting("dorian", "Db", -7, None);
        fitting("major pentatonic", "C", 0, None); // one sharp or flat would fit as well
        fitting("minor pentatonic", "C", -3, Some(Mode::Minor));
        fitting("lydian pentatonic", "C", 1, None);
    }

    #[test]
    fn the_nearest_of_those_that_are_tried_one_by_one() {
        for scale in Scale::catalogue() {
            for (letter, alteration) in Letter::ALL
                .iter()
                .flat_map(|l| [-2, -1, 0, 1, 2].map(|a| (*l, a)))
            {
                let root = PitchName::new(letter, alteration);
                let chord = scale.chord.as_ref();
                let readable = SpellingStyle::Readable;
                let names = SimpleNames::of(&scale.degrees, root, chord, readable).names;
                let silent = |signature: &Signature| names.iter().all(|name| signature.has(*name));
                let all = (-7..=7).filter_map(Signature::new).filter(silent);
                let tonic = tonic_fifths(&scale, root);
                let nearest = all.min_by_key(|signature| {
                    let fifths = i16::from(signature.fifths());
                    ((fifths - tonic).abs(), fifths.abs())
                });
                let found = without_accidentals(&names, tonic);
                assert_eq!(found, nearest, "{root} {}", scale.name);
            }
        }
    }

    #[test]
    fn where_none_fits_a_minor_key_stays_minor() {
        fitting("harmonic minor", "A", 0, Some(Mode::Minor));
        fitting("harmonic minor", "G#", 5, Some(Mode::Minor));
        fitting("melodic minor", "C", -3, Some(Mode::Minor));
        fitting("classical melodic minor", "C", -3, Some(Mode::Minor));
        fitting("blues", "F", -4, Some(Mode::Minor));
        fitting("harmonic minor", "Db", 0, None); // eight flats
        fitting("phrygian flat 4", "C", -3, None); // its chord has a major third
    }

    #[test]
    fn where_none_fits_the_nearest_major_key_that_leaves_two_accidentals() {
        fitting("lydian dominant", "D", 1, None); // a G sharp beside one sharp
        fitting("lydian dominant", "F#", 5, None);
        fitting("bebop dominant", "G", 1, None);
        fitting("phrygian dominant", "E", 3, None); // two accidentals; three beside four sharps
        fitting("bebop dominant", "Db", -5, None); // one in either: the tonic's own
        fitting("major", "G#", 7, None); // no key of its own, but a fifth below
        fitting("composite blues", "G", 0, None);
        fitting("persian", "B", 0, None); // more than two in each
    }

    #[test]
    fn none_where_no_key_is_near() {
        fitting("altered", "G", 0, None); // no 5
        fitting("altered", "C#", 0, None);
        fitting("locrian natural 2", "B", 0, None); // nor has this
        fitting("whole tone", "E", 0, None);
        fitting("diminished whole-half", "E", 0, None);
        fitting("diminished half-whole", "A", 0, None);
        fitting("augmented", "E", 0, None);
        fitting("chromatic", "E", 0, None);
    }

    #[test]
    fn a_strict_lesson_is_judged_by_strict_names() {
        let scale = Scale::named("dorian").unwrap();
        let check = |spelling, fifths: i8| {
            let root = PitchName::new(Letter::D, -2);
            let key = key_signature(&scale, root, SignatureStyle::Fitting, spelling);
            assert_eq!(key.signature.fifths(), fifths, "{spelling:?}");
        };
        check(SpellingStyle::Readable, -2); // C D E flat …
        check(SpellingStyle::Strict, 0); // ten flats
    }

    #[test]
    fn the_way_up_decides() {
        // coming down, enigmatic has a natural fourth instead of a raised one
        let scale = Scale::named("enigmatic").unwrap();
        let up = Scale {
            descending: None,
            ..scale.clone()
        };
        for class in -5..7 {
            let root = PitchName::from_fifths(class);
            let key = |scale| {
                key_signature(
                    scale,
                    root,
                    SignatureStyle::Fitting,
                    SpellingStyle::Readable,
                )
            };
            assert_eq!(key(&scale), key(&up), "{root}");
        }
    }

    #[test]
    fn scales_that_repeat_within_the_octave() {
        let repeating: Vec<String> = Scale::catalogue()
            .iter()
            .filter(|scale| repeats_within_the_octave(&scale.degrees))
            .map(|scale| scale.id.clone().unwrap().into_owned())
            .collect();
        let expected = [
            "whole-tone",
            "diminished-whole-half",
            "diminished-half-whole",
            "augmented",
            "augmented-inverse",
            "chromatic",
            "tritone",
            "messiaen-3",
        ];
        assert_eq!(repeating, expected);
    }

    #[test]
    fn tonic_is_the_key_of_the_root() {
        let tonic =
            |scale, root, fifths, mode| check(scale, root, SignatureStyle::Tonic, fifths, mode);
        tonic("major", "A", 3, Some(Mode::Major));
        tonic("lydian dominant", "A", 3, None);
        tonic("dorian", "C", -3, Some(Mode::Minor));
        tonic("natural minor", "C", -3, Some(Mode::Minor));
        tonic("harmonic minor", "C", -3, Some(Mode::Minor));
        tonic("altered", "C", -3, None); // minor for its signature, never in its name
        tonic("whole tone", "E", 4, None);
        tonic("composite blues", "C", 0, None);
        tonic("dorian", "Db", -7, None); // C sharp minor's eight flats: as fitting
        tonic("lydian dominant", "G#", 7, None);
    }

    #[test]
    fn none_is_none() {
        check("major", "A", SignatureStyle::None, 0, None);
        check("harmonic minor", "C", SignatureStyle::None, 0, None);
        check("major", "C", SignatureStyle::None, 0, None);
    }
}
