//! A sheet as plain values: parts, measures and notes with their ties, beams,
//! accidentals and breaks already decided. Each note remembers the exercise,
//! statement, degree and chord it came from.
//!
//! This crate doesn't know how a score was composed, nor how it is written
//! down in any format.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod description;
mod element;
mod exercise;
mod head_line;
mod imprint;
mod measure;
mod origin;
mod part;
mod reading;

pub use description::Description;
pub use element::{Accidental, Element, Lyric, Lyrics, Marks, Note, Rest, Slash, Written};
pub use exercise::Exercise;
pub use head_line::{About, HeadLine};
pub use imprint::Imprint;
pub use measure::{Barline, Break, Cue, Direction, Measure};
pub use origin::Origin;
pub use part::{Page, Part, Score, Transposition};
pub use reading::{SoundingNote, sounding_notes};
