//! Pitches as they are spelled, and everything a teacher says about them
//! without mentioning time: intervals, degrees, scales and their ladders,
//! chords, keys, instruments and their ranges.
//!
//! This crate knows no rhythm, no files and no XML, and depends on no other
//! crate of ours.
#![deny(missing_docs)]

mod letter;
mod interval;
mod pitch;
mod degree;
mod signature;
mod scale;
mod scale_table;
mod ladder;
mod chord;
mod chord_table;
mod level;
mod instrument;
mod instrument_table;
mod root_name;
mod key_order;
mod spelling;
mod name;

pub use chord::{Chord, ChordSymbol, ChordDegree, DegreeChange};
pub use degree::Degree;
pub use instrument::{Clef, ClefSign, Family, Instrument, Range, RegisterBreak};
pub use interval::Interval;
pub use key_order::{Cycle, KeyOrder};
pub use ladder::{Form, Ladder, Rung};
pub use letter::Letter;
pub use level::Level;
pub use name::{NameError, NameFault};
pub use pitch::{Pitch, PitchName};
pub use root_name::{Preference, concert_root, transposition, written_root};
pub use scale::Scale;
pub use signature::{KeySignature, Mode, Signature, SignatureStyle, key_signature};
pub use spelling::{LineTone, Speller, SpellingStyle, Tone};
