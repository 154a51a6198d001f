//! What the parser stumbles over, and what is told of it.

use std::ops::Range;

/// The parser's first fault.
#[derive(Debug)]
pub(crate) struct Fault {
    /// Bytes of the text.
    pub place: Range<usize>,
    /// What the parser says of it.
    pub said: String,
}

/// What is wrong, and the lines to set aside.
#[derive(Debug)]
pub(crate) struct Blame {
    pub place: Range<usize>,
    pub message: String,
    pub help: String,
    /// Numbers of lines, and what is to stand there instead.
    pub aside: Vec<(usize, String)>,
    /// Whether what was meant there can't be read at all.
    pub lost: bool,
}

/// What is wrong, told at its place.
#[derive(Debug)]
pub(crate) struct Slip {
    pub place: Range<usize>,
    pub message: String,
    pub help: String,
}

impl Slip {
    pub(crate) fn new(
        place: Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) -> Slip {
        Slip {
            place,
            message: message.into(),
            help: help.into(),
        }
    }
}

/// What can only be told in general.
pub(crate) fn unreadable(place: Range<usize>, fault: &Fault) -> Slip {
    if fault.said.contains("carriage return") {
        let help = "save the file with plain line ends";
        return Slip::new(
            fault.place.clone(),
            "a line ends here in a way that can't be read",
            help,
        );
    }
    let help = "a line is a key, = and what it says, as in level = \"intermediate\"; a remark begins with #";
    Slip::new(place, "this can't be read as part of a lesson", help)
}
