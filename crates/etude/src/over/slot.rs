//! Changes in time: slots, each a chord's time or a part of it.

use lesson::{BarTime, Connect, Exercise, Figure, Over, Phrasing, Shift};
use rhythm::{Fraction, Ticks};

use super::chord_span::ChordSpan;
use super::edges::Edges;
use super::fitted_figure::FittedFigure;
use super::role::{Role, StatementKind};
use super::way::{Begins, Way};
use crate::bars::Bars;
use crate::remark::Remark;

/// What is played on each chord.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum OnChord {
    /// The figure and its variants.
    Figure,
    /// A third or a seventh, held.
    GuideTone,
    /// A third or a seventh, led up to.
    Target,
}

/// An exercise over changes before any horn or key is thought of.
#[derive(Debug)]
pub(crate) struct OverLine {
    pub over: Over,
    /// How its statements are phrased; nothing is wished of guide tones.
    pub phrasing: Phrasing,
    /// The chords of all choruses.
    pub spans: Vec<ChordSpan>,
    /// What is played, in order; none in bars of rest or of slashes.
    pub slots: Vec<StatementSlot>,
    /// The names of the variants, chorus by chorus.
    pub variants: Vec<Vec<String>>,
    /// The ways slots can be played, and the rungs of an octave there.
    pub ways: Vec<(Vec<Way>, i32)>,
    /// Stretches of slashes.
    pub slashes: Vec<(Ticks, Ticks)>,
    pub bars: Bars,
    /// An eighth in ticks.
    pub eighth: Ticks,
    /// Figures and densities of its statements; the first means nothing.
    pub kinds: Vec<StatementKind>,
    /// How statements begin and end beside their time.
    pub edges: Edges,
    /// Whether statements begin on thirds and sevenths only.
    pub guides: bool,
    /// What is to be said of it on every horn.
    pub remarks: Vec<Remark>,
}

/// A time in which one statement is played.
#[derive(Debug)]
pub(crate) struct StatementSlot {
    pub span: usize,
    /// Where its statement's bar line is.
    pub start: Ticks,
    /// The figures as they fit.
    pub fitted: Vec<FittedFigure>,
    /// The ways they can be begun, among the line's.
    pub ways: usize,
    /// What the statement must begin on.
    pub begins: Begins,
    /// What it is in its phrase.
    pub role: Role,
    /// The chord's time that what leads up to it sounds in.
    pub before: usize,
    /// Where its time ends.
    pub until: Ticks,
}

impl OverLine {
    /// Whether there are several variants to choose from.
    pub fn varies(&self) -> bool {
        self.variants.iter().any(|names| names.len() > 1)
    }

    /// Whether it is chosen by more than its joins: as a phrase, with a high
    /// point, connected or shifted. Then no join may leap over an octave where
    /// that can be helped.
    pub fn is_etude(&self) -> bool {
        let weights = self.phrasing.weights;
        weights.phrase > 0 || weights.high_point > 0 || self.connects() || self.shifts()
    }

    /// Whether something may lead from one statement to the next.
    pub fn connects(&self) -> bool {
        self.phrasing.connect != Connect::None
    }

    /// Whether statements may begin beside their time.
    pub fn shifts(&self) -> bool {
        self.phrasing.shift == Shift::OverTheBar
    }
}

/// All times of the changes, for the common ticks.
pub(crate) fn times<'a>(
    figures: &'a [Figure],
    exercises: &'a [Exercise],
) -> impl Iterator<Item = Fraction> + 'a {
    let overs = exercises.iter().filter_map(|exercise| exercise.kind.over());
    overs.flat_map(|over| {
        let chords = over
            .chords
            .iter()
            .flat_map(|chord| [chord.at, chord.length]);
        let used = over.choruses.iter().flat_map(|chorus| &chorus.figures);
        let counts = used.flat_map(|(_, figures)| figures).flat_map(|at| {
            let count = &figures[*at].count;
            let slots = count
                .slots
                .iter()
                .flat_map(|slot| [slot.onset, slot.length]);
            slots.chain([count.length, count.pickup])
        });
        let bars = over.bars.iter().flat_map(|BarTime { at, meter, .. }| {
            let lengths = [*at, meter.bar(), meter.unit()];
            lengths.into_iter().chain(meter.beats())
        });
        chords
            .chain(counts)
            .chain([over.length, over.pickup])
            .chain(bars)
    })
}
