//! The click: General MIDI's wood blocks on the beats of the meter. The bar
//! line is accented; odd meters also say their units, softly between their
//! groups.

use rhythm::{Fraction, Meter, MeterKind};

use crate::Strike;
use crate::form::{Count, Passage};
use crate::grid::Grid;
use crate::perform::strike;

/// General MIDI Level 1 percussion key map: Hi Wood Block, Low Wood Block.
pub(crate) const HIGH: u8 = 76;
const LOW: u8 = 77;

const BAR: (u8, u8) = (HIGH, 112);
const BEAT: (u8, u8) = (LOW, 96);
const UNIT: (u8, u8) = (LOW, 64);

/// Clicks the bars before a sheet.
pub(crate) fn count(count: &Count<'_>, strikes: &mut Vec<Strike>) {
    let sheet = &count.timeline.sheet;
    let Some(meter) = sheet.bars.first().and_then(|bar| bar.meter) else {
        return;
    };
    let pattern = pattern(meter, count.timeline.grid);
    let bars = (0..count.length).step_by(count.bar.max(1) as usize);
    for at in bars {
        let begins = count.begins + at;
        let until = count.begins + count.length;
        let clicks = pattern.iter();
        strikes.extend(clicks.filter_map(|click| click.at(begins + click.within, until)));
    }
}

/// Clicks a passage's beats.
pub(crate) fn passage(passage: &Passage<'_>, strikes: &mut Vec<Strike>) {
    let Passage {
        timeline, from, to, ..
    } = *passage;
    let sheet = &timeline.sheet;
    let mut known: Option<(&Meter, Vec<Click>)> = None;
    for bar in sheet
        .bars
        .iter()
        .filter(|bar| bar.start < to && bar.end() > from)
    {
        let Some(meter) = bar.meter else { continue };
        if known.as_ref().is_none_or(|(one, _)| *one != meter) {
            known = Some((meter, pattern(meter, timeline.grid)));
        }
        let Some((_, pattern)) = &known else { continue };
        // a pickup's beats are those of the end of its bar
        let missing = timeline
            .grid
            .ticks(bar.missing(sheet.divisions), sheet.divisions);
        let (heard, end) = (
            passage.straight(bar.start.max(from)),
            passage.straight(bar.end().min(to)),
        );
        let skipped =
            missing + timeline.straight(from.max(bar.start)) - timeline.straight(bar.start);
        let clicks = pattern.iter().filter_map(|click| {
            let at = heard + click.within.checked_sub(skipped)?;
            click.at(at, end)
        });
        strikes.extend(clicks);
    }
}

/// A click of a bar.
#[derive(Debug, Clone, Copy)]
struct Click {
    /// Ticks from the bar line.
    within: u64,
    /// Ticks.
    length: u64,
    key: u8,
    velocity: u8,
}

impl Click {
    /// It sounding at a tick of the track, if that is before `until`.
    fn at(&self, at: u64, until: u64) -> Option<Strike> {
        strike(at, until.min(at + self.length), self.key, self.velocity)
    }
}

/// The clicks of a whole bar. Each lasts half a unit of the meter at most.
fn pattern(meter: &Meter, grid: Grid) -> Vec<Click> {
    let beats = meter.beats();
    let units = match meter.kind() {
        MeterKind::Odd => (0..meter.upper())
            .map(|unit| meter.unit() * i64::from(unit))
            .collect(),
        MeterKind::Simple | MeterKind::Compound => beats.clone(),
    };
    let length = (grid.quarters(meter.unit()) / 2).clamp(1, u64::from(grid.per_quarter()) / 8);
    let click = |at: Fraction| {
        let (key, velocity) = if at == Fraction::from_integer(0) {
            BAR
        } else if beats.contains(&at) {
            BEAT
        } else {
            UNIT
        };
        Click {
            within: grid.quarters(at),
            length,
            key,
            velocity,
        }
    };
    units.into_iter().map(click).collect()
}
