//! What a horn can play in each slot, and what it costs.

use lesson::{CellTone, Weights};
use theory::{Form, Interval, Pitch, PitchName, Range, Signature};

use super::search::Choice;
use super::slot::{Begins, Fitted, OverLine, Slot, Span};
use crate::heights::Heights;
use crate::place::midi;

/// A fitted figure from one rung on.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Played {
    pub fitted: usize,
    pub base: i32,
    /// MIDI numbers of its first and last note.
    pub first: i32,
    pub last: i32,
    /// Whether it ends on a tone of the chord.
    pub settles: bool,
    pub choice: Choice,
}

/// Where a span's ladder stands on the staff.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Root {
    pub pitch: Pitch,
}

/// The middle of a range, where a line is at ease: a sixth of it is left out
/// on both sides.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Comfort {
    low: i32,
    high: i32,
}

impl Comfort {
    pub fn of(range: Range) -> Comfort {
        let (low, high) = (midi(range.low), midi(range.high));
        let edge = (high - low) / 6;
        Comfort {
            low: low + edge,
            high: high - edge,
        }
    }

    /// Semitones outside.
    fn outside(self, pitch: i32) -> i32 {
        (self.low - pitch).max(pitch - self.high).max(0)
    }
}

impl Root {
    /// The root of a chord in a written key, low on the horn; a name that is
    /// hard to read takes its simpler twin.
    pub fn of(span: &Span, by: Interval, range: Range, signature: Signature) -> Root {
        let name = readable(span.symbol.root + by, signature);
        let low = midi(range.low);
        let at = (0..=9).rev().map(|octave| name.at(octave));
        let pitch = at
            .clone()
            .find(|pitch| midi(*pitch) <= low)
            .unwrap_or_else(|| name.at(0));
        Root { pitch }
    }
}

/// A name without double accidentals, and without E sharp, B sharp, C flat and
/// F flat where the signature hasn't them.
pub(crate) fn readable(name: PitchName, signature: Signature) -> PitchName {
    let mut name = name;
    while name.alteration().abs() > 1 {
        name = twin(name);
    }
    let white = twin(name);
    let outside = signature.alteration(name.letter()) != name.alteration();
    if name.alteration() != 0 && white.alteration() == 0 && outside {
        return white;
    }
    name
}

fn twin(name: PitchName) -> PitchName {
    PitchName::from_fifths(name.fifths() - 12 * name.alteration().signum())
}

/// Everything that can be played in a slot.
pub(crate) fn choices(
    line: &OverLine,
    number: usize,
    root: Root,
    range: Range,
    last: bool,
) -> Vec<Played> {
    let slot = &line.slots[number];
    let span = &line.spans[slot.span];
    let Some(heights) = &span.heights else {
        return Vec::new();
    };
    let comfort = Comfort::of(range);
    let (low, high) = (midi(range.low), midi(range.high));
    let zero = midi(root.pitch);
    let size = heights.size();
    let top = (high - zero).div_euclid(12) + 2;
    let mut all = Vec::new();
    for (place, fitted) in slot.fitted.iter().enumerate() {
        for base in -2 * size..=top * size {
            let Some(sounds) = Sounds::of(fitted, base, heights, zero, span) else {
                continue;
            };
            if sounds.low < low || sounds.high > high {
                continue;
            }
            let start = heights.at(base, Form::Rising).rem_euclid(12);
            all.push(Played {
                fitted: place,
                base,
                first: sounds.first,
                last: sounds.last,
                settles: span.tones.contains(&(sounds.last - zero).rem_euclid(12)),
                choice: Choice {
                    cost: own_cost(line.weights, &sounds, comfort),
                    tie: noise(line.over.seed, number, place, base),
                    variant: fitted.variant,
                    degree: start as u16,
                },
            });
        }
    }
    // Each wish is kept where it can be.
    keep(&mut all, |one| {
        !line.guides || span.guides.contains(&i32::from(one.choice.degree))
    });
    keep(&mut all, |one| begins(slot, span, one));
    keep(&mut all, |one| !last || one.settles);
    all
}

fn begins(slot: &Slot, span: &Span, one: &Played) -> bool {
    let degree = i32::from(one.choice.degree);
    match slot.begins {
        Begins::Anywhere => true,
        Begins::OnRoot => degree == 0,
        Begins::OffRoot => degree != 0 && span.tones.contains(&degree),
    }
}

fn keep(all: &mut Vec<Played>, wish: impl Fn(&Played) -> bool) {
    if all.iter().any(&wish) {
        all.retain(wish);
    }
}

/// What of a statement counts.
struct Sounds {
    low: i32,
    high: i32,
    first: i32,
    last: i32,
    /// Notes on strong beats that are no tones of the chord.
    strangers: u32,
}

impl Sounds {
    fn of(fitted: &Fitted, base: i32, heights: &Heights, zero: i32, span: &Span) -> Option<Sounds> {
        let mut sounds: Option<Sounds> = None;
        let mut target = None;
        let rung = |rung: i32| zero + heights.at(base + rung, Form::Rising);
        // Backwards, so that ornaments know what they lead to.
        for note in fitted.notes.iter().rev() {
            let pitch = match (note.tone, target) {
                (CellTone::Rung(at), _) => {
                    target = Some(rung(at));
                    rung(at)
                }
                (CellTone::Above, Some(target)) => target + 1,
                (CellTone::Below, Some(target)) => target - 1,
                (CellTone::Above | CellTone::Below, None) => return None,
            };
            let stranger = note.strong && !span.tones.contains(&(pitch - zero).rem_euclid(12));
            let sounds = sounds.get_or_insert(Sounds {
                low: pitch,
                high: pitch,
                first: pitch,
                last: pitch,
                strangers: 0,
            });
            sounds.low = sounds.low.min(pitch);
            sounds.high = sounds.high.max(pitch);
            sounds.first = pitch;
            sounds.strangers += u32::from(stranger);
        }
        sounds
    }
}

fn own_cost(weights: Weights, sounds: &Sounds, comfort: Comfort) -> u32 {
    let outside = comfort.outside(sounds.low) + comfort.outside(sounds.high);
    2 * u32::from(weights.strong_beats) * sounds.strangers
        + u32::from(weights.range) * outside as u32
}

/// What it costs to go from one statement to the next.
pub(crate) fn join_cost(line: &OverLine, comfort: Comfort, from: &Played, to: &Played) -> u32 {
    let weights = line.weights;
    let interval = (to.first - from.last).abs();
    let smooth = if line.guides {
        // The closest voice leading: every half step counts.
        interval as u32
    } else {
        match interval {
            0 => 2,
            1 | 2 => 0,
            3 | 4 => 1,
            5..=7 => 3,
            wide => (wide - 4) as u32,
        }
    };
    let again = u32::from(line.varies() && from.choice.variant == to.choice.variant)
        + u32::from(!line.guides && from.choice.degree == to.choice.degree);
    let away =
        comfort.outside(from.last) > 0 && comfort.outside(to.first) > comfort.outside(from.last);
    u32::from(weights.smooth) * smooth
        + u32::from(weights.variety) * again
        + 2 * u32::from(weights.range) * u32::from(away)
}

/// A number without meaning, the same for the same seed.
fn noise(seed: u64, slot: usize, fitted: usize, base: i32) -> u32 {
    let mut mixed = seed
        ^ (slot as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15)
        ^ (fitted as u64).wrapping_mul(0xbf58_476d_1ce4_e5b9)
        ^ (base as i64 as u64).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    ((mixed ^ (mixed >> 31)) >> 40) as u32
}
