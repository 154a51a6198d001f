//! When notes happen and how that is written: counts, meters, note values,
//! splitting and tying, beams and tuplets.
//!
//! Time is exact: fractions of a quarter while a count is read, whole ticks
//! from then on. This crate knows no pitch, no files and no XML, and depends
//! on no other crate of ours.
#![deny(missing_docs)]

mod meter;
mod meter_text;

mod count;
mod count_reading;
mod count_token;
mod count_word;
mod length;

mod ticks;
mod value;

mod notate;

mod bar_shape;
mod beam;
mod rest;
mod split;
mod tuplet;

#[cfg(test)]
mod tests;

pub use count::{Count, CountMistake, Slot};
pub use count_word::{CountWord, count_word};
pub use meter::{Meter, MeterKind};
pub use meter_text::MeterParseError;
pub use notate::{BarPieces, Beam, BeamStyle, Beams, Event, Piece, PieceKind, notate};
pub use ticks::{Fraction, TickError, Ticks, divisions};
pub use value::{NoteValue, Tuplet, TupletEdge, ValueKind};
