//! When each note of an exercise sounds, and how that is written in bars.
//! Keys and horns share it: it depends only on how many statements there are.

use lesson::{Breath, Exercise, Figure, KindName, Label};
use rhythm::{
    BarPieces, BeamStyle, CountWord, Event, Fraction, Meter, PieceKind, Ticks, count_word, notate,
};

use crate::compose::breaks;
use crate::compose::breath::{self, Breathing};
use crate::compose::course::Extent;
use crate::compose::figure::Cell;
use crate::compose::line::{FigureLine, Line};
use crate::print::Print;
use crate::ticks::{counted, quarters, ticks, up_to};

mod timed_line;

pub(crate) use timed_line::{TimedLine, silences};

/// The time of an exercise of a certain extent.
#[derive(Debug)]
pub(crate) struct Timing {
    /// Its notes in order.
    pub events: Vec<Event>,
    /// The statement each note belongs to.
    pub statements: Vec<u16>,
    /// The number of each note in its statement, from 1; 0 for one that is
    /// none of the figure's.
    pub numbers: Vec<u16>,
    /// The notes after which a breath mark stands.
    pub breaths: Vec<usize>,
    /// The notes after which a breath may be taken.
    chances: Vec<usize>,
    /// Beats to improvise on, in order, and whether a chord parts them.
    slashes: Vec<(Event, bool)>,
    /// What the events of the bars are.
    pub sounds: Vec<Sound>,
    /// The first note of each key's passage; one, where a sheet stays in its
    /// key.
    pub passages: Vec<usize>,
    /// Where statements' bar lines are (a pickup comes before its own), in
    /// ticks from the first.
    pub starts: Vec<Ticks>,
    /// Its bars.
    pub bars: Vec<BarPieces>,
    /// Whether a system begins with each bar.
    pub systems: Vec<bool>,
    /// How each note is counted aloud, where that stands under it.
    pub counts: Vec<Option<CountWord>>,
}

/// An event of a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sound {
    /// A note of the line, by its place among the events.
    Note(usize),
    /// A silent beat that a chord stands over.
    Silence,
    /// A beat to improvise on, or a part of one where a chord parts it, after
    /// a note; the first of an answer or not.
    Slash {
        after: usize,
        first: bool,
        parted: bool,
    },
}

impl Timing {
    /// Lays an exercise out in time, its passages one after another.
    pub fn of(
        line: &Line,
        extents: &[Extent],
        per_quarter: u32,
        style: BeamStyle,
        breathing: Breathing,
    ) -> Timing {
        let mut timing = Timing {
            events: Vec::new(),
            statements: Vec::new(),
            numbers: Vec::new(),
            breaths: Vec::new(),
            chances: Vec::new(),
            slashes: Vec::new(),
            sounds: Vec::new(),
            passages: Vec::new(),
            starts: Vec::new(),
            bars: Vec::new(),
            systems: Vec::new(),
            counts: Vec::new(),
        };
        let meter = line.meter();
        let until = match line {
            Line::Figures(figures) => timing.lay_passages(figures, extents, per_quarter),
            Line::Scale(_) => {
                timing.passages.push(0);
                let extent = extents.first().copied().unwrap_or_default();
                timing.lay_scale(meter, extent, per_quarter)
            }
        };
        timing.breathe(breathing, per_quarter);
        let events = timing.sound();
        let chords = timing.chord_times(line);
        if chords.is_empty() {
            timing.bars = notate(meter, per_quarter, &events, until, style);
        } else {
            timing.write_under(&chords, meter, per_quarter, (events, until), style);
        }
        timing
    }

    /// When the chords of a literal phrase come, statement after statement.
    fn chord_times(&self, line: &Line) -> Vec<Ticks> {
        let chords = line.literal().map_or(&[][..], |phrase| &phrase.chords);
        let times = self
            .starts
            .iter()
            .flat_map(|start| chords.iter().map(move |(at, _)| start + at));
        times.collect()
    }

    /// With what its sheets print of it.
    pub fn printed(mut self, print: Print) -> Timing {
        self.systems = breaks::systems(&self.bars, &self.starts, print);
        if print.rows.contains(&Label::Counts) {
            self.counts = self.counted(print);
        }
        self
    }

