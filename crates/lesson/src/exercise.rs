//! What is on a sheet.

use theory::{Chord, Level};

use crate::{Breath, Dynamic, ExerciseKind, Keys, Tempo, WordsOver};

/// One exercise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Exercise {
    /// What it plays, and how.
    pub kind: ExerciseKind,
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
    /// What of it is given, where the student writes out the rest.
    pub given: Option<Given>,
    /// What of it is left for the student to fill in.
    pub hide: Option<Hide>,
}

impl Exercise {
    /// Whether its sheet leaves something for the student to write.
    pub fn asks(&self) -> bool {
        self.given.is_some() || self.hide.is_some()
    }
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
