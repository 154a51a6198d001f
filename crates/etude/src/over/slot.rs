//! Changes in time: slots, each a chord's time or a part of it, and the
//! figures as they fit in there, trimmed or held.

use lesson::{
    CellTone, ChorusKind, Exercise, ExerciseKind, Figure, Lesson, Over, ScaleRule, Weights,
};
use rhythm::{Fraction, Meter, Ticks};
use theory::{ChordSymbol, Ladder};

use crate::figure::{Cell, CellNote};
use crate::heights::Heights;
use crate::timing::ticks;

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
    /// Stretches of slashes.
    pub slashes: Vec<(Ticks, Ticks)>,
    pub end: Ticks,
    pub weights: Weights,
    /// Whether statements begin on thirds and sevenths only.
    pub guides: bool,
}

/// A chord's time in one of the choruses.
#[derive(Debug)]
pub(crate) struct Span {
    pub at: Ticks,
    pub until: Ticks,
    pub symbol: ChordSymbol,
    /// Its scale among the lesson's.
    pub scale: Option<usize>,
    pub rule: ScaleRule,
    /// Its chorus, from 1.
    pub chorus: usize,
    /// Heights of its scale; of nothing where there is none.
    pub heights: Option<Heights>,
    /// Semitones of its tones above its root.
    pub tones: Vec<i32>,
    /// Those of its third and seventh.
    pub guides: Vec<i32>,
}

/// A time in which one statement is played.
#[derive(Debug)]
pub(crate) struct Slot {
    pub span: usize,
    /// Where its statement's bar line is.
    pub start: Ticks,
    /// The figures as they fit.
    pub fitted: Vec<Fitted>,
    /// What the statement must begin on.
    pub begins: Begins,
}

/// What a statement must begin on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Begins {
    Anywhere,
    OnRoot,
    OffRoot,
}

/// A variant cut to its slot.
#[derive(Debug)]
pub(crate) struct Fitted {
    pub variant: u16,
    /// In ticks from the first bar line.
    pub notes: Vec<FittedNote>,
}

/// A note of it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FittedNote {
    pub onset: Ticks,
    pub length: Ticks,
    pub tone: CellTone,
    /// Whether it falls on a strong beat.
    pub strong: bool,
}

/// A cell with its own length.
struct Timed {
    variant: u16,
    cell: Cell,
    span: Ticks,
}

impl OverLine {
    /// Whether there are several variants to choose from.
    pub fn varies(&self) -> bool {
        self.variants.iter().any(|names| names.len() > 1)
    }

