//! The forms in which a fitted figure may be played in its slot: as it is,
//! an eighth beside its time, or ended early on a held note; and how each
//! leaves room for what comes before the next statement.

use rhythm::Ticks;

use super::fitted_figure::FittedFigure;
use crate::bars::Bars;
use lesson::CellTone;

/// A slot's time, and what lies around it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Frame {
    /// Where its time begins, that for a pickup with it.
    pub from: Ticks,
    pub until: Ticks,
    /// Where the next statement's time begins; none where none follows, or only
    /// after slashes.
    pub next: Option<Ticks>,
    /// Whether something may come before its time.
    pub may_come_early: bool,
    pub eighth: Ticks,
    /// How long a note is that rests.
    pub rest: Ticks,
    /// Whether it ends a phrase.
    pub ends: bool,
    /// Whether there are places beside the time, and whether there are
    /// connections.
    pub shifts: bool,
    pub connects: bool,
}

/// Longest time, in eighths, that is told apart before or after a statement.
const MOST: Ticks = 4;

impl Frame {
    /// Every form of a figure that is cut to the slot.
    pub fn forms(&self, plain: FittedFigure, bars: &Bars) -> Vec<FittedFigure> {
        let early = self.early(&plain, bars);
        let late = self.late(&plain, bars);
        let held = self.held(&plain);
        let mut forms: Vec<FittedFigure> = [Some(plain), early, late, held]
            .into_iter()
            .flatten()
            .collect();
        for form in &mut forms {
            self.measure(form);
        }
        forms
    }

    /// An eighth before its time; a note on the bar line is held over it.
    fn early(&self, plain: &FittedFigure, bars: &Bars) -> Option<FittedFigure> {
        if !self.shifts || !self.may_come_early {
            return None;
        }
        let mut form = plain.clone();
        for note in &mut form.notes {
            note.onset -= self.eighth;
        }
        let last = form.notes.last_mut()?;
        // What is held to the end of its time still is.
        if last.onset + last.length + self.eighth >= self.until {
            last.length = self.until - last.onset;
        }
        form.shift = -1;
        crosses(&form, bars).then_some(form)
    }

    /// An eighth after its time; the last note rings over the bar line.
    fn late(&self, plain: &FittedFigure, bars: &Bars) -> Option<FittedFigure> {
        if !self.shifts {
            return None;
        }
        let mut form = plain.clone();
        for note in &mut form.notes {
            note.onset += self.eighth;
        }
        let rings = self.next.is_some() && bars.is_line(self.until);
        let end = if rings {
            self.until + self.eighth
        } else {
            self.until
        };
        let last = form.notes.last_mut()?;
        if last.onset >= self.until {
            return None;
        }
        last.length = last.length.min(end - last.onset);
        form.shift = 1;
        crosses(&form, bars).then_some(form)
    }

    /// The first notes, the last of them held long enough to rest.
    fn held(&self, plain: &FittedFigure) -> Option<FittedFigure> {
        if !self.ends || self.rests(plain) {
            return None;
        }
        let long = |at: &usize| self.until - plain.notes[*at].onset >= self.rest(plain);
        let is_rung = |at: &usize| matches!(plain.notes[*at].tone, CellTone::Rung(_));
        let last = (0..plain.notes.len()).rev().filter(is_rung).find(long)?;
        let mut form = plain.clone();
        form.notes.truncate(last + 1);
        form.notes[last].length = self.until - form.notes[last].onset;
        Some(form)
    }

    /// How long the last note is that rests: where there is no more time, all
    /// there is.
    fn rest(&self, fitted: &FittedFigure) -> Ticks {
        let first = fitted
            .notes
            .iter()
            .find(|note| matches!(note.tone, CellTone::Rung(_)));
        let most = first.map_or(0, |first| self.until - first.onset);
        self.rest.min(most)
    }

    fn rests(&self, fitted: &FittedFigure) -> bool {
        let last = fitted.notes.last();
        last.is_some_and(|last| last.length >= self.rest(fitted))
    }

    fn measure(&self, form: &mut FittedFigure) {
        form.rests = self.rests(form);
        if !self.shifts && !self.connects {
            return;
        }
        let (Some(first), Some(last)) = (form.notes.first(), form.notes.last()) else {
            return;
        };
        let end = last.onset + last.length;
        let half = (last.length + 1) / 2;
        let mut keeps = half.max(self.eighth.min(last.length));
        if self.ends && form.rests {
            keeps = keeps.max(self.rest(form).min(last.length));
        }
        let rings_over = end > self.until;
        let least_end = if rings_over { end } else { last.onset + keeps };
        let eighths = |time: Ticks| time.div_euclid(self.eighth).clamp(-1, MOST) as i8;
        // What leads to a statement sounds right before it, not before slashes.
        form.room = self.next.map_or(0, |next| eighths(next - least_end));
        form.begins = eighths(first.onset - self.from);
        form.leads = matches!(first.tone, CellTone::Rung(_));
        form.rings_over = rings_over;
    }
}

/// Whether a note is tied over a bar line.
fn crosses(form: &FittedFigure, bars: &Bars) -> bool {
    let over = |onset: Ticks, length: Ticks| bars.next(onset) < onset + length;
    form.notes.iter().any(|note| over(note.onset, note.length))
}
