//! Spelled pitches: a point on the line of fifths and an octave.

use std::fmt;
use std::ops::{Add, Sub};
use std::str::FromStr;

use crate::{Interval, Letter};

/// A spelled note without its octave: a place on the line of fifths, C = 0,
/// G = 1, F = −1, F sharp = 6, B flat = −2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PitchName {
    fifths: i16,
}

impl PitchName {
    /// From a letter and an alteration in semitones (sharps positive).
    pub const fn new(letter: Letter, alteration: i16) -> PitchName {
        PitchName {
            fifths: letter.fifths() + 7 * alteration,
        }
    }

    /// From its place on the line of fifths.
    pub const fn from_fifths(fifths: i16) -> PitchName {
        PitchName { fifths }
    }

    /// Its place on the line of fifths.
    pub const fn fifths(self) -> i16 {
        self.fifths
    }

    /// Its letter.
    pub const fn letter(self) -> Letter {
        Letter::from_steps(4 * self.fifths)
    }

    /// Its alteration in semitones: −1 flat, 1 sharp, 2 double sharp.
    pub const fn alteration(self) -> i16 {
        (self.fifths + 1).div_euclid(7)
    }

    /// Pitch class, semitones above C, 0 to 11.
    pub const fn class(self) -> u8 {
        (7 * self.fifths).rem_euclid(12) as u8
    }

    /// The name of the same sound with fewer accidentals: the letter above for
    /// a sharp, the one below for a flat; a natural's own.
    pub const fn twin(self) -> PitchName {
        PitchName {
            fifths: self.fifths - 12 * self.alteration().signum(),
        }
    }

    /// The same sound with no more than a double accidental, the most that is
    /// printed.
    pub const fn printable(self) -> PitchName {
        let mut name = self;
        while name.alteration().abs() > 2 {
            name = name.twin();
        }
        name
    }

    /// Whether it has a double accidental, or more.
    pub const fn is_double(self) -> bool {
        self.alteration().abs() > 1
    }

    /// The natural that E sharp, B sharp, C flat and F flat sound as: F, C, B
    /// and E.
    pub const fn white_twin(self) -> Option<PitchName> {
        let twin = self.twin();
        if self.alteration().abs() == 1 && twin.alteration() == 0 {
            Some(twin)
        } else {
            None
        }
    }

    /// The name with ♭ and ♯ signs, for what people read: `B♭`, `F𝄪`.
    pub fn signs(self) -> String {
        format!("{}{}", self.letter(), signs(self.alteration()))
    }

    /// The name for file names: `f-sharp`, `b-flat`, `c`.
    pub fn slug(self) -> String {
        let letter = self.letter().char().to_ascii_lowercase();
        match self.alteration() {
            0 => letter.to_string(),
            1 => format!("{letter}-sharp"),
            -1 => format!("{letter}-flat"),
            n if n > 0 => format!("{letter}{}", "-sharp".repeat(n as usize)),
            n => format!("{letter}{}", "-flat".repeat(n.unsigned_abs() as usize)),
        }
    }
}

impl Add<Interval> for PitchName {
    type Output = PitchName;
    fn add(self, interval: Interval) -> PitchName {
        PitchName {
            fifths: self.fifths + interval.fifths(),
        }
    }
}

impl Sub<Interval> for PitchName {
    type Output = PitchName;
    fn sub(self, interval: Interval) -> PitchName {
        PitchName {
            fifths: self.fifths - interval.fifths(),
        }
    }
}

/// A spelled pitch in scientific octaves: middle C is C4.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Pitch {
    fifths: i16,
    octaves: i16,
}

impl Pitch {
    /// From letter, alteration in semitones and scientific octave.
    pub const fn new(letter: Letter, alteration: i16, octave: i16) -> Pitch {
        PitchName::new(letter, alteration).at(octave)
    }

    /// Its name without the octave.
    pub const fn name(self) -> PitchName {
        PitchName {
            fifths: self.fifths,
        }
    }

