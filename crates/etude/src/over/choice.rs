//! What a horn can play in each slot, and what it costs.

use lesson::{PhraseWeights, Weights};
use theory::{Interval, Pitch, Range, Signature};

use super::chord_span::ChordSpan;
use super::graph::Choice;
use super::role::PhrasePart;
use super::slot::OverLine;
use super::way::{Begins, Way};
use crate::heights::Reach;

/// Where a span's ladder stands on the staff.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Root {
    pub pitch: Pitch,
}

/// A horn's range with its middle, where a line is at ease: a sixth of it is
/// left out on both sides.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tessitura {
    pub reach: Reach,
    low: i32,
    high: i32,
}

impl Tessitura {
    pub fn of(range: Range) -> Tessitura {
        let reach = Reach::of_range(range);
        let edge = (reach.high - reach.low) / 6;
        Tessitura {
            reach,
            low: reach.low + edge,
            high: reach.high - edge,
        }
    }

    /// What decides between guide tones of one cost, given by the place of
    /// their pitch in the range: summed over a line, the least is nearest the
    /// middle, then has fewest notes above it, and then goes by the seed. Each
    /// has room for the sum of 2^17 of them.
    pub fn among_equals(self, place: usize, noise: u32) -> u64 {
        let over = 2 * place as i32 - (self.reach.high - self.reach.low);
        u64::from(over.unsigned_abs()) << 38 | u64::from(over > 0) << 21 | u64::from(noise & 0xf)
    }

    /// How many pitches the range has.
    pub fn pitches(self) -> usize {
        (self.reach.high - self.reach.low + 1) as usize
    }

    /// The pitch of a first or last note, by its place among those that are
    /// joined.
    pub fn pitch(self, place: usize) -> i32 {
        self.reach.low + (place % self.pitches()) as i32
    }

    /// Where the middle ends.
    pub fn top(self) -> i32 {
        self.high
    }

    /// Semitones outside.
    pub fn outside(self, pitch: i32) -> u32 {
        (self.low - pitch).max(pitch - self.high).max(0) as u32
    }
}

impl Root {
    /// The root of a chord in a written key, as it is printed, low on the
    /// horn.
    pub fn of(span: &ChordSpan, by: Interval, range: Range, signature: Signature) -> Root {
        let name = span.symbol.transposed(by).printed(signature).root;
        let low = i32::from(range.low.midi());
        let at = (0..=9).rev().map(|octave| name.at(octave));
        let pitch = at
            .clone()
            .find(|pitch| i32::from(pitch.midi()) <= low)
            .unwrap_or_else(|| name.at(0));
        Root { pitch }
    }
}

/// What a horn can play in the slots of a line. Slots that can be played in
/// the same ways, on the same root, share their choices.
#[derive(Debug)]
pub(crate) struct Choices {
    lists: Vec<(ChoiceKey, Vec<Choice>)>,
    of_slots: Vec<usize>,
}

/// What choices depend on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct ChoiceKey {
    ways: usize,
    /// The root's MIDI number.
    zero: i32,
    begins: Begins,
    last: bool,
    /// Whether it ends a phrase.
    ends: bool,
}

impl Choices {
    pub fn of(line: &OverLine, roots: &[Root], tessitura: Tessitura) -> Choices {
        let mut choices = Choices {
            lists: Vec::new(),
            of_slots: Vec::with_capacity(line.slots.len()),
        };
        for (number, slot) in line.slots.iter().enumerate() {
            let key = ChoiceKey {
                ways: slot.ways,
                zero: i32::from(roots[slot.span].pitch.midi()),
                begins: slot.begins,
                last: number + 1 == line.slots.len(),
                ends: slot.role.part == Some(PhrasePart::End),
            };
            let known = choices.lists.iter().position(|(one, _)| *one == key);
            choices.of_slots.push(known.unwrap_or_else(|| {
                choices.lists.push((key, list(line, key, tessitura)));
                choices.lists.len() - 1
            }));
        }
        choices
    }

    /// Slot by slot.
    pub fn layers(&self) -> Vec<&[Choice]> {
        let lists = self.of_slots.iter().map(|at| &self.lists[*at].1[..]);
        lists.collect()
    }
}

