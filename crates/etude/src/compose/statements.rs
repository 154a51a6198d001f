//! When the notes of statements and scales sound: how long the last ones last,
//! where answers are improvised, and where a chord stands over them (where an
//! answer begins, it stands again).

use rhythm::{Event, Fraction, Meter, Ticks};
use theory::ChordSymbol;

use crate::bars::Bars;
use crate::compose::course::Extent;
use crate::compose::figure::Cell;
use crate::compose::line::{FigureLine, Line};
use crate::compose::timed_line::{TimedLine, TimedNote};
use crate::ticks::{ticks, up_to};

/// A line of passages of certain extents in time, one after another, and its
/// bars.
pub(crate) fn timed(line: &Line, extents: &[Extent], per_quarter: u32) -> (TimedLine, Bars) {
    let mut layout = Layout {
        line: TimedLine::default(),
        bars: Bars::of_meter(line.meter(), per_quarter),
        phrase: line.literal().map_or(&[][..], |phrase| &phrase.chords),
        per_quarter,
    };
    let end = match line {
        Line::Figures(figures) => layout.lay_passages(figures, extents),
        Line::Scale(_) => {
            layout.begin_key();
            let extent = extents.first().copied().unwrap_or_default();
            layout.lay_scale(line.meter(), extent)
        }
    };
    (layout.line, layout.bars.ending_at(end))
}

/// A line as it is laid out.
struct Layout<'a> {
    line: TimedLine,
    bars: Bars,
    /// The chords of a literal phrase; none where a passage has one at most.
    phrase: &'a [(Ticks, ChordSymbol)],
    per_quarter: u32,
}

/// A passage among others.
struct PassagePlace {
    /// Where its first statement's bar line is.
    zero: Ticks,
    /// The number of its first statement.
    number: u16,
    /// Whether no pickup follows it.
    last: bool,
}

impl Layout<'_> {
    fn begin_key(&mut self) {
        self.line.passages.push(self.line.notes.len());
        self.line.keys.push(self.line.chords.len());
    }

    /// Passages, each beginning where the one before is done, or on the bar
    /// line after its closing root. Gives their end.
    fn lay_passages(&mut self, line: &FigureLine, extents: &[Extent]) -> Ticks {
        let (mut zero, mut number, mut until) = (0, 0, 0);
        for (place, extent) in extents.iter().enumerate() {
            let last = place + 1 == extents.len();
            self.begin_key();
            let passage = PassagePlace { zero, number, last };
            until = self.lay_statements(line, *extent, passage);
            let count = extent.ups + extent.downs;
            number += count + u16::from(line.closes);
            zero = if line.closes {
                until
            } else {
                zero + Ticks::from(count) * self.ticks(line.length)
            };
        }
        until
    }

    /// The statements of a passage and its closing root. Gives its end.
    fn lay_statements(
        &mut self,
        line: &FigureLine,
        extent: Extent,
        PassagePlace { zero, number, last }: PassagePlace,
    ) -> Ticks {
        let length = self.ticks(line.length);
        let bar = self.ticks(line.meter.bar());
        let pickup = self.ticks(line.pickup);
        let count = extent.ups + extent.downs;
        let mut answered = 0;
        for statement in 0..count {
            let from = zero + Ticks::from(statement) * length + answered;
            // Nobody breathes within a slur into the next statement.
            let may_breathe = line.marks.slur_to_next.is_none();
            // Whatever the figure becomes coming down, it keeps its count.
            self.lay_cell(&line.rising, from, number + statement, may_breathe);
            let ends = statement + 1 == count;
            if let Some(trade) = line.trade
                && (ends || (statement + 1) % trade.statements.max(1) == 0)
            {
                let answer = Ticks::from(trade.bars) * bar;
                let begins = up_to(from + length, bar);
                let next = if ends { 0 } else { pickup };
                self.lay_answer(begins - pickup, begins + answer - next);
                answered += answer;
            }
        }
        let statements = Ticks::from(count.saturating_sub(1)) * length;
        let end = match line.trade {
            Some(_) => up_to(zero + statements + length, bar) + answered,
            None => zero + self.ticks(line.ends_at) + statements,
        };
        if pickup > 0
            && !line.closes_with_rest
            && line.trade.is_none()
            && (last || line.closes)
            && let Some(TimedNote { event: note, .. }) = self.line.notes.last_mut()
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
        self.line.starts.push(end);
        close
    }

    fn lay_cell(&mut self, cell: &Cell, zero: Ticks, statement: u16, may_breathe: bool) {
        self.line.starts.push(zero);
        let opens = self.line.passages.last() == Some(&self.line.notes.len());
        let first = cell.notes.first().filter(|_| opens);
        self.lay_chords(zero, first.map(|note| zero + note.onset));
        for (note, number) in cell.notes.iter().zip(1..) {
            self.push(zero + note.onset, note.length, (statement, number));
        }
        let last = self.line.notes.len().checked_sub(1);
        self.line.chances.extend(last.filter(|_| may_breathe));
    }

    /// An answer in slashes.
    fn lay_answer(&mut self, from: Ticks, until: Ticks) {
        let slashes = self.bars.counted_beats(from, until);
        let begins = slashes.first().map(|slash| slash.onset);
        self.line.chords.extend(begins);
        self.line.slashes.extend(slashes);
    }

    /// Even eighths; the top note waits until the final root can fall on a
    /// strong beat, and that root fills its bar. Gives its end.
    fn lay_scale(&mut self, meter: &Meter, extent: Extent) -> Ticks {
        let eighth = Ticks::from(self.per_quarter) / 2;
        let bar = self.ticks(meter.bar());
        let notes = Ticks::from(extent.ups) + Ticks::from(extent.downs);
        let last = notes - 1;
        let strong = meter.strong_beats().into_iter();
        let reached = last * eighth;
        let within = reached.rem_euclid(bar);
        let wait = strong
            .map(|beat| self.ticks(beat))
            .find(|beat| *beat >= within)
            .map_or(bar - within, |beat| beat - within);
        // Going only up, the top is the final root: the note before it waits.
        let waits = if extent.downs == 0 {
            last - 1
        } else {
            Ticks::from(extent.ups) - 1
        };
        self.line.starts.push(0);
        self.lay_chords(0, Some(0));
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
            self.line.chances.extend(usize::try_from(waits).ok());
        }
        let last = self.line.notes.last();
        last.map_or(0, |note| note.event.onset + note.event.length)
    }

    /// The chords over a statement: those of a literal phrase at their own
    /// times; else one, where a passage opens.
    fn lay_chords(&mut self, zero: Ticks, opens: Option<Ticks>) {
        if self.phrase.is_empty() {
            self.line.chords.extend(opens);
        } else {
            let chords = self.phrase.iter().map(|(at, _)| zero + at);
            self.line.chords.extend(chords);
        }
    }

    fn ticks(&self, time: Fraction) -> Ticks {
        ticks(time, self.per_quarter)
    }

    fn push(&mut self, onset: Ticks, length: Ticks, (statement, number): (u16, u16)) {
        self.line.notes.push(TimedNote {
            event: Event { onset, length },
            statement,
            number,
        });
    }
}
