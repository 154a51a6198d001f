//! Clefs: which pitch stands on which line of a staff.

use crate::{Letter, Pitch, Signature};

/// A clef's sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ClefSign {
    /// G clef.
    G,
    /// F clef.
    F,
    /// C clef.
    C,
}

/// A clef on its line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Clef {
    /// Its sign.
    pub sign: ClefSign,
    /// Line of the staff, 1 lowest.
    pub line: u8,
    /// −1 for the treble clef with an 8 below.
    pub octave_change: i8,
}

impl Clef {
    /// Treble.
    pub const TREBLE: Clef = Clef::on(ClefSign::G, 2, 0);
    /// Treble with an 8 below: an octave lower.
    pub const TREBLE_8_BELOW: Clef = Clef::on(ClefSign::G, 2, -1);
    /// Alto.
    pub const ALTO: Clef = Clef::on(ClefSign::C, 3, 0);
    /// Tenor.
    pub const TENOR: Clef = Clef::on(ClefSign::C, 4, 0);
    /// Bass.
    pub const BASS: Clef = Clef::on(ClefSign::F, 4, 0);

    const fn on(sign: ClefSign, line: u8, octave_change: i8) -> Clef {
        Clef {
            sign,
            line,
            octave_change,
        }
    }

    /// The bottom line's diatonic place, as of [`Pitch::steps`].
    pub const fn bottom_line(self) -> i16 {
        // G4, F3 and middle C stand on the clef's own line.
        let own = match self.sign {
            ClefSign::G => Pitch::new(Letter::G, 0, 4),
            ClefSign::F => Pitch::new(Letter::F, 0, 3),
            ClefSign::C => Pitch::new(Letter::C, 0, 4),
        };
        own.steps() - 2 * (self.line as i16 - 1) + 7 * self.octave_change as i16
    }

    /// What stands on the middle line, altered as the signature has it, so
    /// that it wants no accidental there.
    pub fn middle_line(self, signature: Signature) -> Pitch {
        let steps = self.bottom_line() + 4;
        let letter = Letter::ALL[usize::from(steps.rem_euclid(7).unsigned_abs())];
        Pitch::new(letter, signature.alteration(letter), steps.div_euclid(7))
    }

    /// The ledger lines that a note needs: staff lines and the spaces beside
    /// them need none.
    pub fn ledger_lines(self, pitch: Pitch) -> u16 {
        let middle = self.bottom_line() + 4;
        let away = (pitch.steps() - middle).unsigned_abs();
        away.saturating_sub(4) / 2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // All from common practice.

    #[test]
    fn bottom_and_middle_lines() {
        let check = |clef: Clef, bottom: &str, middle: &str| {
            let bottom: Pitch = bottom.parse().unwrap();
            assert_eq!(clef.bottom_line(), bottom.steps(), "{clef:?}");
            let found = clef.middle_line(Signature::NONE);
            assert_eq!(found.to_string(), middle, "{clef:?}");
        };
        check(Clef::TREBLE, "E4", "B4");
        check(Clef::TREBLE_8_BELOW, "E3", "B3");
        check(Clef::ALTO, "F3", "C4");
        check(Clef::TENOR, "D3", "A3");
        check(Clef::BASS, "G2", "D3");
    }

    #[test]
    fn the_signature_alters_the_middle_line() {
        let check = |clef: Clef, fifths, expected: &str| {
            let found = clef.middle_line(Signature::new(fifths).unwrap());
            assert_eq!(found.to_string(), expected, "{clef:?} {fifths}");
        };
        check(Clef::TREBLE, -1, "Bb4");
        check(Clef::TREBLE, -7, "Bb4");
        check(Clef::TREBLE, 6, "B4");
        check(Clef::ALTO, 7, "C#4");
        check(Clef::BASS, -4, "Db3");
    }

    #[test]
    fn ledger_lines_of_clefs() {
        // C4 hangs on one line under the treble staff and over the bass staff.
        let check = |pitch: &str, expected: [u16; 3]| {
            let pitch: Pitch = pitch.parse().unwrap();
            let clefs = [Clef::TREBLE, Clef::TREBLE_8_BELOW, Clef::BASS];
            assert_eq!(
                clefs.map(|clef| clef.ledger_lines(pitch)),
                expected,
                "{pitch}"
            );
        };
        check("C4", [1, 0, 1]);
        check("D4", [0, 0, 1]);
        check("B3", [1, 0, 0]);
        check("A3", [2, 0, 0]);
        check("G5", [0, 4, 6]);
        check("A5", [1, 4, 7]);
        check("C3", [4, 1, 0]);
        check("F2", [6, 3, 0]);
        check("E2", [7, 3, 1]);
    }
}
