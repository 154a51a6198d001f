//! Intervals as steps along the line of fifths and whole octaves, so that
//! transposing is addition and the spelling falls out.

use std::ops::{Add, Mul, Neg, Sub};

/// A spelled interval, upward when positive: `fifths` perfect fifths and
/// `octaves` octaves. A major second is two fifths less an octave.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Interval {
    fifths: i16,
    octaves: i16,
}

impl Interval {
    /// The perfect unison.
    pub const UNISON: Interval = Interval {
        fifths: 0,
        octaves: 0,
    };
    /// The perfect octave, upward.
    pub const OCTAVE: Interval = Interval {
        fifths: 0,
        octaves: 1,
    };

    /// From its coordinates.
    pub const fn from_coordinates(fifths: i16, octaves: i16) -> Interval {
        Interval { fifths, octaves }
    }

    /// From diatonic steps and semitones, both signed: a major third is
    /// (2, 4), the alto saxophone's written-to-sounding interval (−5, −9).
    pub const fn from_steps(steps: i16, semitones: i16) -> Interval {
        let fifths = 7 * semitones - 12 * steps;
        Interval {
            fifths,
            octaves: (steps - 4 * fifths) / 7,
        }
    }

    /// Perfect fifths in it.
    pub const fn fifths(self) -> i16 {
        self.fifths
    }

    /// Octaves in it beside the fifths.
    pub const fn octaves(self) -> i16 {
        self.octaves
    }

    /// Diatonic steps, signed: 2 for any third, 7 for an octave.
    pub const fn steps(self) -> i16 {
        4 * self.fifths + 7 * self.octaves
    }

    /// Semitones, signed.
    pub const fn semitones(self) -> i16 {
        7 * self.fifths + 12 * self.octaves
    }
}

impl Add for Interval {
    type Output = Interval;
    fn add(self, other: Interval) -> Interval {
        Interval {
            fifths: self.fifths + other.fifths,
            octaves: self.octaves + other.octaves,
        }
    }
}

impl Sub for Interval {
    type Output = Interval;
    fn sub(self, other: Interval) -> Interval {
        self + -other
    }
}

impl Neg for Interval {
    type Output = Interval;
    fn neg(self) -> Interval {
        Interval {
            fifths: -self.fifths,
            octaves: -self.octaves,
        }
    }
}

impl Mul<i16> for Interval {
    type Output = Interval;
    fn mul(self, times: i16) -> Interval {
        Interval {
            fifths: self.fifths * times,
            octaves: self.octaves * times,
        }
    }
}
