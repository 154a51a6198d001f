//! Key signatures and rule 4: which one a scale on a root is written with.

use crate::{Degree, Letter, PitchName, Scale, formula};

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
    /// Only for major and minor scales.
    pub mode: Option<Mode>,
}

/// How a lesson chooses signatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum SignatureStyle {
    /// The signature, nearest to the tonic's, that leaves no accidentals.
    #[default]
    Fitting,
    /// The tonic's own.
    Tonic,
    /// None at all.
    None,
}

/// Rule 4. Both forms of a two-form scale count.
pub fn key_signature(scale: &Scale, root: PitchName, style: SignatureStyle) -> KeySignature {
    let fitting = fitting(scale, root);
    let minor_key = fitting.is_none() && has_minor_third_and_fifth(scale);
    let signature = match style {
        SignatureStyle::None => return KeySignature::default(),
        SignatureStyle::Tonic => tonic_signature(scale, root).or(fitting),
        SignatureStyle::Fitting => fitting.or(tonic_signature(scale, root).filter(|_| minor_key)),
    };
    let mode = signature.and_then(|_| {
        if scale.has_only(&MAJOR) {
            Some(Mode::Major)
        } else if minor_key || scale.has_only(&NATURAL_MINOR) {
            Some(Mode::Minor)
        } else {
            None
        }
    });
    KeySignature {
        signature: signature.unwrap_or_default(),
        mode,
    }
}

/// The signature of the major key on a root, or of the minor key for scales
/// with b3 and no 3, unless it has more than seven signs.
pub(crate) fn tonic_signature(scale: &Scale, root: PitchName) -> Option<Signature> {
    Signature::new(tonic_fifths(scale, root))
}

const MAJOR: [Degree; 7] = formula::parse("1 2 3 4 5 6 7");
const NATURAL_MINOR: [Degree; 7] = formula::parse("1 2 b3 4 5 b6 b7");
const THIRD: Degree = Degree::new(3, 0);
const MINOR_THIRD: Degree = Degree::new(3, -1);
const FIFTH: Degree = Degree::new(5, 0);

fn tonic_fifths(scale: &Scale, root: PitchName) -> i16 {
    let minor = scale.has(MINOR_THIRD) && !scale.has(THIRD);
    root.fifths() - if minor { 3 } else { 0 }
}

fn has_minor_third_and_fifth(scale: &Scale) -> bool {
    scale.has(MINOR_THIRD) && scale.has(FIFTH) && !scale.has(THIRD)
}

/// The signature, nearest to the tonic's, that leaves no accidentals; of two
/// as near, the one with fewer signs, then the flats.
fn fitting(scale: &Scale, root: PitchName) -> Option<Signature> {
    let tonic = tonic_fifths(scale, root);
    // A signature's seven names lie side by side on the line of fifths, from
    // one before its tonic to five after it.
    let names = || {
        scale
            .all_degrees()
            .map(|degree| (root + degree.interval()).fifths())
    };
    let (first, last) = (names().min()?, names().max()?);
    (last - 5..=first + 1)
        .filter_map(Signature::new)
        .min_by_key(|signature| {
            let fifths = i16::from(signature.fifths());
            ((fifths - tonic).abs(), fifths.abs())
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(scale: &str, root: &str, style: SignatureStyle, fifths: i8, mode: Option<Mode>) {
        let key = key_signature(&Scale::named(scale).unwrap(), root.parse().unwrap(), style);
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

    #[test]
    fn fitting_leaves_no_accidentals() {
        let fitting =
            |scale, root, fifths, mode| check(scale, root, SignatureStyle::Fitting, fifths, mode);
        fitting("major", "Gb", -6, Some(Mode::Major));
        fitting("dorian", "C", -2, None);
        fitting("dorian", "C#", 5, None);
        fitting("natural minor", "C", -3, Some(Mode::Minor));
        fitting("lydian", "F", 0, None);
        fitting("locrian", "B", 0, None);
        fitting("dorian", "Db", -7, None);
        fitting("major pentatonic", "C", 0, None); // one sharp or flat would fit as well
        fitting("minor pentatonic", "C", -3, None);
        fitting("lydian pentatonic", "C", 1, None);
        fitting("phrygian", "Ab", -7, Some(Mode::Minor)); // eight flats: none fits
    }

    #[test]
    fn fitting_is_the_nearest_of_those_that_are_tried_one_by_one() {
        for scale in Scale::catalogue() {
            for (letter, alteration) in Letter::ALL
                .iter()
                .flat_map(|l| [-2, -1, 0, 1, 2].map(|a| (*l, a)))
            {
                let root = PitchName::new(letter, alteration);
                let silent = |signature: &Signature| {
                    scale.all_degrees().all(|degree| {
                        let name = root + degree.interval();
                        signature.alteration(name.letter()) == name.alteration()
                    })
                };
                let all = (-7..=7).filter_map(Signature::new).filter(silent);
                let tonic = tonic_fifths(&scale, root);
                let nearest = all.min_by_key(|signature| {
                    let fifths = i16::from(signature.fifths());
                    ((fifths - tonic).abs(), fifths.abs())
                });
                assert_eq!(fitting(&scale, root), nearest, "{root} {}", scale.name);
            }
        }
    }

    #[test]
    fn where_none_fits_the_minor_key_or_none() {
        let fitting =
            |scale, root, fifths, mode| check(scale, root, SignatureStyle::Fitting, fifths, mode);
        fitting("harmonic minor", "A", 0, Some(Mode::Minor));
        fitting("harmonic minor", "G#", 5, Some(Mode::Minor));
        fitting("melodic minor", "C", -3, Some(Mode::Minor));
        fitting("classical melodic minor", "C", -3, Some(Mode::Minor));
        fitting("blues", "F", -4, Some(Mode::Minor));
        fitting("harmonic minor", "Db", 0, None); // eight flats
        fitting("lydian dominant", "G", 0, None);
        fitting("bebop dominant", "G", 0, None);
        fitting("altered", "G", 0, None); // no 5
        fitting("composite blues", "G", 0, None); // both thirds
        fitting("major", "G#", 0, None);
    }

    #[test]
    fn tonic_is_the_key_of_the_root() {
        let tonic =
            |scale, root, fifths, mode| check(scale, root, SignatureStyle::Tonic, fifths, mode);
        tonic("major", "A", 3, Some(Mode::Major));
        tonic("lydian dominant", "A", 3, None);
        tonic("dorian", "C", -3, None);
        tonic("natural minor", "C", -3, Some(Mode::Minor));
        tonic("harmonic minor", "C", -3, Some(Mode::Minor));
        tonic("composite blues", "C", 0, None);
        tonic("dorian", "Db", -7, None); // C sharp minor's eight flats: as fitting
        tonic("lydian dominant", "G#", 0, None);
    }

    #[test]
    fn none_is_none() {
        check("major", "A", SignatureStyle::None, 0, None);
        check("harmonic minor", "C", SignatureStyle::None, 0, None);
    }
}