    /// Its letter.
    pub const fn letter(self) -> Letter {
        self.name().letter()
    }

    /// Its alteration in semitones.
    pub const fn alteration(self) -> i16 {
        self.name().alteration()
    }

    /// Its scientific octave, that of the letter: B sharp 3 sounds as C4.
    pub const fn octave(self) -> i16 {
        self.steps().div_euclid(7)
    }

    /// The same sound with no more than a double accidental, the most that is
    /// printed: a half step below B double sharp is B sharp, since nobody reads
    /// A triple sharp.
    pub const fn printable(self) -> Pitch {
        let fifths = self.name().printable().fifths;
        // Twelve fifths are seven octaves.
        Pitch {
            fifths,
            octaves: self.octaves + 7 * ((self.fifths - fifths) / 12),
        }
    }

    /// Diatonic place: steps above the letter C of octave 0.
    pub const fn steps(self) -> i16 {
        4 * self.fifths + 7 * self.octaves
    }

    /// MIDI number, C4 = 60 (MIDI 1.0 specification).
    pub const fn midi(self) -> i16 {
        7 * self.fifths + 12 * self.octaves + 12
    }
}

impl PitchName {
    /// The pitch of this name in a scientific octave.
    pub const fn at(self, octave: i16) -> Pitch {
        let within = 4 * self.fifths;
        Pitch {
            fifths: self.fifths,
            octaves: octave - within.div_euclid(7),
        }
    }
}

impl Add<Interval> for Pitch {
    type Output = Pitch;
    fn add(self, interval: Interval) -> Pitch {
        Pitch {
            fifths: self.fifths + interval.fifths(),
            octaves: self.octaves + interval.octaves(),
        }
    }
}

impl Sub<Interval> for Pitch {
    type Output = Pitch;
    fn sub(self, interval: Interval) -> Pitch {
        self + -interval
    }
}

impl Sub<Pitch> for Pitch {
    type Output = Interval;
    fn sub(self, below: Pitch) -> Interval {
        Interval::from_coordinates(self.fifths - below.fifths, self.octaves - below.octaves)
    }
}

/// Plain text: `Bb4`, `F##5`.
impl fmt::Display for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.name(), self.octave())
    }
}

/// Plain text: `Bb`, `F##`.
impl fmt::Display for PitchName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.letter(), plain(self.alteration()))
    }
}

/// Why a text is no pitch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not a pitch: write a letter A to G, then # or b as needed, then the octave, as in Bb4")]
pub struct PitchParseError;

impl FromStr for Pitch {
    type Err = PitchParseError;
    fn from_str(text: &str) -> Result<Pitch, PitchParseError> {
        let (name, rest) = read_name(text.trim()).ok_or(PitchParseError)?;
        match rest.parse::<i16>() {
            Ok(octave @ 0..=9) if rest.len() == 1 => Ok(name.at(octave)),
            _ => Err(PitchParseError),
        }
    }
}

impl FromStr for PitchName {
    type Err = PitchParseError;
    fn from_str(text: &str) -> Result<PitchName, PitchParseError> {
        match read_name(text.trim()) {
            Some((name, "")) => Ok(name),
            _ => Err(PitchParseError),
        }
    }
}

/// A name at the start of a text and what follows it. Signs beyond a double
/// are left in the rest, so that they are refused.
pub(crate) fn read_name(text: &str) -> Option<(PitchName, &str)> {
    let mut rest = text.chars();
    let letter = Letter::from_char(rest.next()?)?;
    let mut alteration = 0i16;
    loop {
        let mut ahead = rest.clone();
        let change = match ahead.next() {
            Some('#' | '♯') => 1,
            Some('b' | '♭') => -1,
            Some('𝄪') => 2,
            Some('𝄫') => -2,
            _ => break,
        };
        let mixed = alteration != 0 && (alteration > 0) != (change > 0);
        if mixed || (alteration + change).abs() > 2 {
            break;
        }
        alteration += change;
        rest = ahead;
    }
    Some((PitchName::new(letter, alteration), rest.as_str()))
}

