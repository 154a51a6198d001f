//! Interval and run studies: the scale in thirds, or in runs of three.

use lesson::{Figure, FigureMarks, KindName, Move};
use rhythm::{Count, Fraction, Meter, Slot};

use crate::language::choice::Choices;
use crate::language::choice::names;

/// What each statement of a study is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Study {
    /// Two notes so many steps of the scale apart.
    Steps(i32),
    /// Two notes an octave apart.
    Octaves,
    /// So many notes in steps.
    Run(i32),
}

pub(crate) const INTERVALS: Choices<Study> = &[
    ("thirds", Study::Steps(2)),
    ("fourths", Study::Steps(3)),
    ("fifths", Study::Steps(4)),
    ("sixths", Study::Steps(5)),
    ("sevenths", Study::Steps(6)),
    ("octaves", Study::Octaves),
];

pub(crate) const RUNS: Choices<Study> = &[
    ("three", Study::Run(3)),
    ("four", Study::Run(4)),
    ("five", Study::Run(5)),
];

/// Everything that a study may be of.
pub(crate) fn all() -> Vec<String> {
    [names(INTERVALS), names(RUNS)].concat()
}

/// What a study of a kind may be of; none for other kinds.
pub(crate) fn choices(kind: KindName) -> Option<Choices<Study>> {
    match kind {
        KindName::Intervals => Some(INTERVALS),
        KindName::Runs => Some(RUNS),
        KindName::Scale
        | KindName::Figure
        | KindName::Sequence
        | KindName::Keys
        | KindName::Trade
        | KindName::Changes
        | KindName::GuideTones
        | KindName::Targets => None,
    }
}

impl Study {
    /// Its statement as a figure: even eighths, across bar lines where they
    /// fall.
    pub(crate) fn figure(self, meter: Meter) -> Figure {
        let (moves, notes) = match self {
            Study::Steps(steps) => (vec![Move::Rungs(steps)], 2),
            Study::Octaves => (vec![Move::Octaves(1)], 2),
            Study::Run(notes) => (vec![Move::Rungs(1); notes as usize - 1], i64::from(notes)),
        };
        let eighth = Fraction::new(1, 2);
        let slots = (0..notes).map(|span| Slot {
            onset: eighth * span,
            length: eighth,
            silent: false,
        });
        let count = Count {
            slots: slots.collect(),
            pickup: Fraction::ZERO,
            length: eighth * notes,
            closes_with_rest: false,
            counting: rhythm::Counting::default(),
        };
        Figure {
            name: None,
            meter,
            count,
            moves: [vec![Move::Start { rungs: 0 }], moves].concat(),
            literal: None,
            flipped: None,
            unflipped: Vec::new(),
            variant: None,
            variant_heading: None,
            moves_said: self.word().to_owned(),
            marks: FigureMarks::default(),
        }
    }

    fn word(self) -> &'static str {
        let mut words = INTERVALS.iter().chain(RUNS);
        words
            .find(|(_, study)| *study == self)
            .map_or("", |(word, _)| word)
    }
}
