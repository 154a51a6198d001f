//! Key signatures and rule 4: which one a scale on a root is written with.

use crate::{Letter, PitchName, Scale};

/// A key signature: sharps positive, flats negative, −7 to 7.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Signature(i8);

impl Signature {
    /// No sharps or flats.
    pub const NONE: Signature = Signature(0);

    /// With that many sharps (positive) or flats (negative), if it exists.
    pub const fn new(fifths: i16) -> Option<Signature> {
        if fifths >= -7 && fifths <= 7 { Some(Signature(fifths as i8)) } else { None }
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
    todo!()
}
