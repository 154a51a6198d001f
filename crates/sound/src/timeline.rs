//! A sheet in a track's ticks, swung where it swings.
//!
//! A pair of swing eighths fills a quarter, counted from the bar line, in
//! meters of quarters or halves that aren't compound (common practice: swing
//! eighths divide the quarter). Whatever begins or ends on such a quarter's
//! half — a note, a tie's end, a syncopation, a chord — moves to the swung
//! place, and nothing else moves. A quarter in which something begins or ends
//! elsewhere, or which a tuplet touches, is played as written: triplets and
//! sixteenths stay where they are.

use std::collections::{BTreeMap, BTreeSet};

use rhythm::{Fraction, MeterKind};

use crate::Swing;
use crate::grid::Grid;
use crate::sheet::{Bar, Sheet};

/// A sheet in a track's ticks.
#[derive(Debug)]
pub(crate) struct Timeline<'a> {
    pub sheet: Sheet<'a>,
    pub grid: Grid,
    /// The sheet's times that swing, and the track's ticks they move to.
    swung: BTreeMap<u64, u64>,
}

/// Into how many parts swing divides a sheet's quarters.
pub(crate) fn swing_parts(sheet: &Sheet<'_>, swing: Swing) -> impl Iterator<Item = u64> {
    let swinging = sheet.bars.iter().filter(|bar| bar.swings);
    swinging.map(move |bar| swing.at(bar.tempo.quarters_per_minute()).parts())
}

impl<'a> Timeline<'a> {
    pub(crate) fn of(sheet: Sheet<'a>, grid: Grid, swing: Swing) -> Timeline<'a> {
        let swung = offbeats(&sheet)
            .into_iter()
            .filter_map(|at| {
                let ratio = swing.at(sheet.bar_at(at)?.tempo.quarters_per_minute());
                let quarter = u64::from(grid.per_quarter());
                let long = grid.quarters(Fraction::new(ratio.long().into(), ratio.parts() as i64));
                // a pickup's offbeat may lie before the half of its quarter
                let straight = grid.ticks(at, sheet.divisions);
                Some((at, (straight + long).saturating_sub(quarter / 2)))
            })
            .collect();
        Timeline { sheet, grid, swung }
    }

    /// Where a time of the sheet lies as written.
    pub(crate) fn straight(&self, at: u64) -> u64 {
        self.grid.ticks(at, self.sheet.divisions)
    }

    /// Where a time of the sheet is played.
    pub(crate) fn played(&self, at: u64) -> u64 {
        let swung = self.swung.get(&at).copied();
        swung.unwrap_or_else(|| self.straight(at))
    }
}

/// A quarter of a bar, from 0, and the bar's place.
type Quarter = (usize, u64);

/// The sheet's times that swing.
fn offbeats(sheet: &Sheet<'_>) -> Vec<u64> {
    if !sheet.divisions.is_multiple_of(2) {
        return Vec::new();
    }
    let tones = sheet.tones.iter().flat_map(|tone| [tone.start, tone.end]);
    let events = tones.chain(sheet.changes.iter().map(|change| change.at));
    let mut halves: BTreeMap<u64, Quarter> = BTreeMap::new();
    let mut uneven: BTreeSet<Quarter> = BTreeSet::new();
    for at in events {
        match quarter_at(sheet, at) {
            Some((_, 0)) | None => {}
            Some((quarter, rest)) if 2 * rest == sheet.divisions => {
                halves.insert(at, quarter);
            }
            Some((quarter, _)) => {
                uneven.insert(quarter);
            }
        }
    }
    for (from, to) in &sheet.tuplets {
        let mut at = *from;
        while at < *to {
            let rest = quarter_at(sheet, at).map(|(quarter, rest)| {
                uneven.insert(quarter);
                rest
            });
            at += sheet.divisions - rest.unwrap_or(0);
        }
    }
    halves.retain(|_, quarter| !uneven.contains(quarter));
    halves.into_keys().collect()
}

/// The quarter a time lies in, and how far in; none where eighths don't
/// swing, nor in a quarter that a bar's end cuts short.
fn quarter_at(sheet: &Sheet<'_>, at: u64) -> Option<(Quarter, u64)> {
    let place = sheet
        .bars
        .partition_point(|bar| bar.start <= at)
        .checked_sub(1)?;
    let bar = sheet
        .bars
        .get(place)
        .filter(|bar| at < bar.end() && swings(bar))?;
    let within = at - bar.start + bar.missing(sheet.divisions);
    let (quarter, rest) = (within / sheet.divisions, within % sheet.divisions);
    let end = at + sheet.divisions - rest;
    (end <= bar.end()).then_some(((place, quarter), rest))
}

/// Whether eighths of a bar are played long and short.
pub(crate) fn swings(bar: &Bar<'_>) -> bool {
    bar.swings
        && bar.meter.is_some_and(|meter| {
            matches!(meter.lower(), 2 | 4) && meter.kind() != MeterKind::Compound
        })
}
