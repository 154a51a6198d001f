//! The key, given before the line: the tonic chord under the first bar of a
//! count-in.

use crate::Strike;
use crate::form::Count;
use crate::harmony::{Harmony, class};

const VELOCITY: u8 = 58;

/// The lowest note of the tonic chord lies from C 3 up, over no one's line.
const LOWEST: u8 = 48;

/// Strikes the tonic chord of what the sheet begins with, if the score says.
pub(crate) fn give(count: &Count<'_>, strikes: &mut Vec<Strike>) {
    let sheet = &count.timeline.sheet;
    let exercise = sheet.bars.first().map_or(0, |bar| bar.exercise);
    let Some(ground) = sheet.exercise(exercise) else {
        return;
    };
    let root = class(ground.tonic.class(), sheet.to_sound);
    let low = LOWEST + (12 + root - LOWEST % 12) % 12;
    let end = count.begins + count.length.min(count.bar);
    let tones = Harmony::tonic(root, &ground.scale);
    let keys = tones.iter().map(|tone| low + (12 + tone - low % 12) % 12);
    strikes.extend(keys.filter_map(|key| Strike::of(count.begins, end, key, VELOCITY)));
}
