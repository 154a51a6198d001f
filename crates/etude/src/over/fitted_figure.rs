//! Figures as they fit into their slots, trimmed or held.

use lesson::{CellTone, Figure};
use rhythm::Ticks;

use crate::compose::figure::{Cell, CellNote};
use crate::ticks::ticks;

/// A variant cut to its slot.
#[derive(Debug, Clone, Default)]
pub(crate) struct FittedFigure {
    pub variant: u16,
    /// In ticks from the first bar line.
    pub notes: Vec<FittedNote>,
    /// Eighths that it is shifted.
    pub shift: i8,
    /// Whether its last note is long enough to rest on.
    pub rests: bool,
    /// Eighths from where its time begins to its first note, and from where
    /// its last note may end to where the next statement's time begins; −1
    /// where it comes before, or rings into, another's time.
    pub begins: i8,
    pub room: i8,
    /// Whether its first note can be approached.
    pub leads: bool,
    /// Whether its last note rings over into the next bar.
    pub rings_over: bool,
    /// Its figure and its density, by their place among the line's kinds.
    pub kind: u16,
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
pub(crate) struct TimedFigure {
    pub variant: u16,
    pub cell: Cell,
    pub length: Ticks,
}

impl TimedFigure {
    /// What it takes of the time before its bar line.
    pub fn lead(&self) -> Ticks {
        let first = self.cell.notes.first().map_or(0, |note| -note.onset);
        first.max(0)
    }

    /// The figure in a time that ends, from so much before its bar line on, of
    /// which so much because its chord is taken early; none where nothing of it
    /// is left.
    pub fn fit(
        &self,
        start: Ticks,
        (lead, early): (Ticks, Ticks),
        until: Ticks,
        strong: impl Fn(Ticks) -> bool,
    ) -> Option<FittedFigure> {
        let mut notes: Vec<FittedNote> = Vec::with_capacity(self.cell.notes.len());
        let mut cut = false;
        for note in &self.cell.notes {
            let by = if note.onset <= 0 { early } else { 0 };
            let onset = start + note.onset - by;
            if onset >= until {
                cut = true;
                break;
            }
            if note.onset - by < -lead {
                continue;
            }
            // All that comes early moves; the note on the bar line is held over it.
            let held = if note.onset + note.length > 0 { by } else { 0 };
            let length = (note.length + held).min(until - onset);
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
        let held = cut || start + self.length < until;
        let last = notes.last_mut()?;
        if held {
            last.length = until - last.onset;
        }
        Some(FittedFigure {
            variant: self.variant,
            notes,
            ..FittedFigure::default()
        })
    }
}

pub(crate) fn figure_cells(
    figures: &[Figure],
    allowed: &[usize],
    size: i32,
    per_quarter: u32,
) -> Vec<TimedFigure> {
    let timed = allowed.iter().zip(0..).map(|(at, variant)| {
        let figure = &figures[*at];
        TimedFigure {
            variant,
            cell: Cell::of(figure, size, per_quarter),
            length: ticks(figure.count.length, per_quarter),
        }
    });
    timed.collect()
}

/// The ways into a guide tone, in the order of their names; the last two are
/// taken only where there is no time for another, and in turn, since nothing
/// is chosen there that could stand too often in a row.
pub(crate) const APPROACHES: [(&str, &[CellTone]); 5] = [
    ("from below", &[CellTone::Below]),
    ("from above", &[CellTone::Above]),
    ("enclosed", &[CellTone::Above, CellTone::Below]),
    ("not led up to", &[]),
    ("not led up to", &[]),
];

/// Of the ways into a guide tone those that take so much time or less from
/// what is before; where that is none, the guide tone of a slot alone.
pub(crate) fn in_time(cells: Vec<TimedFigure>, room: Ticks, slot: usize) -> Vec<TimedFigure> {
    let led = |timed: &TimedFigure| timed.lead() > 0;
    let (fitting, alone): (Vec<TimedFigure>, Vec<TimedFigure>) = cells
        .into_iter()
        .filter(|timed| timed.lead() <= room)
        .partition(led);
    if fitting.is_empty() {
        let mine = |(_, place): &(TimedFigure, usize)| place % 2 == slot % 2;
        let alone = alone.into_iter().zip(0..).filter(mine);
        return alone.map(|(timed, _)| timed).collect();
    }
    fitting
}

/// A note for a bar, plainly or led up to in eighths.
pub(crate) fn guide_cells(bar: Ticks, led: bool, per_quarter: u32) -> Vec<TimedFigure> {
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
        TimedFigure {
            variant,
            cell: Cell {
                notes: led.chain([target]).collect(),
            },
            length: bar,
        }
    });
    timed.collect()
}
