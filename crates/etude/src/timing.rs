//! When each note of an exercise sounds, and how that is written in bars.
//! Keys and horns share it: it depends only on how many statements there are.

use lesson::{Exercise, ExerciseKind, Figure};
use rhythm::{BarPieces, BeamStyle, Event, Fraction, Meter, Ticks, notate};

use crate::compose::{Extent, FigureLine, Line};
use crate::figure::Cell;

/// The time of an exercise of a certain extent.
#[derive(Debug)]
pub(crate) struct Timing {
    /// Its notes in order.
    pub events: Vec<Event>,
    /// The statement each note belongs to.
    pub statements: Vec<u16>,
    /// The first note of each key's passage; one, where a sheet stays in its
    /// key.
    pub passages: Vec<usize>,
    /// Where statements' bar lines are (a pickup comes before its own), in
    /// ticks from the first.
    pub starts: Vec<Ticks>,
    /// Its bars.
    pub bars: Vec<BarPieces>,
}

impl Timing {
    /// Lays an exercise out in time, its passages one after another.
    pub fn of(line: &Line, extents: &[Extent], per_quarter: u32, style: BeamStyle) -> Timing {
        let mut timing = Timing {
            events: Vec::new(),
            statements: Vec::new(),
            passages: Vec::new(),
            starts: Vec::new(),
            bars: Vec::new(),
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
        timing.bars = notate(meter, per_quarter, &timing.events, until, style);
        timing
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
        for statement in 0..count {
            let cell = if statement < extent.ups {
                &line.rising
            } else {
                &line.falling
            };
            self.lay_cell(
                cell,
                zero + Ticks::from(statement) * span,
                number + statement,
            );
        }
        let end =
            zero + ticks(line.ends_at, per_quarter) + Ticks::from(count.saturating_sub(1)) * span;
        if pickup > 0
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
        let close = (least + bar - 1).div_euclid(bar) * bar;
        self.push(end, close - follows - end, number + count);
        self.starts.push(end);
        close
    }

    fn lay_cell(&mut self, cell: &Cell, zero: Ticks, statement: u16) {
        self.starts.push(zero);
        for note in &cell.notes {
            self.push(zero + note.onset, note.length, statement);
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
            self.push(onset, length, 0);
        }
        self.events
            .last()
            .map_or(0, |event| event.onset + event.length)
    }

    fn push(&mut self, onset: Ticks, length: Ticks, statement: u16) {
        self.events.push(Event { onset, length });
        self.statements.push(statement);
    }
}

/// A time in quarters as ticks.
pub(crate) fn ticks(time: Fraction, per_quarter: u32) -> Ticks {
    (time * i64::from(per_quarter)).to_integer()
}

/// Ticks as a time in quarters.
pub(crate) fn quarters(time: Ticks, per_quarter: u32) -> Fraction {
    Fraction::new(time, i64::from(per_quarter))
}

/// All times of a lesson's figures, for the common ticks.
pub(crate) fn times<'a>(
    figures: &'a [Figure],
    exercises: &'a [Exercise],
) -> impl Iterator<Item = Fraction> + 'a {
    let used = exercises
        .iter()
        .filter_map(|exercise| exercise.figure.map(|at| (exercise.kind, &figures[at])));
    let counts = used.flat_map(|(kind, figure)| {
        let slots = if kind == ExerciseKind::Scale {
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
