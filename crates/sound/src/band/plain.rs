//! Plainly: chord and bass struck where a symbol stands, and again on each
//! bar line while it lasts, so that it neither dies away nor is lost.

use super::frame::Frame;
use super::hit::Hit;
use crate::Style;
use crate::voicing::{Register, close, near, smoothest};

const CHORD_VELOCITY: u8 = 62;
const BASS_VELOCITY: u8 = 78;

/// E 3 to E 5: where chords lie clear of the bass and not over the line.
const CHORDS: Register = Register {
    lowest: 52,
    highest: 76,
    middle: 64,
};

/// C 2 to D 3, and where the bass starts from.
const BASS: (u8, u8) = (36, 50);
const FIRST_BASS: u8 = 43;

/// Plays the chords.
pub(crate) fn chords(frame: &Frame<'_>, hits: &mut Vec<Hit>) {
    if frame.bars.iter().all(|bar| bar.style != Style::Plain) {
        return;
    }
    let sounding: Vec<Vec<u8>> = harmonies(frame).map(close::voices).collect();
    let choices = sounding
        .iter()
        .map(|classes| close::voicings(classes, CHORDS));
    let mut voicings = smoothest(choices.collect(), CHORDS).into_iter();
    let voicings: Vec<Vec<u8>> = each(frame, || voicings.next().unwrap_or_default());
    play(frame, |at, end, chord| {
        let keys = voicings.get(chord).into_iter().flatten();
        hits.extend(keys.map(|key| hit(at, end, *key, CHORD_VELOCITY)));
    });
}

/// Plays the bass: each note as near to the one before as can be.
pub(crate) fn bass(frame: &Frame<'_>, hits: &mut Vec<Hit>) {
    let mut notes = near(
        harmonies(frame).map(|harmony| harmony.bass),
        BASS,
        FIRST_BASS,
    )
    .into_iter();
    let notes: Vec<Option<u8>> = each(frame, || notes.next());
    play(frame, |at, end, chord| {
        let key = notes.get(chord).copied().flatten();
        hits.extend(key.map(|key| hit(at, end, key, BASS_VELOCITY)));
    });
}

fn harmonies<'a>(frame: &'a Frame<'_>) -> impl Iterator<Item = &'a crate::harmony::Harmony> {
    frame.chords.iter().filter_map(|(_, harmony)| *harmony)
}

/// Something for each chord; the usual for N.C.
fn each<T: Default>(frame: &Frame<'_>, mut next: impl FnMut() -> T) -> Vec<T> {
    let chords = frame.chords.iter();
    chords
        .map(|(_, harmony)| harmony.map(|_| next()).unwrap_or_default())
        .collect()
}

fn hit(at: u64, end: u64, key: u8, velocity: u8) -> Hit {
    Hit {
        at,
        end,
        key,
        velocity,
        lasts: true,
    }
}

/// Says when which chord is struck and until when.
fn play(frame: &Frame<'_>, mut struck: impl FnMut(u64, u64, usize)) {
    let sheet = &frame.timeline.sheet;
    let plain = |at: u64| {
        let before = frame.bars.partition_point(|bar| bar.start <= at);
        let bar = before
            .checked_sub(1)
            .and_then(|place| frame.bars.get(place));
        bar.is_some_and(|bar| bar.style == Style::Plain)
    };
    let changes = sheet.changes.iter().map(|change| change.at);
    let mut times: Vec<u64> = changes
        .chain(sheet.bars.iter().map(|bar| bar.start))
        .collect();
    times.sort_unstable();
    times.dedup();
    times.retain(|at| {
        let before = sheet.changes.partition_point(|change| change.at <= *at);
        let change = before
            .checked_sub(1)
            .and_then(|place| sheet.changes.get(place));
        // one that came just before the bar line is not struck again on it
        let since = change.map_or(0, |change| change.at);
        !(since < *at && at - since < sheet.divisions)
    });
    let ends = times.iter().skip(1).chain([&sheet.end]);
    for (at, end) in times.iter().zip(ends) {
        let (straight, until) = (frame.timeline.straight(*at), frame.timeline.straight(*end));
        let Some(chord) = frame.chord_at(straight).filter(|_| plain(straight)) else {
            continue;
        };
        let until = if *end == sheet.end || !plain(until) {
            until
        } else {
            frame.timeline.played(*end)
        };
        struck(frame.timeline.played(*at), until, chord);
    }
}