/// Everything that can be played, each wish kept where it can be.
fn list(line: &OverLine, key: ChoiceKey, tessitura: Tessitura) -> Vec<Choice> {
    let (ways, size) = &line.ways[key.ways];
    let mut all: Vec<(&Way, Choice)> = Vec::new();
    let Reach { low, high } = tessitura.reach;
    let (edges, pitches) = (&line.edges, (high - low + 1) as usize);
    let place = |pitch: i32| (pitch - low) as usize;
    for figure in ways.chunk_by(|one, next| one.fitted == next.fitted) {
        let lowest = figure.iter().map(|way| low - key.zero - way.high);
        let highest = figure.iter().map(|way| high - key.zero - way.low);
        let from = lowest.min().unwrap_or(0).div_euclid(12);
        let until = highest.max().unwrap_or(0).div_euclid(12);
        for octave in from..=until {
            for way in figure {
                let zero = key.zero + 12 * octave;
                if zero + way.low < low || zero + way.high > high {
                    continue;
                }
                let choice = Choice {
                    fitted: way.fitted,
                    base: way.base + octave * size,
                    cost: own_cost(line.over.weights, way, zero, tessitura)
                        + if key.ends {
                            end_cost(line.phrasing.weights, way)
                        } else {
                            0
                        },
                    variant: way.variant,
                    degree: way.degree,
                    kind: way.kind,
                    shift: way.shift,
                    high: zero + way.high,
                    first: edges.first((way.begins, way.leads), place(zero + way.first), pitches),
                    last: edges.last(way.room, place(zero + way.last), pitches),
                };
                all.push((way, choice));
            }
        }
    }
    keep(&mut all, |way| way.allowed);
    keep(&mut all, |way| !line.guides || way.guides);
    keep(&mut all, |way| way.begins(key.begins));
    keep(&mut all, |way| !key.last || way.settles);
    all.into_iter().map(|(_, choice)| choice).collect()
}

fn keep(all: &mut Vec<(&Way, Choice)>, wish: impl Fn(&Way) -> bool) {
    if all.iter().any(|(way, _)| wish(way)) {
        all.retain(|(way, _)| wish(way));
    }
}

/// What the end of a phrase costs that doesn't rest, or not on a chord tone.
fn end_cost(weights: PhraseWeights, way: &Way) -> u32 {
    2 * u32::from(weights.phrase) * (u32::from(!way.settles) + u32::from(!way.rests))
}

fn own_cost(weights: Weights, way: &Way, zero: i32, tessitura: Tessitura) -> u32 {
    let outside = tessitura.outside(zero + way.low) + tessitura.outside(zero + way.high);
    2 * u32::from(weights.strong_beats) * way.non_chord_tones + u32::from(weights.range) * outside
}

/// A number without meaning, the same for the same seed: the first 24 bits that
/// SplitMix64 makes of it, which its last step leaves alone.
pub(crate) fn noise(seed: u64, slot: usize, fitted: usize, base: i32) -> u32 {
    let mut mixed = seed
        ^ (slot as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15)
        ^ (fitted as u64).wrapping_mul(0xbf58_476d_1ce4_e5b9)
        ^ (base as i64 as u64).wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    (mixed >> 40) as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two lines of guide tones that cost the same, as half steps from the
    /// middle of the range: the first is the better one.
    fn check(better: &[i32], worse: &[i32]) {
        let range = Range {
            low: "C4".parse().unwrap(),
            high: "C6".parse().unwrap(),
        };
        let tessitura = Tessitura::of(range);
        let sum = |line: &[i32], noise: u32| -> u64 {
            let places = line.iter().map(|above| (12 + above) as usize);
            places
                .map(|place| tessitura.among_equals(place, noise))
                .sum()
        };
        // Whatever the seed says.
        assert!(sum(better, 15) < sum(worse, 0), "{better:?} {worse:?}");
    }

    #[test]
    fn guide_tones_lie_near_the_middle_and_rather_below() {
        check(&[1, 1, -1], &[-1, -1, -2]);
        check(&[0, 0], &[0, -1]);
        check(&[-2], &[2]);
        check(&[-1, -1], &[2, 0]);
        // What lies on the middle isn't above it.
        check(&[0, -2], &[1, -1]);
        let tessitura = Tessitura::of(Range {
            low: "C4".parse().unwrap(),
            high: "C6".parse().unwrap(),
        });
        let on_the_middle = tessitura.among_equals(12, 3);
        assert_eq!(on_the_middle, 3);
        // Lines that are as good by all this go by the seed.
        assert!(tessitura.among_equals(10, 4) < tessitura.among_equals(10, 5));
    }

    /// The first numbers of SplitMix64 from 1234567, as its reference
    /// implementation gives them (Vigna, from memory).
    #[test]
    fn noise_is_the_top_of_splitmix64() {
        let step: u64 = 0x9e37_79b9_7f4a_7c15;
        let check = |state: u64, expected: u64| {
            assert_eq!(u64::from(noise(state, 0, 0, 0)), expected >> 40);
        };
        let seed = 1_234_567u64.wrapping_add(step);
        check(seed, 6_457_827_717_110_365_317);
        check(seed.wrapping_add(step), 3_203_168_211_198_807_973);
        check(
            seed.wrapping_add(step.wrapping_mul(2)),
            9_817_491_932_198_370_423,
        );
        // A slot is a step from nothing.
        assert_eq!(noise(0, 1, 0, 0), noise(step, 0, 0, 0));
    }
}
