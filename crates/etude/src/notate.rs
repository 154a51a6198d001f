//! From spelled lines to measures, and the words about them.
//!
//! `measures` writes an exercise down, with each bar's `accidental`s, the
//! `label`s under its notes, its `marks`, its `blank` bars and the words that
//! are a `cue` over a place; `sentence` says what an exercise is, `heading`
//! what a sheet is.

pub(crate) mod accidental;
pub(crate) mod blank;
pub(crate) mod cue;
pub(crate) mod heading;
pub(crate) mod label;
pub(crate) mod marks;
pub(crate) mod measures;
pub(crate) mod sentence;
