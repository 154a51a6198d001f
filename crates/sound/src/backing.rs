//! The chords and the bass: struck where a symbol stands, and again on each
//! bar line while it lasts, so that it neither dies away nor is lost.

use crate::Strike;
use crate::form::Passage;
use crate::perform::strike;
use crate::sheet::Change;

const CHORD_VELOCITY: u8 = 62;
const BASS_VELOCITY: u8 = 78;

/// Plays the chords of a passage; a chord that was in force before it is
/// struck at its beginning.
pub(crate) fn chords(passage: &Passage<'_>, strikes: &mut Vec<Strike>) {
    play(passage, |onset, end, change| {
        let keys = change.voicing.iter().flat_map(|voicing| &voicing.keys);
        strikes.extend(keys.filter_map(|key| strike(onset, end, *key, CHORD_VELOCITY)));
    });
}

/// Plays the bass of a passage, a note wherever a chord is struck.
pub(crate) fn bass(passage: &Passage<'_>, strikes: &mut Vec<Strike>) {
    play(passage, |onset, end, change| {
        let voicing = change.voicing.as_ref();
        strikes.extend(voicing.and_then(|v| strike(onset, end, v.bass, BASS_VELOCITY)));
    });
}

/// Says when which change of chord is struck and until when, in ticks.
fn play(passage: &Passage<'_>, mut struck: impl FnMut(u64, u64, &Change)) {
    let places = places(passage);
    let ends = places.iter().skip(1).map(|(at, _)| passage.played(*at));
    let ends = ends.chain([passage.straight(passage.to)]);
    for ((at, change), end) in places.iter().zip(ends) {
        if let Some(change) = change {
            struck(passage.played(*at), end, change);
        }
    }
}

/// The sheet's times at which chords are struck, with the change in force.
fn places<'a>(passage: &Passage<'a>) -> Vec<(u64, Option<&'a Change>)> {
    let sheet = &passage.timeline.sheet;
    let changes = sheet.changes.iter().map(|change| change.at);
    let bar_lines = sheet.bars.iter().map(|bar| bar.start);
    let mut times: Vec<u64> = changes
        .chain(bar_lines)
        .filter(|at| passage.from < *at && *at < passage.to)
        .collect();
    times.push(passage.from);
    times.sort_unstable();
    times.dedup();
    let place = |at: u64| {
        let before = sheet.changes.partition_point(|change| change.at <= at);
        let change = before
            .checked_sub(1)
            .and_then(|place| sheet.changes.get(place));
        // one that came just before the bar line is not struck again on it
        let since = change.map_or(0, |change| change.at.max(passage.from));
        let just_before = since < at && at - since < sheet.divisions;
        (!just_before || at == passage.from).then_some((at, change))
    };
    times.into_iter().filter_map(place).collect()
}
