//! The drone: a tonic held in two octaves, and its fifth where the scale has a
//! perfect one.

use theory::Degree;

use super::frame::Frame;
use super::hit::Hit;
use crate::Style;

/// The lowest tonic, C 2.
const LOWEST: u8 = 36;

const TONIC: u8 = 66;
const FIFTH: u8 = 56;

/// Holds each tonic under the bars that are played over it.
pub(crate) fn play(frame: &Frame<'_>, hits: &mut Vec<Hit>) {
    for stretch in frame
        .bars
        .chunk_by(|a, b| (a.style, a.exercise) == (b.style, b.exercise))
    {
        let (Some(first), Some(last)) = (stretch.first(), stretch.last()) else {
            continue;
        };
        if first.style != Style::Drone {
            continue;
        }
        let tonics = tonics(frame, first.exercise, first.start, last.end);
        let ends = tonics.iter().skip(1).map(|(at, _)| *at).chain([last.end]);
        for ((at, tonic), end) in tonics.iter().zip(ends) {
            let perfect = frame
                .timeline
                .sheet
                .exercise(first.exercise)
                .is_some_and(|ground| ground.scale.contains(&Degree::new(5, 0)));
            let low = LOWEST + (12 + tonic - LOWEST % 12) % 12;
            let keys = [(low, TONIC), (low + 12, TONIC), (low + 19, FIFTH)];
            let keys = keys.into_iter().take(if perfect { 3 } else { 2 });
            hits.extend(keys.map(|(key, velocity)| Hit {
                at: *at,
                end,
                key,
                velocity,
                lasts: true,
            }));
        }
    }
}

/// The tonics of a stretch and where each begins: the root that its notes are
/// counted from, on the bar line before its first note, or with it where the
/// one before still sounds there. Over changes the tonic stays.
fn tonics(frame: &Frame<'_>, exercise: u16, from: u64, to: u64) -> Vec<(u64, u8)> {
    let sheet = &frame.timeline.sheet;
    let Some(ground) = sheet.exercise(exercise) else {
        return Vec::new();
    };
    let tonic = crate::harmony::class(ground.tonic.class(), sheet.to_sound);
    let mut tonics = vec![(from, tonic)];
    if ground.chorus.is_some() {
        return tonics;
    }
    let mut until = 0;
    for tone in sheet.tones.iter().filter(|tone| !tone.origin.ornament) {
        let at = frame.timeline.straight(tone.start);
        if at >= to {
            break;
        }
        if at >= from {
            let above = i32::from(tone.origin.degree.interval().semitones());
            let root = (i32::from(tone.key) - above).rem_euclid(12) as u8;
            if tonics.last().is_some_and(|(_, last)| *last != root) {
                let bar = sheet.bar_at(tone.start).map_or(tone.start, |bar| bar.start);
                let begins = if bar >= until { bar } else { tone.start };
                let begins = frame.timeline.straight(begins).max(from);
                tonics.pop_if(|(at, _)| *at == begins);
                tonics.push((begins, root));
            }
        }
        until = tone.end;
    }
    tonics
}
