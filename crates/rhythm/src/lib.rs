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
mod count_reader;
mod count_word;
mod count_words;
mod counting;
mod length;
mod mixed;

mod bar_filling;
mod beam;
mod frame;
mod notate;
mod piece;
mod split;
mod tuplet;
mod writable;

pub use count::{Count, CountMistake, Counting, NoWords, Slot, Sound, Thirds};
pub use count_word::{CountWord, count_word};
pub use meter::{Meter, MeterKind};
pub use mixed::mixed;
pub use notate::notate;
pub use piece::{BarPieces, Beam, BeamStyle, Beams, Event, Piece, PieceKind};
pub use ticks::{Fraction, MOST_DIVISIONS, TickError, Ticks, divisions};
pub use value::{NoteValue, Tuplet, TupletEdge, ValueKind};
pub use writable::writable;
