//! Pitches as they are spelled, and everything a teacher says about them
//! without mentioning time: intervals, degrees, scales and their ladders,
//! chords, keys, instruments and their ranges.
//!
//! This crate knows no rhythm, no files and no XML, and depends on no other
//! crate of ours.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod degree;
mod formula;
mod interval;
mod interval_name;
mod letter;
mod pitch;

mod ladder;
mod minor;
mod scale;
mod scale_name;
mod scale_table;

mod chord;
mod chord_degree;
mod chord_spelling;
mod chord_symbol;
mod chord_table;

mod clef;
mod family;
mod fingering;
mod instrument;
mod instrument_table;
mod level;
mod range;
mod tube;

mod key_order;
mod ornament;
mod root_name;
mod rung_name;
mod signature;
mod simple_name;
mod spelling;
mod spelling_style;

mod name;

pub use chord::Chord;
pub use chord_degree::{ChordDegree, DegreeChange};
pub use chord_symbol::ChordSymbol;
pub use clef::{Clef, ClefSign};
pub use degree::{Degree, DegreeParseError};
pub use family::Family;
pub use fingering::{Fingering, HalfSteps};
pub use instrument::Instrument;
pub use interval::Interval;
pub use interval_name::IntervalParseError;
pub use key_order::{Cycle, KeyOrder};
pub use ladder::{Form, Ladder, Rung};
pub use letter::Letter;
pub use level::Level;
pub use name::{NameError, NameFault};
pub use ornament::{Side, ornament};
pub use pitch::{Pitch, PitchName, PitchParseError};
pub use range::{Range, RegisterBreak};
pub use root_name::{Preference, Root, RootWish, concert_root, transposition, written_root};
pub use rung_name::{Naming, RungName};
pub use scale::Scale;
pub use signature::{KeySignature, Mode, Signature, SignatureStyle, key_signature};
pub use spelling::{LineTone, Speller, Tone, spell_scale};
pub use spelling_style::SpellingStyle;
pub use tube::{Lengthening, Tube};
