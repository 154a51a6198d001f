//! What reading gives: a value and what was guessed on the way, or the one
//! thing that cannot be read.

use std::fmt;

use crate::Place;
use crate::place::after_place;

/// A value read, with a warning for each thing guessed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reading<T> {
    /// What was read.
    pub value: T,
    /// What was guessed or left out, in the file's order.
    pub warnings: Vec<Warning>,
}

/// Something guessed or left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Warning {
    /// Where.
    pub place: Place,
    /// What, in a sentence.
    pub message: String,
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        after_place(&self.place, &self.message, f)
    }
}

/// Why a file cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadError {
    /// Where.
    pub place: Box<Place>,
    /// What is wrong, in a sentence.
    pub reason: String,
    /// What to do about it, as a message ends.
    pub help: &'static str,
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        after_place(&self.place, &self.reason, f)
    }
}

impl std::error::Error for ReadError {}

/// What helps where the file itself is broken.
pub(crate) const BROKEN: &str = "export it again as MusicXML from the program it was written in";
/// Where it is something else.
pub(crate) const NOT_MUSICXML: &str = "export it as MusicXML from the program it was written in";
/// Where it holds too much.
pub(crate) const TOO_MUCH: &str = "export only the part and the bars that you want";
/// Where something was asked for that isn't there.
pub(crate) const NOT_THERE: &str = "name one that is there";
/// Where nothing sounds.
pub(crate) const NO_NOTES: &str = "ask for other bars, or for another part";

impl ReadError {
    /// A fault of the file as a whole.
    pub(crate) fn whole(reason: impl Into<String>) -> ReadError {
        ReadError {
            place: Box::default(),
            reason: reason.into(),
            help: BROKEN,
        }
    }

    /// The same with what else helps.
    pub(crate) fn with(self, help: &'static str) -> ReadError {
        ReadError { help, ..self }
    }
}
