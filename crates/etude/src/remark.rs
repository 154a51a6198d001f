//! What became of an exercise on a horn where that isn't what was asked:
//! values to be counted, put in words at the very end.

use std::fmt;

use lesson::{Label, WordsPlace};
use theory::Degree;

/// Something to be said of an exercise on a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Remark {
    /// It turns round, or stops, before its span is done: so many statements
    /// up and down, of so many each way.
    Shortened {
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
    ComingDownLeftOut,
    /// A whole-horn exercise whose way down fits nowhere on the horn.
    WayDownLeftOut,
    /// A scale of fewer octaves than asked.
    FewerOctaves {
        /// Octaves that fit.
        got: u8,
        /// Octaves that were asked.
        asked: u8,
    },
    /// A scale over the whole horn, where even one octave doesn't fit.
    WholeHornInstead {
        /// Octaves that were asked.
        asked: u8,
    },
    /// A scale as far as everyone who keeps together can play.
    AsFarAsAll {
        /// Octaves that were asked; none for the whole horn.
        asked: Option<u8>,
    },
    /// So many octave jumps.
    Jumps(u32),
    /// Those who should keep together can't.
    PlaysAlone,
    /// Over changes: a limit that the horn doesn't allow.
    InARow {
        /// How often a variant or a starting degree may stand in a row.
        limit: u8,
    },
    /// Over changes: joins that leap over an octave, so many.
    LeapsAnOctave(u16),
    /// Over changes: the one highest note doesn't come past the middle, but in
    /// a bar (from 1).
    HighPointElsewhere {
        /// Which.
        bar: i64,
    },
    /// Over changes: no line has its highest note in one statement alone.
    NoHighPoint,
    /// Over changes: a plan that would rest wherever there is a chord.
    EveryBarPlayed,
    /// Targets that nothing leads up to, since there is no time before them:
    /// so many.
    NotLedUpTo(u16),
    /// Over changes: degrees to begin on that a chord's scale lacks.
    NoDegreeToBeginOn {
        /// The scale's name.
        scale: String,
        /// What it lacks.
        degrees: Vec<Degree>,
    },
    /// A row of labels that the instrument can't have.
    RowLeftOut(Label),
    /// Notes for which a row has no fingering.
    NotFingered {
        /// Valves or positions.
        row: Label,
        /// How many.
        notes: u32,
    },
    /// Words over a place that the sheet doesn't have.
    WordsNowhere {
        /// The place.
        place: WordsPlace,
        /// What would stand there.
        words: String,
    },
    /// Said in one key of a sheet that moves through several.
    InKey {
        /// The written root, with its sign.
        written: String,
        /// What is said.
        remark: Box<Remark>,
    },
}

impl Remark {
    /// Whether less is played than was asked: what `check` counts as a turn.
    pub fn is_turn(&self) -> bool {
        match self {
            Remark::Shortened { .. }
            | Remark::ComingDownLeftOut
            | Remark::WayDownLeftOut
            | Remark::FewerOctaves { .. }
            | Remark::WholeHornInstead { .. }
            | Remark::AsFarAsAll { .. } => true,
            Remark::InKey { remark, .. } => remark.is_turn(),
            Remark::Jumps(_)
            | Remark::PlaysAlone
            | Remark::InARow { .. }
            | Remark::LeapsAnOctave(_)
            | Remark::HighPointElsewhere { .. }
            | Remark::NoHighPoint
            | Remark::EveryBarPlayed
            | Remark::NotLedUpTo(_)
            | Remark::NoDegreeToBeginOn { .. }
            | Remark::RowLeftOut(_)
            | Remark::NotFingered { .. }
            | Remark::WordsNowhere { .. } => false,
        }
    }
}

/// One clause, to stand after an exercise's heading and a colon.
impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Remark::Shortened {
                ups,
                downs: 0,
                of,
                both_ways: true,
            } => write!(
                f,
                "turns early: {ups} of {of} statements up, and none coming down"
            ),
            Remark::Shortened {
                ups, downs: 0, of, ..
            } => write!(f, "turns early: {ups} of {of} statements up"),
            Remark::Shortened {
                ups: 0, downs, of, ..
            } => write!(f, "stops early: {downs} of {of} statements down"),
            Remark::Shortened { ups, downs, of, .. } => {
                write!(f, "turns early: {ups} of {of} statements up, {downs} down")
            }
            Remark::ComingDownLeftOut => {
                f.write_str("the form coming down is left out: it would leave the horn")
            }
            Remark::WayDownLeftOut => {
                f.write_str("the way down is left out: it fits nowhere on the horn")
            }
            Remark::FewerOctaves { got, asked } => write!(
                f,
                "{} instead of {}: more would leave the horn",
                octaves(*got),
                octaves(*asked)
            ),
            Remark::WholeHornInstead { asked } => write!(
                f,
                "the whole horn instead of {}: more would leave it",
                octaves(*asked)
            ),
            Remark::AsFarAsAll { asked: None } => {
                f.write_str("as far as everyone can play together")
            }
            Remark::AsFarAsAll { asked: Some(asked) } => write!(
                f,
                "as far as everyone can play together instead of {}",
                octaves(*asked)
            ),
            Remark::Jumps(1) => f.write_str("jumps an octave once, to stay on the horn"),
            Remark::Jumps(many) => {
                write!(f, "jumps an octave {many} times, to stay on the horn")
            }
            Remark::PlaysAlone => {
                f.write_str("plays alone: no turn or jump suits everyone's range")
            }
            Remark::InARow { limit } => write!(
                f,
                "a variant or a starting degree stands more than {limit} times in a row: the horn allows no other line"
            ),
            Remark::LeapsAnOctave(1) => {
                f.write_str("leaps over an octave once: the horn allows no other line")
            }
            Remark::LeapsAnOctave(many) => write!(
                f,
                "leaps over an octave {many} times: the horn allows no other line"
            ),
            Remark::HighPointElsewhere { bar } => write!(
                f,
                "its highest note comes in bar {bar}: no line that has it once has it past the middle"
            ),
            Remark::NoHighPoint => {
                f.write_str("its highest note comes more than once: the horn allows no other line")
            }
            Remark::EveryBarPlayed => {
                f.write_str("every bar is played: the plan rests wherever there is a chord")
            }
            Remark::NotLedUpTo(1) => {
                f.write_str("one note is not led up to: there is no time before it")
            }
            Remark::NotLedUpTo(many) => {
                write!(
                    f,
                    "{many} notes are not led up to: there is no time before them"
                )
            }
            Remark::NoDegreeToBeginOn { scale, degrees } => {
                let names: Vec<String> = degrees.iter().map(Degree::to_string).collect();
                write!(f, "{scale} has no {} to begin on", names.join(" and no "))
            }
            Remark::RowLeftOut(row) => {
                write!(f, "no row of {}: the instrument has none", row.words())
            }
            Remark::NotFingered { row, notes: 1 } => {
                write!(f, "one note has no {}", row.words())
            }
            Remark::NotFingered { row, notes } => {
                write!(f, "{notes} notes have no {}", row.words())
            }
            Remark::WordsNowhere { place, words } => {
                let (what, number) = match place {
                    WordsPlace::Bar(number) => ("bar", number),
                    WordsPlace::Statement(number) => ("statement", number),
                };
                write!(f, "it has no {what} {number}, where “{words}” would stand")
            }
            Remark::InKey { written, remark } => write!(f, "in written {written}, {remark}"),
        }
    }
}

const fn octaves(octaves: u8) -> &'static str {
    match octaves {
        1 => "one octave",
        _ => "two octaves",
    }
}
