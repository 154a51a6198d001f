//! A bass line by exact least cost.
//!
//! Every note has places it may go to; a note costs by itself, by the step to
//! it and by the step before that. Of all lines the cheapest is taken, of
//! those the one that is lower at the last difference (dynamic programming
//! over pairs of notes). The costs are common practice, weighed by ear.

use crate::harmony::Harmony;

/// Lowest and highest note, E 1 and D 3.
pub(crate) const LOWEST: u8 = 28;
pub(crate) const HIGHEST: u8 = 50;

/// Where the line is at home, A 1 and A 2: outside it each half step costs.
const HOME: std::ops::RangeInclusive<u8> = 33..=45;

/// What a place asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Demand {
    /// The root, or the note after the slash.
    Root,
    /// The fifth.
    Fifth,
    /// A tone of the chord.
    Tone,
    /// A tone of the chord or its scale, or what leads by a half step into a
    /// root that follows.
    Walk,
    /// The note before it again.
    Again,
}

/// A place of the line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Place<'a> {
    pub harmony: &'a Harmony,
    pub demand: Demand,
    /// Whether it stands on a bar line.
    pub bar_line: bool,
}

/// A line: a note for each place.
pub(crate) fn line(places: &[Place<'_>]) -> Vec<u8> {
    let choices: Vec<Vec<u8>> = (0..places.len()).map(|at| choices(places, at)).collect();
    let Some(first) = choices.first() else {
        return Vec::new();
    };
    // for each pair of notes: what the line so far costs, and which note came
    // before the two
    let mut layers: Vec<Vec<(u32, usize)>> = Vec::with_capacity(places.len());
    layers.push(
        first
            .iter()
            .map(|key| (alone(places, 0, *key), 0))
            .collect(),
    );
    for at in 1..places.len() {
        let (befores, nows) = (&choices[at - 1], &choices[at]);
        let earlier: &[u8] = if at > 1 { &choices[at - 2] } else { &[0] };
        let so_far = &layers[at - 1];
        let mut layer = Vec::with_capacity(befores.len() * nows.len());
        for (b, before) in befores.iter().enumerate() {
            for now in nows {
                let step = alone(places, at, *now) + join(places, at, *before, *now);
                let ways = earlier.iter().enumerate().map(|(e, earlier)| {
                    let (cost, _) = so_far[if at > 1 { e * befores.len() + b } else { b }];
                    let turn = if at > 1 {
                        turn(places, at, *earlier, *before, *now)
                    } else {
                        0
                    };
                    (cost + step + turn, e)
                });
                layer.push(ways.min().unwrap_or_default());
            }
        }
        layers.push(layer);
    }
    trace(&choices, &layers)
}

/// The cheapest line, from its end.
fn trace(choices: &[Vec<u8>], layers: &[Vec<(u32, usize)>]) -> Vec<u8> {
    let mut line = Vec::with_capacity(choices.len());
    let Some(last) = layers.last() else {
        return line;
    };
    let mut pair = (0..last.len())
        .min_by_key(|pair| last[*pair].0)
        .unwrap_or(0);
    for at in (0..choices.len()).rev() {
        let width = choices[at].len().max(1);
        let (before, now) = (pair / width, pair % width);
        line.push(choices[at][now]);
        if at > 1 {
            pair = layers[at][pair].1 * choices[at - 1].len() + before;
        } else {
            pair = before;
        }
    }
    line.reverse();
    line
}

/// What a line costs: what [`line`] makes least.
#[cfg(test)]
fn cost(places: &[Place<'_>], keys: &[u8]) -> u32 {
    let mut sum = 0;
    for (at, key) in keys.iter().enumerate() {
        sum += alone(places, at, *key);
        if at > 0 {
            sum += join(places, at, keys[at - 1], *key);
        }
        if at > 1 {
            sum += turn(places, at, keys[at - 2], keys[at - 1], *key);
        }
    }
    sum
}

/// The notes that may stand at a place; never none.
pub(crate) fn choices(places: &[Place<'_>], at: usize) -> Vec<u8> {
    let Place {
        harmony, demand, ..
    } = places[at];
    let of = |set: u16| move |key: &u8| set & 1 << (key % 12) != 0;
    let set = match demand {
        Demand::Root => 1 << harmony.bass,
        Demand::Fifth => 1 << harmony.fifth(),
        Demand::Tone => harmony.tones | 1 << harmony.bass,
        Demand::Again if at > 0 => return choices(places, at - 1),
        Demand::Walk | Demand::Again => {
            let into = target(places, at)
                .map_or(0, |root| 1 << ((root + 1) % 12) | 1 << ((root + 11) % 12));
            harmony.all | 1 << harmony.bass | into
        }
    };
    (LOWEST..=HIGHEST).filter(of(set)).collect()
}

/// The root that follows a place, where it is another chord's.
fn target(places: &[Place<'_>], at: usize) -> Option<u8> {
    let next = places.get(at + 1)?;
    let changes = next.demand == Demand::Root && next.harmony != places[at].harmony;
    changes.then_some(next.harmony.bass)
}

/// What a note costs by itself.
fn alone(places: &[Place<'_>], at: usize, key: u8) -> u32 {
    let Place {
        harmony,
        demand,
        bar_line,
    } = places[at];
    let away =
        u32::from(HOME.start().saturating_sub(key)) + u32::from(key.saturating_sub(*HOME.end()));
    let class = key % 12;
    let walks = matches!(demand, Demand::Walk | Demand::Tone);
    let tone = match () {
        () if !walks || class == harmony.bass => 0,
        () if harmony.has(class) => 1,
        // a passing note is not for a bar line
        () => 1 + 4 * u32::from(bar_line),
    };
    tone + away
}

/// What a step costs.
fn join(places: &[Place<'_>], at: usize, from: u8, to: u8) -> u32 {
    const NEVER: u32 = 1_000;
    let apart = from.abs_diff(to);
    let (before, now) = (places[at - 1], places[at]);
    if now.demand == Demand::Again {
        return if apart == 0 { 0 } else { NEVER };
    }
    // a note outside the chord goes on by step, one outside its scale by a
    // half step into the root
    let passes = !before.harmony.has(from % 12) && from % 12 != before.harmony.bass;
    let strange = passes && before.harmony.all & 1 << (from % 12) == 0;
    let leaves = match apart {
        1 => 0,
        2 if !strange => 0,
        _ if strange => NEVER,
        _ if passes => 6,
        _ => 0,
    };
    let into_root = now.demand == Demand::Root && now.harmony != before.harmony;
    let size = match apart {
        0 => 8,
        1 => 0,
        2 | 7 if into_root => 1,
        5 if into_root => 1,
        _ if into_root && apart <= 12 => 3,
        2 => 0,
        3 | 4 => 1,
        5 | 7 => 2,
        6 => 4,
        8 | 9 => 4,
        10 | 11 => 6,
        12 => 3,
        _ => NEVER,
    };
    leaves + size
}

/// What two steps in a row cost.
fn turn(places: &[Place<'_>], at: usize, first: u8, second: u8, third: u8) -> u32 {
    if places[at].demand == Demand::Again || places[at - 1].demand == Demand::Again {
        return 0;
    }
    let back_and_forth = 4 * u32::from(first == third && places[at].demand == Demand::Walk);
    let (one, two) = (
        i16::from(second) - i16::from(first),
        i16::from(third) - i16::from(second),
    );
    let on = one.signum() == two.signum() && one.abs() > 4 && two.abs() > 2;
    back_and_forth + 3 * u32::from(on)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use theory::{Chord, ChordSymbol, Degree, Interval, PitchName};

    use super::*;

    fn harmony(text: &str, scale: &str) -> Harmony {
        let degrees: Vec<Degree> = scale.split(' ').map(|d| d.parse().unwrap()).collect();
        let symbol: ChordSymbol = text.parse().unwrap();
        Harmony::of(&symbol, &degrees, Interval::UNISON).unwrap()
    }

    const DORIAN: &str = "1 2 b3 4 5 6 b7";
    const MIXOLYDIAN: &str = "1 2 3 4 5 6 b7";
    const MAJOR: &str = "1 2 3 4 5 6 7";

    #[test]
    fn a_cadence_is_walked() {
        let chords = [
            harmony("Dm7", DORIAN),
            harmony("G7", MIXOLYDIAN),
            harmony("CM7", MAJOR),
        ];
        let mut places = Vec::new();
        for chord in &chords {
            for beat in 0..4 {
                let demand = if beat == 0 {
                    Demand::Root
                } else {
                    Demand::Walk
                };
                places.push(Place {
                    harmony: chord,
                    demand,
                    bar_line: beat == 0,
                });
            }
        }
        let keys = line(&places);
        assert_eq!([keys[0] % 12, keys[4] % 12, keys[8] % 12], [2, 7, 0]);
        for change in [4, 8] {
            let into = keys[change - 1].abs_diff(keys[change]);
            assert!(matches!(into, 1 | 5 | 7), "{keys:?}");
        }
        assert!(keys.windows(2).all(|pair| pair[0] != pair[1]), "{keys:?}");
        assert!(keys.iter().all(|key| (LOWEST..=HIGHEST).contains(key)));
    }

    #[test]
    fn a_note_again_is_the_same() {
        let chord = harmony("C7", MIXOLYDIAN);
        let demands = [Demand::Root, Demand::Again, Demand::Fifth, Demand::Again];
        let places = demands.map(|demand| Place {
            harmony: &chord,
            demand,
            bar_line: false,
        });
        let keys = line(&places);
        assert_eq!((keys[0], keys[2]), (keys[1], keys[3]));
        assert_eq!((keys[0] % 12, keys[2] % 12), (0, 7));
        assert_eq!(line(&[]), Vec::<u8>::new());
    }

    proptest! {
        /// Every line of a few notes is tried.
        #[test]
        fn no_other_line_costs_less(
            picks in prop::collection::vec((0usize..1_000, -6i16..6, 0usize..5, any::<bool>()), 1..5),
        ) {
            let catalogue: Vec<Chord> =
                Chord::catalogue().into_iter().filter(|chord| !chord.is_none()).collect();
            let harmonies: Vec<Harmony> = picks
                .iter()
                .map(|(kind, root, _, _)| {
                    let root = PitchName::from_fifths(*root);
                    let symbol = ChordSymbol::on(root, &catalogue[kind % catalogue.len()]);
                    Harmony::of(&symbol, &[], Interval::UNISON).unwrap()
                })
                .collect();
            let demands = [Demand::Root, Demand::Fifth, Demand::Tone, Demand::Walk, Demand::Again];
            let places: Vec<Place<'_>> = picks
                .iter()
                .zip(&harmonies)
                .map(|((_, _, demand, bar_line), harmony)| Place {
                    harmony,
                    demand: demands[*demand],
                    bar_line: *bar_line,
                })
                .collect();
            let every = (0..places.len()).fold(vec![Vec::new()], |lines: Vec<Vec<u8>>, at| {
                let more = choices(&places, at);
                lines.iter().flat_map(|line| more.iter().map(|key| [line.as_slice(), &[*key]].concat())).collect()
            });
            let least = every.iter().map(|keys| cost(&places, keys)).min();
            prop_assert_eq!(Some(cost(&places, &line(&places))), least);
        }
    }
}
