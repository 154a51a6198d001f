//! A phrase: a single line as somebody notated it.

use rhythm::{Fraction, Meter};
use theory::{Interval, KeySignature, Pitch, PitchName, Scale};

use crate::{Named, PlacedChord};

/// A single line, its ties joined, with the chords over it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Phrase {
    /// What it is called, if that is said.
    pub title: Option<String>,
    /// Who plays it, as its sheet says.
    pub played_by: PlayedBy,
    /// Whether pitches, chords and key are concert or written.
    pub named: Named,
    /// What the part adds to a written pitch to get the sounding one.
    pub written_to_sounding: Interval,
    /// The key it begins in, if that is said.
    pub key: Option<KeySignature>,
    /// The tonic and the scale that its sheet states beside the signature.
    pub home: Option<Home>,
    /// The piece that it stands in.
    pub around: Around,
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

/// What a sheet says of who plays a part; what it doesn't say is left out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlayedBy {
    /// The part's name.
    pub part: Option<String>,
    /// The instrument's name.
    pub instrument: Option<String>,
    /// The standard's sound id: `wind.reed.saxophone.alto`.
    pub sound_id: Option<String>,
}

/// A key by its tonic and scale: D dorian.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Home {
    /// The tonic.
    pub tonic: PitchName,
    /// The scale on it.
    pub scale: Scale,
}

/// What the line around a phrase does, as long as its signature holds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Around {
    /// The last note before the signature changes or the piece ends.
    pub last: Option<PitchName>,
    /// How long each of the twelve notes lasts, from C up, in 48ths of a
    /// quarter; what begins on a bar line counts twice.
    pub weights: [u32; 12],
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