    /// Lays an exercise out; none where it isn't over changes.
    pub fn of(lesson: &Lesson, exercise: &Exercise, per_quarter: u32) -> Option<OverLine> {
        let over = exercise.over.clone()?;
        let mut line = OverLine {
            spans: Vec::new(),
            slots: Vec::new(),
            variants: variants(lesson, exercise, &over),
            slashes: Vec::new(),
            end: ticks(over.length, per_quarter) * over.choruses.len() as Ticks,
            weights: over.weights,
            guides: exercise.kind != ExerciseKind::Changes,
            over,
        };
        for chorus in 0..line.over.choruses.len() {
            line.lay_spans(lesson, chorus, per_quarter);
        }
        let mut raw = Vec::new();
        for span in 0..line.spans.len() {
            line.lay_slots(lesson, exercise, span, per_quarter, &mut raw);
        }
        line.fit(raw, exercise.kind, per_quarter);
        Some(line)
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
            let tones: Vec<i32> = semitones(&chord.symbol, |_| true);
            self.spans.push(Span {
                at: zero + if chorus > 0 { at.max(0) } else { at },
                until: zero + ticks(chord.at + chord.length, per_quarter),
                symbol: chord.symbol.clone(),
                scale: chord.scale,
                rule: chord.rule,
                chorus: chorus + 1,
                heights: chord
                    .scale
                    .map(|scale| Heights::of(&Ladder::new(&lesson.scales[scale].scale))),
                guides: guides(&chord.symbol),
                tones,
            });
        }
    }

    /// The parts of a chord's time, each as long as a statement; a rest that
    /// is shorter than half of one is added to the last.
    fn lay_slots(
        &self,
        lesson: &Lesson,
        exercise: &Exercise,
        place: usize,
        per_quarter: u32,
        raw: &mut Vec<(Slot, Ticks, Vec<Timed>)>,
    ) {
        let span = &self.spans[place];
        let chorus = &self.over.choruses[span.chorus - 1];
        let (Some(scale), true) = (span.scale, chorus.kind != ChorusKind::Slashes) else {
            return;
        };
        let bar = ticks(self.over.meter.bar(), per_quarter).max(1);
        let size = Ladder::new(&lesson.scales[scale].scale).size();
        let cells = || match exercise.kind {
            ExerciseKind::GuideTones => guide_cells(bar, false, per_quarter),
            ExerciseKind::Targets => guide_cells(bar, true, per_quarter),
            _ => figure_cells(&lesson.figures, chorus.on(scale), size, per_quarter),
        };
        let each = cells().first().map_or(bar, |timed| timed.span).max(1);
        let elsewhere = |kind: ChorusKind| self.over.choruses.iter().any(|one| one.kind == kind);
        let mut start = span.at;
        while start < span.until {
            let left = span.until - start;
            let mut length = each.min(left);
            if (left - length) * 2 < each {
                length = left;
            }
            let opens = raw
                .last()
                .is_none_or(|(slot, _, _)| self.spans[slot.span].chorus != span.chorus);
            let begins = match chorus.kind {
                ChorusKind::Elsewhere if opens => Begins::OffRoot,
                ChorusKind::Line if opens && elsewhere(ChorusKind::Elsewhere) => Begins::OnRoot,
                _ => Begins::Anywhere,
            };
            if let Some(until) = self.played(start, start + length, bar) {
                let slot = Slot {
                    span: place,
                    start,
                    fitted: Vec::new(),
                    begins,
                };
                raw.push((slot, until, cells()));
            }
            start += length;
        }
    }

    /// How far a time is played by the rhythm plan; none where it rests.
    fn played(&self, start: Ticks, until: Ticks, bar: Ticks) -> Option<Ticks> {
        let plan = self.over.plan;
        if plan.rest == 0 {
            return Some(until);
        }
        let round = Ticks::from(plan.play + plan.rest);
        let rests = |at: Ticks| at.div_euclid(bar).rem_euclid(round) >= Ticks::from(plan.play);
        if rests(start) {
            return None;
        }
        let mut line = (start.div_euclid(bar) + 1) * bar;
        while line < until && !rests(line) {
            line += bar;
        }
        Some(line.min(until))
    }

    /// Cuts every figure to its slot. What a slot takes of the time before
    /// it, for a pickup or a chord that is taken early, the slot before
    /// leaves it.
    fn fit(&mut self, raw: Vec<(Slot, Ticks, Vec<Timed>)>, kind: ExerciseKind, per_quarter: u32) {
        let eighth = (Ticks::from(per_quarter) / 2).max(1);
        let bar = ticks(self.over.meter.bar(), per_quarter).max(1);
        let strong: Vec<Ticks> = self
            .over
            .meter
            .strong_beats()
            .iter()
            .map(|beat| ticks(*beat, per_quarter))
            .collect();
        let mut leads = Vec::with_capacity(raw.len());
        for (at, (slot, _, cells)) in raw.iter().enumerate() {
            let pickup = cells
                .iter()
                .filter_map(|timed| timed.cell.notes.first())
                .map(|note| -note.onset)
                .max()
                .unwrap_or(0)
                .max(0);
            let early = self.over.anticipate
                && slot.start.rem_euclid(bar) == 0
                && self.spans[slot.span].at == slot.start;
            let before = at.checked_sub(1).map(|before| &raw[before]);
            let room = match before {
                None if kind == ExerciseKind::Changes && slot.start >= 0 => bar,
                None => 0,
                Some((before, until, _)) if *until == slot.start => (until - before.start) - eighth,
                Some((_, until, _)) => slot.start - until,
            };
            let early = if early && before.is_some() { eighth } else { 0 };
            let lead = [pickup.max(early), early, 0]
                .into_iter()
                .find(|lead| *lead <= room)
                .unwrap_or(0);
            leads.push((lead, early.min(lead)));
        }
        let starts: Vec<Ticks> = raw.iter().map(|(slot, _, _)| slot.start).collect();
        for (at, (mut slot, until, cells)) in raw.into_iter().enumerate() {
            let (lead, early) = leads[at];
            let until = match (starts.get(at + 1), leads.get(at + 1)) {
                (Some(start), Some((lead, _))) if *start == until => until - lead,
                _ => until,
            };
            let strong = |onset: Ticks| strong.contains(&onset.rem_euclid(bar));
            slot.fitted = cells
                .iter()
                .filter_map(|timed| timed.fit(slot.start, lead, early, until, strong))
                .collect();
            if !slot.fitted.is_empty() {
                self.slots.push(slot);
            }
        }
    }
}

