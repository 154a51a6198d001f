//! What is on a sheet.

use theory::{Chord, Level};

use crate::{Breath, Dynamic, Keys, Over, Tempo, WordsOver};

/// One exercise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Exercise {
    /// What it is made of.
    pub kind: ExerciseKind,
    /// What an exercise through the keys says in each of them.
    pub say: Say,
    /// Whether every second statement of a study is turned backwards.
    pub broken: bool,
    /// For which players of the lesson, by their places in order; none: for
    /// all.
    pub only_for: Option<Vec<usize>>,
    /// The teacher's own heading; empty for none, unsaid for the usual one.
    pub heading: Option<String>,
    /// Paragraphs under its heading.
    pub text: Vec<String>,
    /// Words over its bars and statements, in order.
    pub words: Vec<WordsOver>,
    /// Which scale of the lesson.
    pub scale: usize,
    /// Which figure of the lesson; a `scale` exercise takes only the meter
    /// from it (none: 4/4).
    pub figure: Option<usize>,
    /// Up, down, or up and down.
    pub direction: Direction,
    /// What is said coming down.
    pub coming_down: ComingDown,
    /// How far it goes.
    pub span: Span,
    /// What happens where it doesn't fit.
    pub when_too_wide: TooWide,
    /// Whether it closes on a root.
    pub ending: Ending,
    /// A chord of its own over it.
    pub chord: Option<Chord>,
    /// Whether chord symbols stand over it.
    pub chord_symbols: bool,
    /// A level of its own.
    pub level: Option<Level>,
    /// Keys of its own: it is left out of other keys' sheets; an exercise
    /// through the keys goes through these.
    pub keys: Option<Keys>,
    /// A tempo of its own.
    pub tempo: Option<Tempo>,
    /// Label rows of its own.
    pub labels: Option<Vec<Label>>,
    /// A dynamic of its own.
    pub dynamic: Option<Dynamic>,
    /// What becomes of its own places to breathe.
    pub breath: Option<Breath>,
    /// The bars of a `trade` exercise.
    pub trade: Option<Trade>,
    /// What of it is given, where the student writes out the rest.
    pub given: Option<Given>,
    /// What of it is left for the student to fill in.
    pub hide: Option<Hide>,
    /// The changes of an exercise over changes.
    pub over: Option<Over>,
}

impl Exercise {
    /// Whether its sheet leaves something for the student to write.
    pub fn asks(&self) -> bool {
        self.given.is_some() || self.hide.is_some()
    }
}

/// Bars written and bars answered, in turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Trade {
    /// Statements that are written before each answer; whole bars.
    pub statements: u16,
    /// Bars of slashes after them.
    pub bars: u16,
}

/// What of an exercise is given, the bars after it being blank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Given {
    /// What is said in the first key; where the sheet stays in its key, the
    /// first statement.
    First,
    /// So many bars.
    Bars(u16),
}

/// What is left out of an exercise for the student to fill in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Hide {
    /// The pitches; the rhythm is given.
    Notes,
    /// The chord symbols.
    Chords,
    /// The labels that name degrees.
    Degrees,
}

/// What an exercise is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ExerciseKind {
    /// The scale over the horn.
    Scale,
    /// The figure once.
    Figure,
    /// The figure on each degree in turn.
    Sequence,
    /// The figure or its sequence moved through the keys on one sheet.
    Keys,
    /// The scale in one interval after another.
    Intervals,
    /// The scale in runs of so many notes.
    Runs,
    /// The sequence, with bars between to improvise an answer in.
    Trade,
    /// The figure carried through changes.
    Changes,
    /// Thirds and sevenths through changes.
    GuideTones,
    /// Thirds and sevenths through changes, each led up to.
    Targets,
}

impl ExerciseKind {
    /// All kinds, as they are listed.
    pub const ALL: [ExerciseKind; 10] = [
        ExerciseKind::Scale,
        ExerciseKind::Figure,
        ExerciseKind::Sequence,
        ExerciseKind::Keys,
        ExerciseKind::Intervals,
        ExerciseKind::Runs,
        ExerciseKind::Trade,
        ExerciseKind::Changes,
        ExerciseKind::GuideTones,
        ExerciseKind::Targets,
    ];

