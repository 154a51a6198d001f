//! A score as it sounds: played in time by a take's wishes, written as a
//! Standard MIDI File, or rendered as samples for WAV and FLAC.
//!
//! The walk: scores are laid out in exact ticks ([`perform`] gives a
//! [`Performance`]), which [`midi`] writes down and a [`Recording`] makes
//! audible with the crate's own plain voice or with a [`Font`]. This crate
//! knows no XML and opens no files; samples are the only floats in it.
//!
#![doc = include_str!("../RULES.md")]
#![deny(missing_docs)]

mod error;
mod role;
mod style;
mod take;
mod tuning;

mod swing;
mod tempo;

mod grid;
mod sheet;
mod timeline;

mod call;
mod form;

mod band;
mod click;
mod conductor;
mod harmony;
mod key_given;
mod line;
mod voicing;

mod perform;
mod performance;

mod ascii;
mod clock;
mod midi;

mod contain;
mod voice;

mod loudness;
mod true_peak;

mod balance;
mod recording;

mod bits;
mod flac;
mod flac_frame;
mod flac_prediction;
mod flac_rice;
mod tags;
mod wav;

#[cfg(test)]
mod tests;

pub use balance::Balance;
pub use error::{FontError, SoundError};
pub use midi::midi;
pub use perform::perform;
pub use performance::{KeyMark, MeterMark, NoteOf, Performance, Strike, Touch};
pub use recording::{Output, Recording, Scratch};
pub use role::Role;
pub use style::Style;
pub use swing::{Swing, SwingRatio};
pub use tags::Tags;
pub use take::{Click, DEFAULT_TEMPO, Levels, Take, Tracks};
pub use tuning::Tuning;
pub use voice::{DrumPart, Font, FontSource, PlainDrum, PlainTone, Voice, plain_drums, plain_tone};

/// Frames a second.
pub const RATE: u32 = 44_100;