impl Timed {
    fn fit(
        &self,
        start: Ticks,
        lead: Ticks,
        early: Ticks,
        until: Ticks,
        strong: impl Fn(Ticks) -> bool,
    ) -> Option<Fitted> {
        let mut notes: Vec<FittedNote> = Vec::with_capacity(self.cell.notes.len());
        let mut cut = false;
        for note in &self.cell.notes {
            let by = if note.onset == 0 { early } else { 0 };
            let onset = start + note.onset - by;
            if onset >= until {
                cut = true;
                break;
            }
            if note.onset - by < -lead {
                continue;
            }
            let length = (note.length + by).min(until - onset);
            notes.push(FittedNote {
                onset,
                length,
                tone: note.tone,
                strong: strong(start + note.onset),
            });
        }
        // An ornament whose note is cut off leads nowhere.
        while matches!(notes.last(), Some(note) if !matches!(note.tone, CellTone::Rung(_))) {
            notes.pop();
            cut = true;
        }
        let held = cut || start + self.span < until;
        let last = notes.last_mut()?;
        if held {
            last.length = until - last.onset;
        }
        Some(Fitted {
            variant: self.variant,
            notes,
        })
    }
}

fn figure_cells(figures: &[Figure], allowed: &[usize], size: i32, per_quarter: u32) -> Vec<Timed> {
    let timed = allowed.iter().zip(0..).map(|(at, variant)| {
        let figure = &figures[*at];
        Timed {
            variant,
            cell: Cell::of(figure, size, per_quarter),
            span: ticks(figure.count.span, per_quarter),
        }
    });
    timed.collect()
}

/// The ways into a guide tone, in the order of their names.
const APPROACHES: [(&str, &[CellTone]); 3] = [
    ("from below", &[CellTone::Below]),
    ("from above", &[CellTone::Above]),
    ("enclosed", &[CellTone::Above, CellTone::Below]),
];

/// A note for a bar, plainly or led up to in eighths.
fn guide_cells(bar: Ticks, led: bool, per_quarter: u32) -> Vec<Timed> {
    let eighth = Ticks::from(per_quarter) / 2;
    let ways: &[(&str, &[CellTone])] = if led { &APPROACHES } else { &[("", &[])] };
    let timed = ways.iter().zip(0..).map(|((_, tones), variant)| {
        let count = tones.len() as Ticks;
        let led = tones.iter().zip(0..).map(|(tone, place)| CellNote {
            onset: (place - count) * eighth,
            length: eighth,
            tone: *tone,
        });
        let target = CellNote {
            onset: 0,
            length: bar,
            tone: CellTone::Rung(0),
        };
        Timed {
            variant,
            cell: Cell {
                notes: led.chain([target]).collect(),
            },
            span: bar,
        }
    });
    timed.collect()
}

fn variants(lesson: &Lesson, exercise: &Exercise, over: &Over) -> Vec<Vec<String>> {
    let name = |at: &usize| {
        let said = lesson.figures[*at].variant.clone();
        said.unwrap_or_else(|| "as it is".to_owned())
    };
    let names = over.choruses.iter().map(|chorus| match exercise.kind {
        ExerciseKind::GuideTones => vec!["held".to_owned()],
        ExerciseKind::Targets => APPROACHES.map(|(name, _)| name.to_owned()).to_vec(),
        _ => {
            let first = chorus.figures.first();
            let figures = first.map_or(&[][..], |(_, figures)| figures);
            figures.iter().map(name).collect()
        }
    });
    names.collect()
}

fn semitones(symbol: &ChordSymbol, of: impl Fn(u8) -> bool) -> Vec<i32> {
    let degrees = symbol.chord.degrees().iter();
    degrees
        .filter(|degree| of(degree.number))
        .map(|degree| i32::from(degree.interval().semitones()).rem_euclid(12))
        .collect()
}

/// Third and seventh; the fourth of a suspended chord, the sixth of one
/// without a seventh; the fifth where there is nothing else.
fn guides(symbol: &ChordSymbol) -> Vec<i32> {
    let first = |numbers: &[u8]| {
        numbers
            .iter()
            .map(|number| semitones(symbol, |of| of == *number))
            .find(|found| !found.is_empty())
            .unwrap_or_default()
    };
    [first(&[3, 4, 2, 5]), first(&[7, 6, 5])].concat()
}

/// All times of the changes, for the common ticks.
pub(crate) fn times<'a>(
    figures: &'a [Figure],
    exercises: &'a [Exercise],
) -> impl Iterator<Item = Fraction> + 'a {
    let overs = exercises
        .iter()
        .filter_map(|exercise| exercise.over.as_ref());
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
        let meter: &Meter = &over.meter;
        chords
            .chain(counts)
            .chain([over.length, over.pickup, meter.bar(), meter.unit()])
            .chain(meter.beats())
    })
}
