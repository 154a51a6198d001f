//! How a run ends, as scripts see it.

use std::process::ExitCode;

/// What a run came to; the numbers are promised in the README.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Everything was done.
    Done = 0,
    /// Something could not be written.
    NotWritten = 1,
    /// A lesson or the arguments are wrong; nothing was written.
    Mistake = 2,
    /// Done, but some sheets had to be left out, or edited ones were kept.
    LeftOut = 3,
    /// The person stopped it.
    Stopped = 130,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}
