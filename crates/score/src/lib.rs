//! A sheet as plain values: parts, measures and notes with their ties, beams,
//! accidentals and breaks already decided. Each note remembers the exercise,
//! statement, degree and chord it came from.
//!
//! This crate doesn't know how a score was composed, nor how it is written
//! down in any format.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod chord;
mod element;
mod exercise;
mod head_line;
mod imprint;
mod measure;
mod numbering;
mod origin;
mod part;
mod score;

mod book;
mod concert_clef;
mod full_score;

mod description;
mod edition;
mod reading;

#[cfg(test)]
mod sample;

pub use book::book;
pub use chord::{Chord, Chords};
pub use concert_clef::choose_clef;
pub use description::Description;
pub use edition::edition;
pub use element::{Accidental, Element, Lyric, Lyrics, Marks, Note, Rest, Slash, Written};
pub use exercise::Exercise;
pub use full_score::full_score;
pub use head_line::{About, HeadLine};
pub use imprint::Imprint;
pub use measure::{
    Barline, Break, Cue, Direction, Measure, MeasureLabel, TempoMark, boxes_in_words,
};
pub use numbering::Numbering;
pub use origin::Origin;
pub use part::{Part, Transposition};
pub use reading::{SoundingNote, TieChain, sounding_notes};
pub use score::{Page, Score};
