//! Which scales are minor: for their signature, and at the head of a sheet.

use crate::{Chord, Degree, Scale};

const THIRD: Degree = Degree::new(3, 0);
const MINOR_THIRD: Degree = Degree::new(3, -1);
const FIFTH: Degree = Degree::new(5, 0);

impl Scale {
    /// Whether a musician calls the key of this scale minor: it is of the
    /// minor type, has a 5, and its chord, if it has one, has a minor third.
    /// Altered, diminished and half-diminished scales are named by their root
    /// alone.
    pub fn says_minor(&self) -> bool {
        let chord_is_minor = |chord: &Chord| chord.third() == Some(MINOR_THIRD);
        self.is_minor_type() && self.has_fifth() && self.chord.as_ref().is_none_or(chord_is_minor)
    }

    /// Minor for its signature: its chord's third is minor, or it has b3 and
    /// no 3.
    pub(crate) fn is_minor_type(&self) -> bool {
        let third = self.chord.as_ref().and_then(Chord::third);
        third == Some(MINOR_THIRD) || (self.has(MINOR_THIRD) && !self.has(THIRD))
    }

    pub(crate) fn has_fifth(&self) -> bool {
        self.has(FIFTH)
    }

    pub(crate) fn has_major_third(&self) -> bool {
        self.has(THIRD)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn minor_where_a_musician_says_so() {
        let check = |name: &str, minor: bool| {
            let scale = Scale::named(name).unwrap();
            assert_eq!(scale.says_minor(), minor, "{name}");
        };
        for name in [
            "natural minor",
            "harmonic minor",
            "melodic minor",
            "classical melodic minor",
            "dorian",
            "blues", // over m7
            "minor pentatonic",
            "kumoi",
            "hungarian minor",
            "bebop dorian", // has a 3, but its chord is minor
        ] {
            check(name, true);
        }
        for name in [
            "major",
            "altered",               // no 5, and its chord is dominant
            "phrygian flat 4",       // its chord has a major third
            "phrygian",              // its chord is suspended
            "locrian",               // no 5
            "locrian natural 2",     // half-diminished
            "diminished whole-half", // no 5
            "diminished half-whole",
            "composite blues",
            "suspended pentatonic",
            "chromatic",
        ] {
            check(name, false);
        }
    }
}
