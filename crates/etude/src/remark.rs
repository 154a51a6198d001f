//! What became of an exercise on a horn where that isn't what was asked: bare
//! facts, said each time they hold. `report/` counts them and puts them in
//! words at the very end.

use lesson::{Label, Span, WordsPlace};
use theory::Degree;

/// One fact of an exercise on a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Remark {
    /// Less is played than was asked.
    Shortfall(Shortfall),
    /// The line jumps an octave.
    Jump,
    /// Those who should keep together can't.
    PlaysAlone,
    /// Over changes: what was wished of the line, and isn't so.
    Wish(UnmetWish),
    /// What can't be printed.
    Print(PrintGap),
}

/// How an exercise is less than was asked: what `check` counts as a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shortfall {
    /// It turns round, or stops, before its span is done: so many statements
    /// up and down, of so many each way.
    Statements {
        /// Statements up; 0 where none was asked.
        ups: u16,
        /// Statements down; 0 where none fits or none was asked.
        downs: u16,
        /// Statements of one way if all of it fitted.
        of: u16,
        /// Whether a way down was asked beside the way up.
        both_ways: bool,
    },
    /// The figure alone, there and back, without its form coming down.
    ComingDown,
    /// A whole-horn exercise whose way down fits nowhere on the horn.
    WayDown,
    /// A scale of fewer octaves than asked.
    Octaves {
        /// What fits.
        got: Span,
        /// What was asked.
        asked: Span,
    },
    /// A scale over the whole horn, where even one octave doesn't fit.
    WholeHorn {
        /// What was asked.
        asked: Span,
    },
    /// A scale as far as everyone who keeps together can play.
    AsFarAsAll {
        /// What was asked.
        asked: Span,
    },
}

/// What was wished of a line over changes, and isn't so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnmetWish {
    /// A limit that the horn doesn't allow.
    InARow {
        /// How often a variant or a starting degree may stand in a row.
        limit: u8,
    },
    /// A join that leaps over an octave.
    Leap,
    /// The one highest note doesn't come past the middle, but in a bar (from
    /// 1).
    HighPointElsewhere {
        /// Which.
        bar: i64,
    },
    /// No line has its highest note in one statement alone.
    NoHighPoint,
    /// A plan that would rest wherever there is a chord.
    EveryBarPlayed,
    /// A statement that sounds nothing before its chord ends.
    Unheard,
    /// A target that nothing leads up to, since there is no time before it.
    NotLedUpTo,
    /// Degrees to begin on that a chord's scale lacks.
    NoDegreeToBeginOn {
        /// The scale's name.
        scale: String,
        /// What it lacks.
        degrees: Vec<Degree>,
    },
}

/// What is asked to be printed, and has nowhere to stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PrintGap {
    /// A row of labels that the instrument can't have.
    Row(Label),
    /// A note for which a row of valves or positions has no fingering.
    Fingering(Label),
    /// Words over a place that the sheet doesn't have.
    Words {
        /// The place.
        place: WordsPlace,
        /// What would stand there.
        words: String,
    },
}

impl Remark {
    /// Whether less is played than was asked.
    pub fn is_shortfall(&self) -> bool {
        matches!(self, Remark::Shortfall(_))
    }
}