fn plain(alteration: i16) -> String {
    let sign = if alteration < 0 { "b" } else { "#" };
    sign.repeat(alteration.unsigned_abs() as usize)
}

fn signs(alteration: i16) -> String {
    match alteration {
        2 => "𝄪".to_owned(),
        -2 => "𝄫".to_owned(),
        n if n < 0 => "♭".repeat(n.unsigned_abs() as usize),
        n => "♯".repeat(n.unsigned_abs() as usize),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn reads_and_prints() {
        let check = |text: &str, plain: &str, midi: i16| {
            let pitch: Pitch = text.parse().unwrap();
            assert_eq!(
                (pitch.to_string().as_str(), pitch.midi()),
                (plain, midi),
                "{text}"
            );
        };
        check("C4", "C4", 60);
        check("Bb4", "Bb4", 70);
        check("bb4", "Bb4", 70);
        check("B♭4", "Bb4", 70);
        check("F##5", "F##5", 79);
        check("F𝄪5", "F##5", 79);
        check("C♯5", "C#5", 73);
        check("B#3", "B#3", 60);
        check("Cb4", "Cb4", 59);
        check("Ebb2", "Ebb2", 38);
        check(" A0 ", "A0", 21);
        check("C8", "C8", 108);
        check("Fb9", "Fb9", 124);
        let alteration = |text: &str| text.parse::<Pitch>().unwrap().alteration();
        assert_eq!(
            ["Ebb2", "Bb4", "C4", "C#5", "F##5"].map(alteration),
            [-2, -1, 0, 1, 2]
        );
    }

    #[test]
    fn refuses_what_is_no_pitch() {
        for text in [
            "C04", "C+4", "", "C", "4", "H4", "C10", "C-1", "Cb#4", "C###4", "Cbbb4", "C4x", "C 4",
            "C+", "𝄪4",
        ] {
            assert_eq!(text.parse::<Pitch>(), Err(PitchParseError), "{text}");
        }
        for text in ["", "H", "C4", "Bbbb", "Cb#"] {
            assert_eq!(text.parse::<PitchName>(), Err(PitchParseError), "{text}");
        }
    }

    #[test]
    fn names_for_people_and_for_files() {
        let check = |text: &str, signs: &str, slug: &str, class: u8| {
            let name: PitchName = text.parse().unwrap();
            assert_eq!(
                (name.signs().as_str(), name.slug().as_str(), name.class()),
                (signs, slug, class)
            );
        };
        check("C", "C", "c", 0);
        check("F#", "F♯", "f-sharp", 6);
        check("Bb", "B♭", "b-flat", 10);
        check("F##", "F𝄪", "f-sharp-sharp", 7);
        check("Bbb", "B𝄫", "b-flat-flat", 9);
        check("Cb", "C♭", "c-flat", 11);
        check("B#", "B♯", "b-sharp", 0);
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same_spelling(
            fifths in -15i16..20,
            octave in -2i16..10,
            steps in -30i16..30,
            semitones in -50i16..50,
        ) {
            let pitch = PitchName::from_fifths(fifths).at(octave);
            let interval = Interval::from_steps(steps, semitones);
            prop_assert_eq!(pitch + interval - interval, pitch);
            prop_assert_eq!((pitch + interval) - pitch, interval);
            prop_assert_eq!((pitch + interval).midi(), pitch.midi() + semitones);
            prop_assert_eq!((pitch + interval).steps(), pitch.steps() + steps);
            prop_assert_eq!(pitch.octave(), octave);
        }

        #[test]
        fn what_is_printed_is_read_back(fifths in -15i16..20, octave in 0i16..10) {
            let pitch = PitchName::from_fifths(fifths).at(octave);
            prop_assert_eq!(pitch.to_string().parse(), Ok(pitch));
            prop_assert_eq!(pitch.name().signs().parse(), Ok(pitch.name()));
        }
    }
}
