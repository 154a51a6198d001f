//! Comping: chords without their roots, in short strokes that answer where
//! the line pushes and fill where it rests.

use super::frame::{BandBar, Frame};
use super::hit::{Hit, ripple, velocity};
use super::table::{CompStep, comping};
use crate::Style;
use crate::harmony::Harmony;
use crate::voicing::{Register, close, rootless, smoothest};

/// D 3 to C 5.
const REGISTER: Register = Register {
    lowest: 50,
    highest: 72,
    middle: 61,
};

const LOUD: u8 = 62;

/// Plays every bar that has a pattern.
pub(crate) fn play(frame: &Frame<'_>, hits: &mut Vec<Hit>) {
    if frame.patterned().next().is_none() {
        return;
    }
    let sounding: Vec<&Harmony> = frame.chords.iter().filter_map(|(_, one)| *one).collect();
    let choices = sounding
        .iter()
        .map(|harmony| close::voicings(&rootless::voices(harmony), REGISTER));
    let mut voicings = smoothest(choices.collect(), REGISTER).into_iter();
    let voicings: Vec<Vec<u8>> = frame
        .chords
        .iter()
        .map(|(_, harmony)| harmony.and_then(|_| voicings.next()).unwrap_or_default())
        .collect();
    let mut before = None;
    for (_, bar) in frame.patterned() {
        let heard = LineRhythm::of(frame, bar);
        let (chosen, steps) = strokes(frame, bar, &heard, before);
        before = Some(chosen);
        for (sixteenth, length) in steps {
            let straight = bar.start + sixteenth * frame.quarter / 4;
            // a stroke in the last eighth is the next bar's chord
            let ahead = straight + frame.quarter / 2;
            let anticipates = ahead >= bar.end && !bar.closes;
            let chord = frame.chord_at(if anticipates { ahead } else { straight });
            let keys = chord.and_then(|chord| voicings.get(chord));
            let at = bar.played(sixteenth, frame.quarter);
            let end = bar.played(sixteenth + length, frame.quarter);
            let softer = if bar.style == Style::Ballad { 8 } else { 0 };
            hits.extend(keys.into_iter().flatten().map(|key| Hit {
                at,
                end: end.min(bar.end).max(at + 1),
                key: *key,
                velocity: velocity(LOUD - softer, bar.number, sixteenth + 32),
                lasts: false,
            }));
        }
    }
}

/// What the line does in a bar, by eighths.
#[derive(Debug, Default)]
struct LineRhythm {
    /// Sixteenths on which it begins a note off the beat and holds it over
    /// the next.
    pushes: Vec<u64>,
    /// Those on which it begins any note.
    begins: Vec<u64>,
}

impl LineRhythm {
    fn of(frame: &Frame<'_>, bar: &BandBar) -> LineRhythm {
        let sheet = &frame.timeline.sheet;
        let straight = |at| frame.timeline.straight(at);
        let from = sheet
            .tones
            .partition_point(|tone| straight(tone.start) < bar.start);
        let mut heard = LineRhythm::default();
        for tone in sheet.tones.get(from..).unwrap_or_default() {
            let at = straight(tone.start);
            if at >= bar.end {
                break;
            }
            let within = 4 * (at - bar.start);
            if !within.is_multiple_of(frame.quarter) {
                continue;
            }
            let sixteenth = within / frame.quarter;
            heard.begins.push(sixteenth);
            let next_beat = bar.start + (sixteenth / 4 + 1) * frame.quarter;
            if sixteenth % 4 == 2 && straight(tone.end) > next_beat {
                heard.pushes.push(sixteenth);
            }
        }
        heard
    }
}

/// A bar's strokes, and which pattern they are from: the one that meets the
/// line's pushes, keeps out of its way otherwise and isn't the one before.
fn strokes(
    frame: &Frame<'_>,
    bar: &BandBar,
    heard: &LineRhythm,
    before: Option<usize>,
) -> (usize, Vec<CompStep>) {
    let quarters = bar.quarters(frame.quarter);
    if bar.closes {
        return (0, held(frame, bar, quarters));
    }
    let patterns = comping(bar.style);
    let two_bars = bar.style == Style::Bossa;
    let chosen = if two_bars {
        bar.number % patterns.len().max(1)
    } else {
        let cost = |number: &usize| {
            let steps = patterns[*number];
            let strokes: i32 = steps.iter().map(|(at, _)| of_stroke(heard, *at)).sum();
            let again = 3 * i32::from(before == Some(*number));
            let turn = ripple(bar.number, *number as u64 + 64);
            (strokes + again, turn)
        };
        (0..patterns.len()).min_by_key(cost).unwrap_or(0)
    };
    let mut steps = patterns
        .get(chosen)
        .map(|steps| steps.to_vec())
        .unwrap_or_default();
    for push in &heard.pushes {
        if !two_bars && steps.iter().all(|(at, _)| at.abs_diff(*push) > 2) {
            steps.push((*push, 2));
        }
    }
    steps.sort_unstable();
    every_chord(frame, bar, quarters, &mut steps);
    for at in 1..steps.len() {
        steps[at - 1].1 = steps[at - 1].1.min(steps[at].0 - steps[at - 1].0);
    }
    (chosen, steps)
}

/// A bar's chords, each held: how a track ends.
fn held(frame: &Frame<'_>, bar: &BandBar, quarters: u64) -> Vec<CompStep> {
    let chord = |beat: u64| frame.chord_at(bar.start + beat * frame.quarter);
    let begins = (0..quarters).filter(|beat| *beat == 0 || chord(*beat) != chord(beat - 1));
    let begins: Vec<u64> = begins.collect();
    let ends = begins.iter().skip(1).copied().chain([quarters]);
    let steps = begins.iter().zip(ends);
    steps
        .map(|(from, to)| (4 * from, 4 * (to - from)))
        .collect()
}

fn of_stroke(heard: &LineRhythm, at: u64) -> i32 {
    match (heard.pushes.contains(&at), heard.begins.contains(&at)) {
        (true, _) => -3,
        (false, true) => 1,
        (false, false) => -1,
    }
}

/// Strikes each chord of a bar at least once: where no stroke falls to one,
/// on its first beat.
fn every_chord(frame: &Frame<'_>, bar: &BandBar, quarters: u64, steps: &mut Vec<CompStep>) {
    let chord = |sixteenth: u64| frame.chord_at(bar.start + sixteenth * frame.quarter / 4);
    let mut beat = 0;
    while beat < quarters {
        let now = chord(4 * beat);
        let until = (beat + 1..quarters)
            .find(|later| chord(4 * later) != now)
            .unwrap_or(quarters);
        let here = 4 * beat..4 * until;
        // the bar's last eighth belongs to the next
        let struck = |(at, _): &CompStep| here.contains(at) && at + 2 < 4 * quarters;
        if !steps.iter().any(struck) {
            let place = steps.partition_point(|(at, _)| *at < 4 * beat);
            steps.insert(place, (4 * beat, 3));
        }
        beat = until;
    }
}
