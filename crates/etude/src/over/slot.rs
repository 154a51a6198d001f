//! Changes in time: slots, each a chord's time or a part of it.

use std::collections::BTreeSet;

use lesson::{BarTime, ChorusKind, Connect, Exercise, Figure, Lesson, Over, Shift, Weights};
use rhythm::{Fraction, Ticks};

use super::bars::Bars;
use super::connect::Edges;
use super::fitted::{APPROACHES, Fitted};
use super::phrase::{Kind, Role, ends, give_roles, phrase_bars};
use super::span::Span;
use super::way::Way;
use crate::remark::Remark;
use crate::timing::ticks;

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
    /// The chords of all choruses.
    pub spans: Vec<Span>,
    /// What is played, in order; none in bars of rest or of slashes.
    pub slots: Vec<Slot>,
    /// The names of the variants, chorus by chorus.
    pub variants: Vec<Vec<String>>,
    /// The ways slots can be played, and the rungs of an octave there.
    pub ways: Vec<(Vec<Way>, i32)>,
    /// Stretches of slashes.
    pub slashes: Vec<(Ticks, Ticks)>,
    pub bars: Bars,
    pub weights: Weights,
    /// An eighth in ticks.
    pub eighth: Ticks,
    /// Figures and densities of its statements; the first means nothing.
    pub kinds: Vec<Kind>,
    /// How statements begin and end beside their time.
    pub edges: Edges,
    /// Whether statements begin begin on thirds and sevenths only.
    pub guides: bool,
    /// What is to be said of it on every horn.
    pub remarks: Vec<Remark>,
}

/// A time in which one statement is played.
#[derive(Debug)]
pub(crate) struct Slot {
    pub span: usize,
    /// Where its statement's bar line is.
    pub start: Ticks,
    /// The figures as they fit.
    pub fitted: Vec<Fitted>,
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

/// What a statement must begin on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Begins {
    Anywhere,
    OnRoot,
    OffRoot,
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
        self.weights.phrase > 0 || self.weights.high_point > 0 || self.connects() || self.shifts()
    }

    /// Whether something may lead from one statement to the next.
    pub fn connects(&self) -> bool {
        self.over.connect != Connect::None
    }

    /// Whether statements may begin beside their time.
    pub fn shifts(&self) -> bool {
        self.over.shift == Shift::OverTheBar
    }

    /// Lays an exercise over changes out.
    pub fn of(lesson: &Lesson, over: &Over, plays: OnChord, per_quarter: u32) -> OverLine {
        let mut line = OverLine {
            spans: Vec::new(),
            slots: Vec::new(),
            variants: variants(lesson, plays, over),
            ways: Vec::new(),
            slashes: Vec::new(),
            bars: Bars::of(over, per_quarter),
            weights: if plays == OnChord::Figure {
                over.weights
            } else {
                Weights {
                    phrase: 0,
                    high_point: 0,
                    ..over.weights
                }
            },
            eighth: (Ticks::from(per_quarter) / 2).max(1),
            kinds: Vec::new(),
            edges: Edges::default(),
            guides: plays != OnChord::Figure,
            remarks: Vec::new(),
            over: over.clone(),
        };
        if line.guides {
            line.over.connect = Connect::None;
            line.over.shift = Shift::None;
        }
        for chorus in 0..line.over.choruses.len() {
            line.lay_spans(lesson, chorus, per_quarter);
        }
        line.find_names();
        line.tell_lacking(lesson);
        let mut raw = line.lay_slots(lesson, plays, per_quarter);
        if raw.is_empty() {
            line.remarks.push(Remark::EveryBarPlayed);
            line.over.plan.rest = 0;
            raw = line.lay_slots(lesson, plays, per_quarter);
        }
        let per_bars = phrase_bars(&line, &raw);
        let ends = match line.weights.phrase {
            0 => BTreeSet::new(),
            _ => ends(&line, &raw, per_bars),
        };
        line.fit(raw, plays, per_quarter, &ends);
        if line.weights.phrase > 0 {
            give_roles(&mut line, lesson, per_bars);
        }
        line.edges = Edges::of(&line.slots, line.connects() || line.shifts());
        let mut slots = std::mem::take(&mut line.slots);
        for slot in &mut slots {
            slot.ways = line.ways_of(slot);
        }
        line.slots = slots;
        line
    }

    fn lay_spans(&mut self, lesson: &Lesson, chorus: usize, per_quarter: u32) {
        let whole = ticks(self.over.length, per_quarter);
        let zero = whole * chorus as Ticks;
        if self.over.choruses[chorus].kind == ChorusKind::Slashes {
            self.slashes.push((zero, zero + whole));
        }
        for chord in &self.over.chords {
            let at = ticks(chord.at, per_quarter);
            // A pickup comes before the first chorus only.
            if at < 0 && chorus > 0 && at + ticks(chord.length, per_quarter) <= 0 {
                continue;
            }
            let scale = chord.scale.map(|scale| &lesson.scales[scale].scale);
            self.spans.push(Span::of(
                chord,
                scale,
                &self.over.begins,
                chorus + 1,
                zero + if chorus > 0 { at.max(0) } else { at },
                zero + ticks(chord.at + chord.length, per_quarter),
            ));
        }
    }

    /// Tells which scales lack a degree to begin on, each once.
    fn tell_lacking(&mut self, lesson: &Lesson) {
        for span in &self.spans {
            let Some(scale) = span.scale.filter(|_| !span.lacking.is_empty()) else {
                continue;
            };
            let remark = Remark::NoDegreeToBeginOn {
                scale: lesson.scales[scale].scale.name.to_string(),
                degrees: span.lacking.clone(),
            };
            if !self.remarks.contains(&remark) {
                self.remarks.push(remark);
            }
        }
    }

    /// Which chords are the same on the same scale.
    fn find_names(&mut self) {
        for place in 0..self.spans.len() {
            let span = &self.spans[place];
            let same = |other: &Span| {
                let names = |span: &Span| (span.scale, span.symbol.root);
                names(other) == names(span) && other.symbol.chord == span.symbol.chord
            };
            let first = self.spans.iter().position(same);
            self.spans[place].named_as = first.unwrap_or(place);
        }
    }
}

fn variants(lesson: &Lesson, plays: OnChord, over: &Over) -> Vec<Vec<String>> {
    let chosen = || over.choruses.iter().flat_map(|chorus| &chorus.figures);
    let names: BTreeSet<Option<&str>> = chosen()
        .flat_map(|(_, figures)| figures)
        .map(|at| lesson.figures[*at].name.as_deref())
        .collect();
    let name = |at: &usize| {
        let figure = &lesson.figures[*at];
        let said = figure.variant.as_deref().unwrap_or("as it is");
        // Several figures to choose from have names.
        match figure.name.as_deref().filter(|_| names.len() > 1) {
            Some(name) => format!("{name}, {said}"),
            None => said.to_owned(),
        }
    };
    let names = over.choruses.iter().map(|chorus| match plays {
        OnChord::GuideTone => vec!["held".to_owned()],
        OnChord::Target => APPROACHES.map(|(name, _)| name.to_owned()).to_vec(),
        OnChord::Figure => {
            let first = chorus.figures.first();
            let figures = first.map_or(&[][..], |(_, figures)| figures);
            figures.iter().map(name).collect()
        }
    });
    names.collect()
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
            slots.chain([count.span, count.pickup])
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
