//! From a lesson file's text to a [`lesson::Lesson`], or every mistake in it
//! with its place.
//!
//! It opens no file and draws no picture of a mistake: it returns place,
//! message and help.
#![deny(missing_docs)]

mod mistake;
mod read;

pub use mistake::Mistake;
pub use read::{Reading, read};
