//! When notes happen and how that is written: counts, meters, note values,
//! splitting and tying, beams and tuplets.
//!
//! Time is exact: fractions of a quarter while a count is read, whole ticks
//! from then on. This crate knows no pitch, no files and no XML, and depends
//! on no other crate of ours.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod meter;
mod ticks;
mod value;

mod count;
mod count_aloud;
mod count_end;
mod count_read;
mod count_words;
mod length;
mod mixed;

mod beam;
mod frame;
mod notate;
mod split;
mod tuplet;
mod writable;

pub use count::{
    Count, CountMistake, CountWord, Counting, NoWords, Slot, Sound, Thirds, count_word,
};
pub use meter::{Meter, MeterKind};
pub use mixed::mixed;
pub use notate::{BarPieces, Beam, BeamStyle, Beams, Event, Piece, PieceKind, notate};
pub use ticks::{Fraction, MOST_DIVISIONS, TickError, Ticks, divisions};
pub use value::{NoteValue, Tuplet, TupletEdge, ValueKind};
pub use writable::writable;
