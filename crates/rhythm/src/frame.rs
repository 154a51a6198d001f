//! A meter laid out in fine ticks, and which values let its beats be seen.

use crate::{Meter, MeterKind, Ticks, ValueKind};

/// A stretch of time in a bar, in fine ticks from its bar line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Stretch {
    pub from: Ticks,
    pub to: Ticks,
}

impl Stretch {
    pub fn length(self) -> Ticks {
        self.to - self.from
    }

    fn less(self, by: Ticks) -> Stretch {
        Stretch {
            from: self.from - by,
            to: self.to - by,
        }
    }
}

/// A bar of a meter. Fine ticks are as many to a tick as make the meter's
/// unit a multiple of 64, so that halves of halves stay whole.
#[derive(Debug, Clone)]
pub(crate) struct Frame {
    pub kind: MeterKind,
    /// Fine ticks to a tick.
    pub fine: Ticks,
    /// The unit the lower number names.
    pub unit: Ticks,
    pub quarter: Ticks,
    pub bar: Ticks,
    /// Where groups begin, and the bar's end.
    pub groups: Vec<Ticks>,
    /// Whether the unit is an eighth or shorter.
    pub short_unit: bool,
}

impl Frame {
    pub fn of(meter: &Meter, per_quarter: u32) -> Frame {
        let lower = Ticks::from(meter.lower());
        let fine = 16 * lower;
        let unit = 64 * Ticks::from(per_quarter);
        let mut groups = vec![0];
        for group in meter.groups() {
            let end = groups.last().copied().unwrap_or(0) + unit * Ticks::from(*group);
            groups.push(end);
        }
        Frame {
            kind: meter.kind(),
            fine,
            unit,
            quarter: fine * Ticks::from(per_quarter),
            bar: unit * Ticks::from(meter.upper()),
            groups,
            short_unit: lower >= 8,
        }
    }

    /// The group a place lies in.
    pub fn group(&self, at: Ticks) -> Stretch {
        let after = self
            .groups
            .partition_point(|start| *start <= at)
            .clamp(1, self.groups.len() - 1);
        Stretch {
            from: self.groups[after - 1],
            to: self.groups[after],
        }
    }

    /// The middle of a bar of four beats, which shows before all else.
    pub fn middle(&self) -> Option<Ticks> {
        (self.kind != MeterKind::Odd && self.group_count() == 4).then_some(self.bar / 2)
    }

    fn group_count(&self) -> usize {
        self.groups.len() - 1
    }

    /// The plain or dotted value of a length, if it has one.
    pub fn value(&self, length: Ticks) -> Option<(ValueKind, u8)> {
        let plain = |length: Ticks| {
            let kinds = [
                ValueKind::SixtyFourth,
                ValueKind::ThirtySecond,
                ValueKind::Sixteenth,
                ValueKind::Eighth,
                ValueKind::Quarter,
                ValueKind::Half,
                ValueKind::Whole,
                ValueKind::Breve,
            ];
            (0i64..)
                .zip(kinds)
                .find(|(power, _)| length * 16 == self.quarter << power)
                .map(|(_, kind)| kind)
        };
        let dotted = || {
            if length % 3 == 0 {
                plain(length / 3 * 2)
            } else {
                None
            }
        };
        plain(length)
            .map(|kind| (kind, 0))
            .or_else(|| dotted().map(|kind| (kind, 1)))
    }

    /// Whether a note may stand there as one value: rule 7.
    pub fn shows_beats(&self, note: Stretch) -> bool {
        if self.value(note.length()).is_none() {
            return false;
        }
        let beat = self.unit;
        match (self.kind, self.group_count()) {
            (MeterKind::Simple, 4) => {
                let middle = 2 * beat;
                if note.from < middle && note.to > middle {
                    // Quarter–half–quarter, or a longer value on a beat.
                    let on_a_beat = note.from % beat == 0;
                    return on_a_beat
                        && (note.length() >= 3 * beat
                            || (note.length() == 2 * beat && note.from == beat));
                }
                let half = note.from / middle * middle;
                in_cell(note.less(half), middle)
            }
            (MeterKind::Simple, 2) => in_cell(note, 2 * beat),
            (MeterKind::Simple, 1) => in_cell(note, beat),
            (MeterKind::Simple, _) => in_units(note, beat),
            (MeterKind::Compound | MeterKind::Odd, _) => {
                let group = self.group(note.from);
                if note.to <= group.to {
                    return in_units(note.less(group.from), beat);
                }
                self.spans_groups(note)
            }
        }
    }

    /// Whether a rest may stand there as one value: the beat is completed
    /// first, a half rest is only on 1 or 3, dots only rest a whole group.
    pub fn rests(&self, rest: Stretch) -> bool {
        let length = rest.length();
        if self.value(length).is_none() {
            return false;
        }
        let unit = self.unit;
        if self.kind == MeterKind::Simple {
            let half = self.group_count() == 4 && length == 2 * unit && rest.from % (2 * unit) == 0;
            return half || is_cell(rest, unit);
        }
        let group = self.group(rest.from);
        let within = rest.less(group.from);
        let compound = self.kind == MeterKind::Compound;
        let whole = (compound || self.short_unit) && rest == group;
        let two = length == 2 * unit && within.from % (2 * unit) == 0 && rest.to <= group.to;
        let half_bar = compound
            && self.group_count() == 4
            && length * 2 == self.bar
            && rest.from % length == 0;
        whole || two || half_bar || is_cell(rest, unit)
    }

    /// Whole groups under one value: any in a compound bar, but for the
    /// middle of four; in odd meters only the whole bar.
    fn spans_groups(&self, note: Stretch) -> bool {
        if note.length() == self.bar {
            return true;
        }
        let whole = self.groups.contains(&note.from) && self.groups.contains(&note.to);
        let middle = self.bar / 2;
        let hides_middle = self.group_count() == 4 && note.from < middle && note.to > middle;
        self.kind == MeterKind::Compound && whole && !hides_middle
    }
}

/// Whether a note of one value may stand within a group of units: from a unit
/// on, or across one of them off the beat.
pub(crate) fn in_units(note: Stretch, unit: Ticks) -> bool {
    in_cell(note.less(note.from - note.from % unit), 2 * unit)
}

/// Whether a rest of one value fills half of a half … of a unit, or the unit.
pub(crate) fn is_cell(rest: Stretch, unit: Ticks) -> bool {
    unit % rest.length() == 0 && rest.from % rest.length() == 0
}

/// Whether a note of one value that begins in a cell of two halves shows them:
/// from the start on, inside one half, short–long–short over the middle, or
/// three quarters of the cell to its end.
fn in_cell(note: Stretch, cell: Ticks) -> bool {
    if note.from == 0 {
        return true;
    }
    let half = cell / 2;
    if half == 0 {
        return false;
    }
    if note.to <= half {
        return in_cell(note, half);
    }
    if note.from >= half {
        return in_cell(note.less(half), half);
    }
    4 * note.from == cell && (2 * note.length() == cell || 4 * note.length() == 3 * cell)
}