    /// The lesson's word.
    pub const fn word(self) -> &'static str {
        match self {
            ExerciseKind::Scale => "scale",
            ExerciseKind::Figure => "figure",
            ExerciseKind::Sequence => "sequence",
            ExerciseKind::Keys => "keys",
            ExerciseKind::Intervals => "intervals",
            ExerciseKind::Runs => "runs",
            ExerciseKind::Trade => "trade",
            ExerciseKind::Changes => "changes",
            ExerciseKind::GuideTones => "guide tones",
            ExerciseKind::Targets => "targets",
        }
    }

    /// Whether the figure is said once instead of on each degree.
    pub const fn says_once(self, say: Say) -> bool {
        match self {
            ExerciseKind::Figure => true,
            ExerciseKind::Keys => matches!(say, Say::Figure),
            ExerciseKind::Scale
            | ExerciseKind::Sequence
            | ExerciseKind::Intervals
            | ExerciseKind::Runs
            | ExerciseKind::Trade
            | ExerciseKind::Changes
            | ExerciseKind::GuideTones
            | ExerciseKind::Targets => false,
        }
    }

    /// Whether it says the lesson's figure; others take at most its meter.
    pub const fn says_figure(self) -> bool {
        match self {
            ExerciseKind::Figure
            | ExerciseKind::Sequence
            | ExerciseKind::Keys
            | ExerciseKind::Trade
            | ExerciseKind::Changes => true,
            ExerciseKind::Scale
            | ExerciseKind::Intervals
            | ExerciseKind::Runs
            | ExerciseKind::GuideTones
            | ExerciseKind::Targets => false,
        }
    }

    /// Whether it goes over the lesson's changes.
    pub const fn goes_over_changes(self) -> bool {
        matches!(
            self,
            ExerciseKind::Changes | ExerciseKind::GuideTones | ExerciseKind::Targets
        )
    }

    /// Which way it goes if its exercise doesn't say: a figure once, up.
    pub const fn usual_direction(self, say: Say) -> Direction {
        if self.says_once(say) {
            Direction::Up
        } else {
            Direction::UpAndDown
        }
    }

    /// What it is, in a sentence for `list`.
    pub const fn about(self) -> &'static str {
        match self {
            ExerciseKind::Scale => {
                "the scale over the whole horn, or one or two octaves, and home again"
            }
            ExerciseKind::Figure => {
                "the figure once from the root, and coming down from the root above"
            }
            ExerciseKind::Sequence => {
                "the figure begun on each scale degree in turn, up, down, or up and down"
            }
            ExerciseKind::Keys => {
                "the figure, or its sequence, moved through the keys on one sheet"
            }
            ExerciseKind::Intervals => {
                "the scale in thirds, fourths … octaves, straight or broken, up, down, or up and down"
            }
            ExerciseKind::Runs => {
                "the scale in runs of three, four or five notes, straight or broken"
            }
            ExerciseKind::Trade => {
                "the sequence with bars of slashes between, to improvise an answer in"
            }
            ExerciseKind::Changes => {
                "the figure and its variants carried through the lesson's changes by the smoothest joins"
            }
            ExerciseKind::GuideTones => {
                "a third or a seventh on each chord of the changes, led as closely as can be"
            }
            ExerciseKind::Targets => {
                "a third or a seventh on each chord of the changes, led up to from beside it"
            }
        }
    }
}

/// What is said in each key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Say {
    /// The figure once.
    #[default]
    Figure,
    /// The figure on each degree in turn.
    Sequence,
}

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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Span {
    OneOctave,
    TwoOctaves,
    WholeHorn,
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

/// A row of labels under the notes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Label {
    /// Scale degrees.
    Degrees,
    /// The count.
    Counts,
    /// The moves in short.
    Moves,
    /// Note names.
    NoteNames,
    /// Movable syllables.
    Solfege,
    /// Which valves are pressed; left out for horns without valves.
    Valves,
    /// Where the slide is; left out for all but trombones.
    Positions,
}

impl Label {
    /// The lesson's words.
    pub const fn words(self) -> &'static str {
        match self {
            Label::Degrees => "degrees",
            Label::Counts => "counts",
            Label::Moves => "moves",
            Label::NoteNames => "note names",
            Label::Solfege => "solfege",
            Label::Valves => "valves",
            Label::Positions => "positions",
        }
    }
}
