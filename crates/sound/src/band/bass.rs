//! The bass: a style's places, the root of each chord on its first beat, and
//! the cheapest line through them.

use super::frame::{BandBar, Frame};
use super::hit::{Hit, velocity};
use super::table::{BassStep, bass};
use super::walk::{Demand, Place, line};
use crate::Style;

/// A note to be found.
#[derive(Debug, Clone, Copy)]
struct Step {
    at: u64,
    end: u64,
    demand: Demand,
    chord: Option<usize>,
    bar: usize,
    sixteenth: u64,
}

/// Plays every stretch of bars that have a pattern.
pub(crate) fn play(frame: &Frame<'_>, hits: &mut Vec<Hit>) {
    let mut steps: Vec<Step> = Vec::new();
    let mut last = None;
    for (place, bar) in frame.patterned() {
        steps.extend(of_bar(frame, place, bar, &mut last));
    }
    // no chord, no bass; the line begins anew after that
    for row in steps.chunk_by(|a, b| {
        let sounds = |step: &Step| frame.harmony(step.chord).is_some();
        sounds(a) == sounds(b)
    }) {
        let places: Vec<Place<'_>> = row
            .iter()
            .filter_map(|step| {
                Some(Place {
                    harmony: frame.harmony(step.chord)?,
                    demand: step.demand,
                    bar_line: step.sixteenth == 0,
                })
            })
            .collect();
        for (step, key) in row.iter().zip(line(&places)) {
            let Some(bar) = frame.bars.get(step.bar) else {
                continue;
            };
            hits.push(Hit {
                at: step.at,
                end: step.end,
                key,
                velocity: velocity(loud(bar, step), bar.number, step.sixteenth + 16),
                lasts: false,
            });
        }
    }
}

/// Beats 2 and 4 of a walk lean a little; what lies off the beat is lighter.
fn loud(bar: &BandBar, step: &Step) -> u8 {
    let base = if bar.style == Style::Ballad { 66 } else { 78 };
    match step.sixteenth % 8 {
        4 => base + 4,
        0 => base,
        _ => base - 10,
    }
}

/// A bar's steps in order, each ending where the next begins at the latest.
fn of_bar(frame: &Frame<'_>, place: usize, bar: &BandBar, last: &mut Option<usize>) -> Vec<Step> {
    let quarters = bar.quarters(frame.quarter);
    let mut pattern = bass(bar.style, bar.in_two, bar.closes, quarters);
    for beat in 0..quarters {
        let chord = frame.chord_at(bar.start + beat * frame.quarter);
        let same = |one: &Option<usize>| frame.harmony(*one) == frame.harmony(chord);
        if last.is_none_or(|before| !same(&Some(before))) {
            root_on(&mut pattern, 4 * beat, quarters);
        }
        *last = chord;
    }
    let mut steps: Vec<Step> = pattern
        .iter()
        .map(|(sixteenth, length, demand)| {
            let straight = bar.start + sixteenth * frame.quarter / 4;
            Step {
                at: bar.played(*sixteenth, frame.quarter),
                end: bar.played(sixteenth + length, frame.quarter).min(bar.end),
                demand: *demand,
                chord: frame.chord_at(straight),
                bar: place,
                sixteenth: *sixteenth,
            }
        })
        .collect();
    for at in 1..steps.len() {
        let (before, here) = (steps[at - 1], steps[at]);
        // a chord that begins off the beat is begun with its root
        if frame.harmony(before.chord) != frame.harmony(here.chord) {
            steps[at].demand = Demand::Root;
        }
        steps[at - 1].end = before.end.min(here.at);
    }
    steps
}

/// Puts a root on a beat.
fn root_on(pattern: &mut Vec<BassStep>, sixteenth: u64, quarters: u64) {
    let place = pattern.partition_point(|(at, ..)| *at < sixteenth);
    match pattern.get_mut(place) {
        Some(step) if step.0 == sixteenth => step.2 = Demand::Root,
        next => {
            let until = next.map_or(4 * quarters, |step| step.0);
            pattern.insert(place, (sixteenth, until - sixteenth, Demand::Root));
        }
    }
}
