//! The click: General MIDI's wood blocks on the beats of the meter that the
//! take asks for. The bar line is accented; odd meters also say their units,
//! softly between their groups.

use rhythm::{Fraction, Meter, MeterKind};

use crate::band::bar_style;
use crate::form::{Count, Passage};
use crate::grid::Grid;
use crate::{Click, Strike, Take};

/// General MIDI Level 1 percussion key map: Hi Wood Block, Low Wood Block.
pub(crate) const HIGH: u8 = 76;
pub(crate) const LOW: u8 = 77;

const BAR: (u8, u8) = (HIGH, 112);
const BEAT: (u8, u8) = (LOW, 96);
const UNIT: (u8, u8) = (LOW, 64);

/// Clicks the bars before a sheet: of two or more all but the last by their
/// strong beats, as a band is counted in (common practice).
pub(crate) fn count(count: &Count<'_>, strikes: &mut Vec<Strike>) {
    let sheet = &count.timeline.sheet;
    let Some(meter) = sheet.bars.first().and_then(|bar| bar.meter) else {
        return;
    };
    let pattern = pattern(meter, count.timeline.grid);
    let grid = count.timeline.grid;
    let strong: Vec<u64> = [Fraction::from_integer(0)]
        .into_iter()
        .chain(meter.strong_beats())
        .map(|beat| grid.quarters(beat))
        .collect();
    let bars = (0..count.length).step_by(count.bar.max(1) as usize);
    for at in bars {
        let begins = count.begins + at;
        let until = count.begins + count.length;
        let clicks = pattern.iter();
        let last = at + count.bar >= count.length;
        let clicks = clicks.filter(|click| last || strong.contains(&click.within));
        strikes.extend(clicks.filter_map(|click| click.at(begins + click.within, until)));
    }
}

/// Clicks a passage's beats.
pub(crate) fn passage(passage: &Passage<'_>, take: &Take, strikes: &mut Vec<Strike>) {
    let Passage {
        timeline, from, to, ..
    } = *passage;
    let sheet = &timeline.sheet;
    let mut known: Option<(&Meter, Vec<Stroke>)> = None;
    let bars = sheet.bars.iter().enumerate();
    for (place, bar) in bars.filter(|(_, bar)| bar.start < to && bar.end() > from) {
        // the bar that a pickup sounds over is clicked already
        if place == 0 && passage.over > 0 {
            continue;
        }
        let drums = take.tracks.drums && bar_style(sheet, place, take).has_drums();
        let usual = if drums { Click::None } else { Click::AllBeats };
        let wanted = take.click.unwrap_or(usual);
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
        let clicks = pattern
            .iter()
            .filter(|click| click.is_in(wanted, meter, timeline.grid));
        let clicks = clicks.filter_map(|click| {
            let at = heard + click.within.checked_sub(skipped)?;
            click.at(at, end)
        });
        strikes.extend(clicks);
    }
}

/// A click of a bar.
#[derive(Debug, Clone, Copy)]
struct Stroke {
    /// Ticks from the bar line.
    within: u64,
    /// Ticks.
    length: u64,
    key: u8,
    velocity: u8,
}

impl Stroke {
    /// Whether it is among those wanted.
    fn is_in(&self, wanted: Click, meter: &Meter, grid: Grid) -> bool {
        let quarter = u64::from(grid.per_quarter());
        match wanted {
            Click::TwoAndFour if (meter.upper(), meter.lower()) == (4, 4) => {
                self.within == quarter || self.within == 3 * quarter
            }
            Click::AllBeats | Click::TwoAndFour => true,
            Click::BeatOne => self.within == 0,
            Click::None => false,
        }
    }

    /// It sounding at a tick of the track, if that is before `until`.
    fn at(&self, at: u64, until: u64) -> Option<Strike> {
        Strike::of(at, until.min(at + self.length), self.key, self.velocity)
    }
}

/// The clicks of a whole bar. Each lasts half a unit of the meter at most.
fn pattern(meter: &Meter, grid: Grid) -> Vec<Stroke> {
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
        Stroke {
            within: grid.quarters(at),
            length,
            key,
            velocity,
        }
    };
    units.into_iter().map(click).collect()
}
