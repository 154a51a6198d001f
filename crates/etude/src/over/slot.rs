//! Changes in time: slots, each a chord's time or a part of it.

use std::collections::BTreeSet;

use lesson::{
    BarTime, ChorusKind, Connect, Exercise, ExerciseKind, Figure, Lesson, Over, Shift, Weights,
};
use rhythm::{Fraction, Ticks};
use theory::Ladder;

use super::bars::Bars;
use super::connect::Edges;
use super::fitted::{APPROACHES, Fitted, Timed, figure_cells, guide_cells, in_time};
use super::form::Frame;
use super::phrase::{Kind, Role, give_roles, phrases};
use super::span::Span;
use super::way::{Way, ways};
use crate::remark::Remark;
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

/// A slot, until when it is played, and the figures that are to be cut to it.
type Raw = (Slot, Ticks, Vec<Timed>);

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

    /// Lays an exercise out; none where it isn't over changes.
    pub fn of(lesson: &Lesson, exercise: &Exercise, per_quarter: u32) -> Option<OverLine> {
        let over = exercise.over.clone()?;
        let mut line = OverLine {
            spans: Vec::new(),
            slots: Vec::new(),
            variants: variants(lesson, exercise, &over),
            ways: Vec::new(),
            slashes: Vec::new(),
            bars: Bars::of(&over, per_quarter),
            weights: if exercise.kind == ExerciseKind::Changes {
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
            guides: exercise.kind != ExerciseKind::Changes,
            remarks: Vec::new(),
            over,
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
        let mut raw = line.lay_slots(lesson, exercise, per_quarter);
        if raw.is_empty() {
            line.remarks.push(Remark::EveryBarPlayed);
            line.over.plan.rest = 0;
            raw = line.lay_slots(lesson, exercise, per_quarter);
        }
        let per_bars = line.phrase_bars(&raw);
        let ends = match line.weights.phrase {
            0 => BTreeSet::new(),
            _ => ends(&line, &raw, per_bars),
        };
        line.fit(raw, exercise.kind, per_quarter, &ends);
        if line.weights.phrase > 0 {
            give_roles(&mut line, lesson, per_bars);
        }
        line.edges = Edges::of(&line.slots, line.connects() || line.shifts());
        let mut slots = std::mem::take(&mut line.slots);
        for slot in &mut slots {
            slot.ways = line.ways_of(slot);
        }
        line.slots = slots;
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

    /// The parts of all chords' times.
    fn lay_slots(&self, lesson: &Lesson, exercise: &Exercise, per_quarter: u32) -> Vec<Raw> {
        let mut raw = Vec::new();
        for span in 0..self.spans.len() {
            self.part(lesson, exercise, span, per_quarter, &mut raw);
        }
        raw
    }

    /// The parts of a chord's time, each as long as a statement; a rest that
    /// is shorter than half of one is added to the last.
    fn part(
        &self,
        lesson: &Lesson,
        exercise: &Exercise,
        place: usize,
        per_quarter: u32,
        raw: &mut Vec<Raw>,
    ) {
        let span = &self.spans[place];
        let chorus = &self.over.choruses[span.chorus - 1];
        let (Some(scale), true) = (span.scale, chorus.kind != ChorusKind::Slashes) else {
            return;
        };
        let size = Ladder::new(&lesson.scales[scale].scale).size();
        let cells = |bar| match exercise.kind {
            ExerciseKind::GuideTones => guide_cells(bar, false, per_quarter),
            ExerciseKind::Targets => guide_cells(bar, true, per_quarter),
            _ => figure_cells(&lesson.figures, chorus.on(scale), size, per_quarter),
        };
        let elsewhere = |kind: ChorusKind| self.over.choruses.iter().any(|one| one.kind == kind);
        let mut start = span.at;
        while start < span.until {
            let bar = self.bars.length(start);
            let cells = cells(bar);
            let each = self.each(cells.first(), bar);
            let meter_until = self.bars.next_meter(start).unwrap_or(span.until);
            let left = span.until.min(meter_until) - start;
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
            if let Some(until) = self.played(start, start + length) {
                let slot = Slot {
                    span: place,
                    start,
                    fitted: Vec::new(),
                    ways: 0,
                    begins,
                    role: Role::default(),
                    before: place,
                    until,
                };
                raw.push((slot, until, cells));
            }
            start += length;
        }
    }

    /// How long a statement is where bars are so long: as many bars as in the
    /// first meter, or its own time.
    fn each(&self, timed: Option<&Timed>, bar: Ticks) -> Ticks {
        let usual = self.bars.length(0);
        let each = match timed {
            Some(timed) if timed.span % usual == 0 => timed.span / usual * bar,
            Some(timed) => timed.span,
            None => bar,
        };
        each.max(1)
    }

    /// How far a time is played by the rhythm plan; none where it rests.
    fn played(&self, start: Ticks, until: Ticks) -> Option<Ticks> {
        let plan = self.over.plan;
        if plan.rest == 0 {
            return Some(until);
        }
        let round = i64::from(plan.play + plan.rest);
        let rests = |at| self.bars.number(at).rem_euclid(round) >= i64::from(plan.play);
        if rests(start) {
            return None;
        }
        let mut line = self.bars.next(start);
        while line < until && !rests(line) {
            line = self.bars.next(line);
        }
        Some(line.min(until))
    }

    /// Cuts every figure to its slot. What a slot takes of the time before
    /// it, for a pickup or a chord that is taken early, the slot before
    /// leaves it.
    fn fit(
        &mut self,
        mut raw: Vec<Raw>,
        kind: ExerciseKind,
        per_quarter: u32,
        ends: &BTreeSet<Ticks>,
    ) {
        let eighth = (Ticks::from(per_quarter) / 2).max(1);
        let mut leads = Vec::with_capacity(raw.len());
        let mut bare = 0;
        for at in 0..raw.len() {
            let (slot, _, _) = &raw[at];
            let early = self.over.anticipate
                && self.bars.is_line(slot.start)
                && self.spans[slot.span].at == slot.start;
            let before = at.checked_sub(1).map(|before| &raw[before]);
            let room = match before {
                None if kind == ExerciseKind::Changes && slot.start >= 0 => {
                    self.bars.length(slot.start)
                }
                None => 0,
                Some((before, until, _)) if *until == slot.start => (until - before.start) - eighth,
                Some((_, until, _)) => slot.start - until,
            };
            let early = if early && before.is_some() { eighth } else { 0 };
            if kind == ExerciseKind::Targets {
                let cells = std::mem::take(&mut raw[at].2);
                // Better led up to than early.
                let room = if room - early < eighth {
                    room
                } else {
                    room - early
                };
                raw[at].2 = in_time(cells, room, at);
                bare += u16::from(at > 0 && room < eighth);
            }
            let pickup = raw[at].2.iter().map(Timed::lead).max().unwrap_or(0);
            let lead = [(pickup + early, early), (pickup, 0), (early, early)]
                .into_iter()
                .find(|(lead, _)| *lead <= room);
            leads.push(lead.unwrap_or((0, 0)));
        }
        if bare > 0 {
            self.remarks.push(Remark::NotLedUpTo(bare));
        }
        for ((slot, _, _), (lead, _)) in raw.iter().zip(&leads) {
            let from = slot.start - lead;
            let mut slashes = self.slashes.iter_mut();
            if let Some((_, until)) = slashes.find(|(at, until)| (*at..*until).contains(&from)) {
                // A slash is a whole beat or nothing.
                *until = self.bars.counted_beat(from);
            }
        }
        let begins: Vec<Ticks> = raw
            .iter()
            .zip(&leads)
            .map(|((slot, _, _), (lead, _))| slot.start - lead)
            .collect();
        let slashed = |from: Ticks, until: Ticks| {
            let slashes = self.slashes.iter();
            slashes
                .into_iter()
                .any(|(begin, end)| *begin < until && *end > from)
        };
        let mut slots = Vec::with_capacity(raw.len());
        let mut before = 0;
        for (at, (mut slot, until, cells)) in raw.into_iter().enumerate() {
            let (lead, early) = leads[at];
            let from = begins[at];
            let next = begins.get(at + 1).copied();
            let until = next.map_or(until, |next| until.min(next));
            let next = next.filter(|next| !slashed(until, *next));
            let frame = Frame {
                from,
                until,
                next: next.unwrap_or(until),
                may_come_early: at > 0 && !slashed(before, from),
                may_ring_over: next.is_some(),
                eighth,
                rest: self.bars.length(until - 1) / 2,
                ends: ends.contains(&slot.start),
                shifts: self.shifts(),
                connects: self.connects(),
            };
            let strong = |onset| self.bars.is_strong(onset);
            slot.fitted = cells
                .iter()
                .filter_map(|timed| timed.fit(slot.start, lead, early, until, strong))
                .flat_map(|plain| frame.forms(plain, &self.bars))
                .collect();
            let sounding = |span: &Span| (span.at..span.until).contains(&(from - 1));
            slot.before = self.spans.iter().position(sounding).unwrap_or(slot.span);
            slot.until = until;
            before = until;
            if !slot.fitted.is_empty() {
                slots.push(slot);
            }
        }
        self.slots = slots;
    }

    /// The tones of the chord that sounds after a slot, above its own root,
    /// where that is on a strong beat.
    fn rung_into(&self, slot: &Slot, span: &Span) -> Vec<i32> {
        if !self.shifts() || !self.bars.is_strong(slot.until) {
            return Vec::new();
        }
        let sounding = |next: &&Span| (next.at..next.until).contains(&slot.until);
        let Some(next) = self.spans.iter().find(sounding) else {
            return Vec::new();
        };
        let class = |span: &Span| i32::from(span.symbol.root.class());
        let up = class(next) - class(span);
        let tones = next.tones.iter();
        tones.map(|tone| (tone + up).rem_euclid(12)).collect()
    }

    /// How many bars a phrase has: eight where statements take two and more.
    fn phrase_bars(&self, raw: &[Raw]) -> usize {
        let first = raw.first();
        let spans = first.map_or(&[][..], |(_, _, cells)| cells).iter();
        let shortest = spans.map(|timed| timed.span).min().unwrap_or(0);
        if shortest >= 2 * self.bars.length(0) {
            8
        } else {
            4
        }
    }

    /// The place of a slot's ways among the line's.
    fn ways_of(&mut self, slot: &Slot) -> usize {
        let span = &self.spans[slot.span];
        let found = match &span.heights {
            Some(heights) => {
                let into = self.rung_into(slot, span);
                (ways(&slot.fitted, heights, span, &into), heights.size())
            }
            None => (Vec::new(), 1),
        };
        let known = self.ways.iter().position(|one| *one == found);
        known.unwrap_or_else(|| {
            self.ways.push(found);
            self.ways.len() - 1
        })
    }
}

/// Where the last statements of phrases begin.
fn ends(line: &OverLine, raw: &[Raw], per_bars: usize) -> BTreeSet<Ticks> {
    let starts: Vec<Ticks> = raw.iter().map(|(slot, _, _)| slot.start).collect();
    let phrases = phrases(line, per_bars).into_iter();
    phrases
        .filter_map(|(from, until)| {
            let within = starts.partition_point(|start| *start < until);
            let last = within.checked_sub(1).map(|last| starts[last]);
            last.filter(|last| *last >= from)
        })
        .collect()
}

fn variants(lesson: &Lesson, exercise: &Exercise, over: &Over) -> Vec<Vec<String>> {
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
