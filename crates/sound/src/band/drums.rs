//! The drums: a style's pattern, a small fill where a section ends, a cymbal
//! where the next begins and at the end.

use super::frame::{BandBar, Frame};
use super::hit::{Hit, velocity};
use super::table::{DrumStep, FILL, drum, drums};
use crate::Style;

/// Plays every bar that has a pattern.
pub(crate) fn play(frame: &Frame<'_>, hits: &mut Vec<Hit>) {
    let mut opens = false;
    for (_, bar) in frame.patterned() {
        for (sixteenth, key, loud) in steps(bar, opens, frame.quarter) {
            let at = bar.played(sixteenth, frame.quarter);
            hits.push(Hit {
                at,
                end: (at + frame.quarter / 4).min(bar.end),
                key,
                velocity: velocity(loud, bar.number, sixteenth),
                lasts: false,
            });
        }
        opens = bar.ends_section;
    }
}

fn steps(bar: &BandBar, opens: bool, quarter: u64) -> Vec<DrumStep> {
    if bar.closes {
        return vec![(0, drum::CRASH, 70), (0, drum::BASS_DRUM, 60)];
    }
    let mut steps = drums(bar.style, bar.number % 2 == 1).to_vec();
    let light = matches!(bar.style, Style::Ballad);
    if bar.ends_section && !light {
        // ride and foot go on under the fill
        let last = 4 * (bar.quarters(quarter).saturating_sub(1));
        let goes_on = |key| matches!(key, drum::RIDE | drum::PEDAL_HAT | drum::BASS_DRUM);
        steps.retain(|(at, key, _)| *at < last || goes_on(*key));
        steps.extend(FILL.iter().map(|(at, key, loud)| (last + at, *key, *loud)));
    }
    if opens && !light {
        steps.push((0, drum::CRASH, 52));
    }
    steps
}
