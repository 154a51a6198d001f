//! What the line around a phrase does: its last note and how long each of the
//! twelve sounds, as long as the signature holds.

use std::ops::Range;

use lesson::Around;
use rhythm::Fraction;

use crate::part::{Part, Sound};

/// Of one staff's voice, in the measures around some that have their key.
pub(crate) fn around(part: &Part, voice: (u8, usize), measures: Range<usize>) -> Around {
    let key = |at: usize| part.measures[at].key.map(|key| key.signature);
    let own = key(measures.start);
    let same = |at: &usize| key(*at) == own;
    let before = (0..measures.start).rev().take_while(same).count();
    let after = (measures.start..part.measures.len())
        .take_while(same)
        .count();
    let mut around = Around::default();
    let stretch = &part.measures[measures.start - before..measures.start + after];
    for note in stretch.iter().flat_map(|measure| &measure.notes) {
        let Sound::Pitch(pitch) = note.sound else {
            continue;
        };
        if (note.staff, note.voice) != voice || note.on_stem {
            continue;
        }
        around.last = Some(pitch.name());
        let times = if note.at == Fraction::ZERO { 2 } else { 1 };
        let long = (note.length * 48).to_integer() * times;
        let weight = &mut around.weights[usize::from(pitch.name().class())];
        *weight = weight.saturating_add(u32::try_from(long).unwrap_or(0));
    }
    around
}