    fn counted(&self, print: Print) -> Vec<Option<CountWord>> {
        let mut counts = vec![None; self.events.len()];
        for bar in &self.bars {
            let meter = print.meter(bar);
            // A pickup is counted as the end of a whole bar.
            let line = if bar.start < 0 {
                -ticks(meter.bar(), print.per_quarter)
            } else {
                bar.start
            };
            for piece in &bar.pieces {
                if let PieceKind::Note {
                    event,
                    tied_from: false,
                    ..
                } = piece.kind
                    && let Sound::Note(note) = self.sounds[event]
                {
                    let at = quarters(self.events[note].onset - line, print.per_quarter);
                    counts[note] = count_word(meter, at, print.counting);
                }
            }
        }
        counts
    }

    fn breathe(&mut self, breathing: Breathing, per_quarter: u32) {
        if breathing.how == Breath::None {
            return;
        }
        for at in breath::places(&self.events, &self.chances, breathing.lasts) {
            let rests = breathing.how == Breath::Rest
                && breath::give_rest(&mut self.events[at], per_quarter);
            if !rests {
                self.breaths.push(at);
            }
        }
    }

    /// Notes and slashes as they come.
    fn sound(&mut self) -> Vec<Event> {
        let mut slashes = self.slashes.iter().peekable();
        let mut events = Vec::with_capacity(self.events.len() + self.slashes.len());
        for (at, note) in self.events.iter().enumerate() {
            let mut slash_before = |time: Ticks, first| {
                let (slash, parted) = slashes.next_if(|(slash, _)| slash.onset < time)?;
                let parted = *parted;
                let sound = Sound::Slash {
                    after: at,
                    first,
                    parted,
                };
                Some((*slash, sound))
            };
            let mut push = |(event, sound)| {
                events.push(event);
                self.sounds.push(sound);
            };
            // Where slashes begin a line, the first note speaks for them.
            while let Some(slash) = slash_before(note.onset, false) {
                push(slash);
            }
            push((*note, Sound::Note(at)));
            let next = self.events.get(at + 1);
            let next = next.map_or(Ticks::MAX, |next| next.onset);
            let mut first = true;
            while let Some(slash) = slash_before(next, first) {
                push(slash);
                first = false;
            }
        }
        events
    }

    /// Passages, each beginning where the one before is done, or on the bar
    /// line after its closing root.
    fn lay_passages(&mut self, line: &FigureLine, extents: &[Extent], per_quarter: u32) -> Ticks {
        let (mut zero, mut number, mut until) = (0, 0, 0);
        for (place, extent) in extents.iter().enumerate() {
            let last = place + 1 == extents.len();
            self.passages.push(self.events.len());
            until = self.lay_statements(line, *extent, (zero, number), last, per_quarter);
            let count = extent.ups + extent.downs;
            number += count + u16::from(line.closes);
            zero = if line.closes {
                until
            } else {
                zero + Ticks::from(count) * ticks(line.span, per_quarter)
            };
        }
        until
    }

    /// The statements of a passage from a bar line on, numbered from a number;
    /// after the last passage no pickup follows. Gives its end.
    fn lay_statements(
        &mut self,
        line: &FigureLine,
        extent: Extent,
        (zero, number): (Ticks, u16),
        last: bool,
        per_quarter: u32,
    ) -> Ticks {
        let span = ticks(line.span, per_quarter);
        let bar = ticks(line.meter.bar(), per_quarter);
        let pickup = ticks(line.pickup, per_quarter);
        let count = extent.ups + extent.downs;
        let mut answered = 0;
        for statement in 0..count {
            let cell = if statement < extent.ups {
                &line.rising
            } else {
                &line.falling
            };
            let from = zero + Ticks::from(statement) * span + answered;
            // Nobody breathes within a slur into the next statement.
            let may_breathe = line.marks.slur_to_next.is_none();
            self.lay_cell(cell, from, number + statement, may_breathe);
            if let Some(trade) = line.trade
                && (statement + 1 == count || (statement + 1) % trade.statements.max(1) == 0)
            {
                let length = Ticks::from(trade.bars) * bar;
                let begins = up_to(from + span, bar);
                let until = if statement + 1 == count {
                    begins + length
                } else {
                    begins + length - pickup
                };
                self.lay_slashes(&line.meter, 0, (begins - pickup, until), per_quarter);
                answered += length;
            }
        }
        let statements = Ticks::from(count.saturating_sub(1)) * span;
        let end = match line.trade {
            Some(_) => up_to(zero + statements + span, bar) + answered,
            None => zero + ticks(line.ends_at, per_quarter) + statements,
        };
        if pickup > 0
            && !line.closes_with_rest
            && line.trade.is_none()
            && (last || line.closes)
            && let Some(note) = self.events.last_mut()
            && note.onset + note.length == end - pickup
        {
            // Nothing follows the last statement's pickup-to-be: its note
            // fills the bar.
            note.length = end - note.onset;
        }
        if !line.closes {
            return end;
        }
        // Half a bar, rounded up to a tick, before what follows; then up to
        // the bar line.
        let follows = if last { 0 } else { pickup };
        let least = end + bar - bar / 2 + follows;
        let close = up_to(least, bar);
        self.push(end, close - follows - end, (number + count, 0));
        self.starts.push(end);
        close
    }

