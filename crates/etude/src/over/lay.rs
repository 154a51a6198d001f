//! The times of statements: each chord's time parted as long as a statement is,
//! as the rhythm plan has it.

use lesson::{ChorusKind, Lesson};
use rhythm::Ticks;
use theory::Ladder;

use super::fitted_figure::{TimedFigure, figure_cells, guide_cells};
use super::role::Role;
use super::slot::{OnChord, OverLine, StatementSlot};
use super::way::Begins;

/// A slot, until when it is played, and the figures that are to be cut to it.
pub(crate) type Raw = (StatementSlot, Ticks, Vec<TimedFigure>);

impl OverLine {
    /// The parts of all chords' times.
    pub(crate) fn lay_slots(&self, lesson: &Lesson, plays: OnChord, per_quarter: u32) -> Vec<Raw> {
        let mut raw = Vec::new();
        for span in 0..self.spans.len() {
            self.part(lesson, plays, span, per_quarter, &mut raw);
        }
        raw
    }

    /// The parts of a chord's time, each as long as a statement; a rest that
    /// is shorter than half of one is added to the last.
    fn part(
        &self,
        lesson: &Lesson,
        plays: OnChord,
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
        let cells = |bar| match plays {
            OnChord::GuideTone => guide_cells(bar, false, per_quarter),
            OnChord::Target => guide_cells(bar, true, per_quarter),
            OnChord::Figure => figure_cells(&lesson.figures, chorus.on(scale), size, per_quarter),
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
                let slot = StatementSlot {
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
    fn each(&self, timed: Option<&TimedFigure>, bar: Ticks) -> Ticks {
        let usual = self.bars.length(0);
        let each = match timed {
            Some(timed) if timed.length % usual == 0 => timed.length / usual * bar,
            Some(timed) => timed.length,
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
}
