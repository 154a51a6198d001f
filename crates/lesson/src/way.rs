//! How a line on one scale goes over the horn.

/// Which way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Direction {
    Up,
    Down,
    UpAndDown,
}

/// What the figure becomes coming down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[allow(missing_docs)]
pub enum ComingDown {
    #[default]
    Flipped,
    Reversed,
    AsItIs,
}

/// How far an exercise goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Span {
    OneOctave,
    TwoOctaves,
    WholeHorn,
}

impl Span {
    /// The lesson's words.
    pub const fn words(self) -> &'static str {
        match self {
            Span::OneOctave => "one octave",
            Span::TwoOctaves => "two octaves",
            Span::WholeHorn => "whole horn",
        }
    }
}

/// What happens where an exercise doesn't fit the horn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum TooWide {
    /// Turn round before the statement that would leave the range.
    #[default]
    TurnEarly,
    /// Jump an octave between statements.
    Jump,
    /// Leave the sheet out in that key.
    LeaveOut,
}

/// How an exercise closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Ending {
    /// On a root.
    #[default]
    Root,
    /// Where it is.
    None,
}