    fn lay_cell(&mut self, cell: &Cell, zero: Ticks, statement: u16, may_breathe: bool) {
        self.starts.push(zero);
        for (note, number) in cell.notes.iter().zip(1..) {
            self.push(zero + note.onset, note.length, (statement, number));
        }
        let last = self.events.len().checked_sub(1);
        self.chances.extend(last.filter(|_| may_breathe));
    }

    /// A slash on each whole counted beat of a stretch, bars beginning from a
    /// bar line on.
    fn lay_slashes(
        &mut self,
        meter: &Meter,
        line: Ticks,
        (from, until): (Ticks, Ticks),
        per_quarter: u32,
    ) {
        let bar = ticks(meter.bar(), per_quarter);
        let beats: Vec<Ticks> = counted(meter)
            .iter()
            .map(|beat| ticks(*beat, per_quarter))
            .collect();
        let ends = beats.iter().skip(1).copied().chain([bar]);
        let within: Vec<(Ticks, Ticks)> = beats.iter().copied().zip(ends).collect();
        let mut zero = line + (from - line).div_euclid(bar.max(1)) * bar;
        while zero < until && bar > 0 {
            let beats = within.iter().map(|(begin, end)| (zero + begin, zero + end));
            let whole = beats.filter(|(begin, end)| *begin >= from && *end <= until);
            self.slashes.extend(whole.map(|(onset, end)| {
                let length = end - onset;
                (Event { onset, length }, false)
            }));
            zero += bar;
        }
    }

    /// Even eighths; the top note waits until the final root can fall on a
    /// strong beat, and that root fills its bar.
    fn lay_scale(&mut self, meter: &Meter, extent: Extent, per_quarter: u32) -> Ticks {
        let eighth = Ticks::from(per_quarter) / 2;
        let bar = ticks(meter.bar(), per_quarter);
        let notes = Ticks::from(extent.ups) + Ticks::from(extent.downs);
        let last = notes - 1;
        let strong: Vec<Ticks> = meter
            .strong_beats()
            .iter()
            .map(|beat| ticks(*beat, per_quarter))
            .collect();
        let reached = last * eighth;
        let within = reached.rem_euclid(bar);
        let wait = strong
            .iter()
            .find(|beat| **beat >= within)
            .map_or(bar - within, |beat| beat - within);
        // Going only up, the top is the final root: the note before it waits.
        let waits = if extent.downs == 0 {
            last - 1
        } else {
            Ticks::from(extent.ups) - 1
        };
        self.starts.push(0);
        for place in 0..notes {
            let onset = place * eighth + if place > waits { wait } else { 0 };
            let length = if place == last {
                bar - onset.rem_euclid(bar)
            } else {
                eighth + if place == waits { wait } else { 0 }
            };
            self.push(onset, length, (0, 0));
        }
        if extent.downs > 0 {
            self.chances.extend(usize::try_from(waits).ok());
        }
        self.events
            .last()
            .map_or(0, |event| event.onset + event.length)
    }

    fn push(&mut self, onset: Ticks, length: Ticks, (statement, number): (u16, u16)) {
        self.events.push(Event { onset, length });
        self.statements.push(statement);
        self.numbers.push(number);
    }
}

/// All times of a lesson's figures, for the common ticks.
pub(crate) fn times<'a>(
    figures: &'a [Figure],
    exercises: &'a [Exercise],
) -> impl Iterator<Item = Fraction> + 'a {
    let used = exercises.iter().filter_map(|exercise| {
        let figure = &figures[exercise.kind.figure()?];
        Some((exercise.kind.name(), figure))
    });
    let counts = used.flat_map(|(kind, figure)| {
        let slots = if kind == KindName::Scale {
            &[][..]
        } else {
            &figure.count.slots
        };
        let inside = slots.iter().flat_map(|slot| [slot.onset, slot.length]);
        let frame = [figure.meter.bar(), figure.count.span, figure.count.pickup];
        inside.chain(frame).chain(figure.meter.beats())
    });
    counts.chain([Fraction::new(1, 2)])
}
