//! A phrase: a single line as somebody notated it.

use rhythm::{Fraction, Meter};
use theory::{Interval, KeySignature, Pitch};

use crate::{Named, PlacedChord};

/// A single line, its ties joined, with the chords over it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phrase {
    /// What it is called, if that is said.
    pub title: Option<String>,
    /// The part it was taken from, as its sheet names it.
    pub part: Option<String>,
    /// Whether pitches, chords and key are concert or written.
    pub named: Named,
    /// What the part adds to a written pitch to get the sounding one.
    pub written_to_sounding: Interval,
    /// The key it begins in, if that is said.
    pub key: Option<KeySignature>,
    /// Its meter.
    pub meter: Meter,
    /// Quarters before its first bar line; 0 without a pickup.
    pub pickup: Fraction,
    /// Notes and silences in order, without gaps from the first bar's start
    /// to the last one's end; silences that meet are one.
    pub notes: Vec<PhraseNote>,
    /// The chords over it, in quarters from the first bar line.
    pub chords: Vec<PlacedChord>,
}

/// A note or a silence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PhraseNote {
    /// Quarters from the first bar line; negative in a pickup.
    pub onset: Fraction,
    /// Quarters it lasts.
    pub length: Fraction,
    /// What sounds; `None` for a silence.
    pub pitch: Option<Pitch>,
}

impl PhraseNote {
    /// Where it ends, in quarters from the first bar line.
    pub fn end(&self) -> Fraction {
        self.onset + self.length
    }
}
