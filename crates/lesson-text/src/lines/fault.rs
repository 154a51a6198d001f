//! What the parser stumbles over, and what is told of it.

use std::ops::Range;

use crate::mistakes::mistake::Mistake;

/// The parser's first fault.
#[derive(Debug)]
pub(crate) struct Fault {
    /// Bytes of the text.
    pub span: Range<usize>,
    /// What the parser says of it.
    pub said: String,
}

/// The mistake that a fault comes from, and the lines to set aside for it.
#[derive(Debug)]
pub(crate) struct BrokenLines {
    pub mistake: Mistake,
    /// Numbers of lines, and what is to stand there instead.
    pub aside: Vec<(usize, String)>,
    /// Whether what was meant there can't be read at all.
    pub lost: bool,
}

/// What can only be told in general.
pub(crate) fn unreadable(span: Range<usize>, fault: &Fault) -> Mistake {
    if fault.said.contains("carriage return") {
        let help = "save the file with plain line ends";
        return Mistake::new(
            fault.span.clone(),
            "a line ends here in a way that can't be read",
            help,
        );
    }
    let help = "a line is a key, = and what it says, as in level = \"intermediate\"; a remark begins with #";
    Mistake::new(span, "this can't be read as part of a lesson", help)
}
