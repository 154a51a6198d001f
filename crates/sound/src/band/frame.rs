//! What the band looks at: its bars, how each is played, and the chords.

use rhythm::Fraction;
use score::Direction;

use crate::harmony::Harmony;
use crate::sheet::Sheet;
use crate::swing::{Swing, SwingRatio};
use crate::timeline::{Timeline, swings};
use crate::{Style, Take};

/// Which of a track's times a sheet is played.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Time {
    /// Whether it is the first.
    pub first: bool,
    /// Whether it is the last.
    pub last: bool,
}

/// A sheet as the band sees it. Times are the track's ticks from the sheet's
/// beginning, as written unless they are said to be played.
#[derive(Debug)]
pub(crate) struct Frame<'a> {
    pub timeline: &'a Timeline<'a>,
    pub bars: Vec<BandBar>,
    /// Where chords begin; none for N.C.
    pub chords: Vec<(u64, Option<&'a Harmony>)>,
    /// Ticks to the quarter.
    pub quarter: u64,
}

/// A bar of the band.
#[derive(Debug)]
pub(crate) struct BandBar {
    pub start: u64,
    pub end: u64,
    pub style: Style,
    /// Whether the bass goes in two, or in a waltz in one.
    pub in_two: bool,
    /// The first eighth of a quarter in ticks.
    pub long: u64,
    /// The number of the bar in its exercise, from 0, pickups not counted.
    pub number: usize,
    /// Whether a section ends with it.
    pub ends_section: bool,
    /// Whether the track ends with it.
    pub closes: bool,
    pub exercise: u16,
}

impl BandBar {
    /// Quarters in the bar.
    pub(crate) fn quarters(&self, quarter: u64) -> u64 {
        (self.end - self.start) / quarter.max(1)
    }

    /// Where a sixteenth is played, counted from the bar line; the halves of
    /// quarters swing.
    pub(crate) fn played(&self, sixteenth: u64, quarter: u64) -> u64 {
        let within = match sixteenth % 4 {
            2 => self.long,
            others => others * quarter / 4,
        };
        self.start + sixteenth / 4 * quarter + within
    }
}

impl<'a> Frame<'a> {
    pub(crate) fn of(timeline: &'a Timeline<'a>, take: &Take, time: Time) -> Frame<'a> {
        let sheet = &timeline.sheet;
        let quarter = u64::from(timeline.grid.per_quarter());
        let chords = sheet.changes.iter();
        let chords = chords.map(|change| (timeline.straight(change.at), change.harmony.as_ref()));
        let mut frame = Frame {
            timeline,
            bars: Vec::with_capacity(sheet.bars.len()),
            chords: chords.collect(),
            quarter,
        };
        let mut number = 0;
        let mut exercise = None;
        for (place, bar) in sheet.bars.iter().enumerate() {
            if exercise.replace(bar.exercise) != Some(bar.exercise) {
                number = 0;
            }
            let counted = !bar.measure.implicit;
            let chorus = sheet
                .exercise(bar.exercise)
                .and_then(|ground| ground.chorus);
            let style = bar_style(sheet, place, take);
            let several = u32::from(take.times.max(1)) * choruses(sheet, place) > 1;
            let of_first = chorus.is_some_and(|bars| number < bars as usize) && time.first;
            let ratio = ratio(
                style,
                swings(bar),
                take.swing,
                bar.tempo.quarters_per_minute(),
            );
            let long = Fraction::new(ratio.long().into(), ratio.parts() as i64);
            frame.bars.push(BandBar {
                start: timeline.straight(bar.start),
                end: timeline.straight(bar.end()),
                style,
                in_two: several && of_first,
                long: timeline.grid.quarters(long),
                number,
                ends_section: counted && ends_section(sheet, place, number + 1, chorus),
                closes: time.last && place + 1 == sheet.bars.len(),
                exercise: bar.exercise,
            });
            number += usize::from(counted);
        }
        frame
    }

    /// The place of the chord in force at a time.
    pub(crate) fn chord_at(&self, at: u64) -> Option<usize> {
        self.chords
            .partition_point(|(from, _)| *from <= at)
            .checked_sub(1)
    }

    pub(crate) fn harmony(&self, place: Option<usize>) -> Option<&'a Harmony> {
        self.chords.get(place?).and_then(|(_, harmony)| *harmony)
    }

    /// The bars that the band plays by a pattern, with their places.
    pub(crate) fn patterned(&self) -> impl Iterator<Item = (usize, &BandBar)> {
        self.bars
            .iter()
            .enumerate()
            .filter(|(_, bar)| bar.style.has_drums())
    }
}

/// How a bar is played: what is asked for, or usual. In a pickup, in a bar
/// cut short and in a meter without a pattern plainly.
pub(crate) fn bar_style(sheet: &Sheet<'_>, place: usize, take: &Take) -> Style {
    let Some((bar, meter)) = sheet
        .bars
        .get(place)
        .and_then(|bar| Some((bar, bar.meter?)))
    else {
        return Style::Plain;
    };
    let ground = sheet.exercise(bar.exercise);
    let usual = || ground.map(|ground| Style::usual(ground.chorus.is_some(), meter, bar.swings));
    let style = take.style.or_else(usual).unwrap_or(Style::Plain);
    let whole = bar.length == bar.whole(sheet.divisions);
    let fits = match style {
        Style::Drone => ground.is_some(),
        others => whole && others.fits(meter),
    };
    if fits { style } else { Style::Plain }
}

/// How the band's own eighths go: as the line's where those swing; where a
/// style that swings was asked for under even eighths, by the take's ratio,
/// else two to one; in even styles even.
fn ratio(style: Style, swings: bool, swing: Swing, quarters_per_minute: u32) -> SwingRatio {
    match style {
        Style::Bossa | Style::Funk | Style::EvenEighths | Style::Drone => SwingRatio::EVEN,
        _ if swings => swing.at(quarters_per_minute),
        Style::Swing | Style::Shuffle => match swing {
            Swing::Straight => SwingRatio::default(),
            Swing::Ratio(_) | Swing::ByTempo => swing.at(quarters_per_minute),
        },
        Style::TwoBeat | Style::Waltz | Style::Ballad | Style::Plain => SwingRatio::EVEN,
    }
}

/// How many choruses the exercise of a bar has.
fn choruses(sheet: &Sheet<'_>, place: usize) -> u32 {
    let Some(exercise) = sheet.bars.get(place).map(|bar| bar.exercise) else {
        return 1;
    };
    let of_it = sheet.bars.iter().filter(|bar| bar.exercise == exercise);
    let bars = of_it.filter(|bar| !bar.measure.implicit).count() as u32;
    let chorus = sheet.exercise(exercise).and_then(|ground| ground.chorus);
    chorus.map_or(1, |chorus| bars / chorus.max(1))
}

/// Whether a section ends with a bar: one with a name, a chorus, the exercise,
/// or every eight bars where four or more follow.
fn ends_section(sheet: &Sheet<'_>, place: usize, bars: usize, chorus: Option<u32>) -> bool {
    let exercise = |place: usize| sheet.bars.get(place).map(|bar| bar.exercise);
    let named = sheet.bars.get(place + 1).is_some_and(|bar| {
        let mut said = bar.measure.directions.iter();
        said.any(|one| matches!(one, Direction::Section(_)))
    });
    if named || exercise(place) != exercise(place + 1) {
        return true;
    }
    let chorus = chorus.map_or(usize::MAX, |bars| bars.max(1) as usize);
    let within = bars % chorus;
    within == 0 || (within.is_multiple_of(8) && chorus - within >= 4)
}
