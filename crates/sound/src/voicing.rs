//! Close voicings with smooth voice leading.
//!
//! Of all close voicings in the register, the row of voicings that moves
//! least in sum is taken (exact, by dynamic programming); of those, the one
//! nearest the middle of the register, then the lower at the last
//! difference.

/// Lowest and highest key of a voicing, and where it would rather lie: MIDI
/// numbers.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Register {
    pub lowest: u8,
    pub highest: u8,
    pub middle: u32,
}

/// Chords with their roots, as they are stacked within an octave.
pub(crate) mod close {
    use theory::Degree;

    use super::Register;
    use crate::harmony::Harmony;

    /// The most notes over the bass.
    const MOST_VOICES: usize = 4;

    /// The pitch classes over the bass: all of up to four tones, of more those
    /// that tell most.
    pub(crate) fn voices(harmony: &Harmony) -> Vec<u8> {
        let mut ranked: Vec<Degree> = harmony.degrees.to_vec();
        ranked.sort_by_key(|degree| rank(*degree, harmony.degrees, harmony.slash));
        let mut classes: Vec<u8> = Vec::with_capacity(MOST_VOICES);
        for degree in ranked {
            let class = harmony.class(degree);
            if !classes.contains(&class) && classes.len() < MOST_VOICES {
                classes.push(class);
            }
        }
        classes.sort_unstable();
        classes
    }

    /// How much a tone tells of its chord, first what tells most (common
    /// practice: third and seventh first, the plain fifth last, the root before
    /// it since the bass has it).
    fn rank(degree: Degree, of: &[Degree], other_bass: bool) -> (u8, Degree) {
        let has = |number| of.iter().any(|one| one.number == number);
        let rank = match degree.number {
            3 => 0,
            2 | 4 if !has(3) => 0,
            7 => 1,
            6 if !has(7) => 1,
            5 if degree.alteration != 0 => 2,
            1 if other_bass => 2,
            1 => 5,
            5 => 6,
            _ if degree.alteration != 0 => 3,
            _ => 4,
        };
        (rank, degree)
    }

    /// Every way to stack classes within an octave, in the register, lowest
    /// first.
    pub(crate) fn voicings(classes: &[u8], register: Register) -> Vec<Vec<u8>> {
        (register.lowest..=register.highest)
            .filter_map(|lowest| {
                let first = classes.iter().position(|class| lowest % 12 == *class)?;
                let mut keys: Vec<u8> = classes
                    .iter()
                    .cycle()
                    .skip(first)
                    .take(classes.len())
                    .map(|class| lowest + (12 + class - lowest % 12) % 12)
                    .collect();
                keys.sort_unstable();
                keys.last()
                    .is_some_and(|top| *top <= register.highest)
                    .then_some(keys)
            })
            .collect()
    }
}

/// Chords without their roots, which the bass has (common practice: third
/// and seventh, then what the chord is named for, then a ninth and a fifth or
/// thirteenth that its scale has).
pub(crate) mod rootless {
    use theory::Degree;

    use crate::harmony::Harmony;

    /// The pitch classes, upwards; at least one.
    pub(crate) fn voices(harmony: &Harmony) -> Vec<u8> {
        let degrees = harmony.degrees;
        let of = |number: u8| {
            degrees
                .iter()
                .copied()
                .filter(move |one| one.number == number)
        };
        let third = of(3)
            .next()
            .or_else(|| of(4).next())
            .or_else(|| of(2).next());
        let seventh = of(7).next().or_else(|| of(6).next());
        let most = if seventh.is_some() { 4 } else { 3 };
        let named = degrees.iter().copied().filter(|one| one.number > 7);
        let altered = of(5).filter(|fifth| fifth.alteration != 0);
        let wanted = [third, seventh]
            .into_iter()
            .flatten()
            .chain(altered)
            .chain(named)
            .chain(colour(harmony, 2, &[2]))
            .chain(of(5))
            .chain(colour(harmony, 6, &[9]).filter(|_| seventh.is_some()));
        let mut classes: Vec<u8> = Vec::with_capacity(most);
        for degree in wanted {
            let class = harmony.class(degree);
            let new = class != harmony.root && !classes.contains(&class);
            if new && classes.len() < most {
                classes.push(class);
            }
        }
        if classes.is_empty() {
            classes.push(harmony.fifth());
        }
        classes.sort_unstable();
        classes
    }

    /// A degree of the scale that colours a chord: it stands so many half
    /// steps above the root, and none above a tone of the chord.
    fn colour(
        harmony: &Harmony,
        number: u8,
        above: &'static [i16],
    ) -> impl Iterator<Item = Degree> {
        let rubs = |class: u8| harmony.has((class + 11) % 12);
        let fits = |degree: &&Degree| {
            degree.number == number
                && above.contains(&degree.interval().semitones())
                && !rubs(harmony.class(**degree))
        };
        harmony.scale.iter().find(fits).copied().into_iter()
    }
}

/// One of each row of choices, so that the whole moves least.
pub(crate) fn smoothest(choices: Vec<Vec<Vec<u8>>>, register: Register) -> Vec<Vec<u8>> {
    // for each choice of each chord: moved so far, off the middle so far, and
    // from which choice of the chord before
    let mut paths: Vec<Vec<(u32, u32, usize)>> = Vec::with_capacity(choices.len());
    for (number, row) in choices.iter().enumerate() {
        let before = number
            .checked_sub(1)
            .and_then(|n| Some((choices.get(n)?, paths.get(n)?)));
        let path = row
            .iter()
            .map(|keys| {
                let best = before.and_then(|(others, path)| {
                    let ways = others.iter().zip(path).enumerate();
                    ways.map(|(from, (other, so_far))| {
                        (so_far.0 + motion(other, keys), so_far.1, from)
                    })
                    .min()
                });
                let (moved, off, from) = best.unwrap_or_default();
                (moved, off + off_middle(keys, register), from)
            })
            .collect();
        paths.push(path);
    }
    let mut taken = Vec::with_capacity(choices.len());
    let mut at = None;
    for (mut row, path) in choices.into_iter().zip(paths).rev() {
        let place = at.or_else(|| (0..path.len()).min_by_key(|place| path.get(*place)));
        let chosen = place.filter(|place| *place < row.len());
        at = chosen.and_then(|place| path.get(place)).map(|way| way.2);
        taken.push(
            chosen
                .map(|place| row.swap_remove(place))
                .unwrap_or_default(),
        );
    }
    taken.reverse();
    taken
}

/// Semitones that voices move in sum: pairwise where they are as many, else
/// each to its nearest.
fn motion(from: &[u8], to: &[u8]) -> u32 {
    let apart = |a: &u8, b: &u8| u32::from(a.abs_diff(*b));
    if from.len() == to.len() {
        return from.iter().zip(to).map(|(a, b)| apart(a, b)).sum();
    }
    let nearest = |one: &[u8], other: &[u8]| -> u32 {
        let distances = one.iter().map(|a| other.iter().map(|b| apart(a, b)).min());
        distances.map(Option::unwrap_or_default).sum()
    };
    nearest(from, to).max(nearest(to, from))
}

/// Twelfths of a semitone from the middle of the register to a voicing's.
fn off_middle(keys: &[u8], register: Register) -> u32 {
    let voices = keys.len().max(1) as u32;
    let sum: u32 = keys.iter().map(|key| u32::from(*key)).sum();
    12 * sum.abs_diff(register.middle * voices) / voices
}

/// Notes of these classes between two keys, each as near to the one before as
/// can be, the first to where they start from; of two as near, the lower.
pub(crate) fn near(
    classes: impl Iterator<Item = u8>,
    (lowest, highest): (u8, u8),
    from: u8,
) -> Vec<u8> {
    let mut last = from;
    classes
        .map(|class| {
            let keys = (lowest..=highest).filter(|key| key % 12 == class);
            last = keys.min_by_key(|key| key.abs_diff(last)).unwrap_or(from);
            last
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use theory::{Chord, ChordSymbol, Degree, Interval, PitchName};

    use super::*;
    use crate::harmony::Harmony;

    const WIDE: Register = Register {
        lowest: 52,
        highest: 76,
        middle: 64,
    };

    fn harmony(symbol: &str, scale: &str) -> Harmony {
        let degrees = scale.split_whitespace().map(|d| d.parse().unwrap());
        let degrees: Vec<Degree> = degrees.collect();
        let symbol: ChordSymbol = symbol.parse().unwrap();
        Harmony::of(&symbol, &degrees, Interval::UNISON).unwrap()
    }

    #[test]
    fn smooth_rows() {
        let check = |symbols: &str, expected: &str| {
            let choices = symbols
                .split(' ')
                .map(|symbol| close::voicings(&close::voices(&harmony(symbol, "")), WIDE));
            let said: Vec<String> = smoothest(choices.collect(), WIDE)
                .into_iter()
                .map(|keys| {
                    let keys: Vec<String> = keys.iter().map(u8::to_string).collect();
                    keys.join(",")
                })
                .collect();
            assert_eq!(said.join(" "), expected, "{symbols}");
        };
        // C major nearest the middle: G3 C4 E4 … C4 E4 G4
        check("C", "60,64,67");
        // C E G stay or move by steps: C A F, C E G, B D G
        check("C F G C", "60,64,67 60,65,69 59,62,67 60,64,67");
        check("Dm7 G7 CM7", "60,62,65,69 59,62,65,67 59,60,64,67");
        check("C/E", "60,64,67");
    }

    #[test]
    fn of_many_tones_those_that_tell_most() {
        let check = |symbol: &str, expected: &[u8]| {
            assert_eq!(close::voices(&harmony(symbol, "")), expected, "{symbol}");
        };
        check("C", &[0, 4, 7]);
        check("C7", &[0, 4, 7, 10]);
        check("C9", &[0, 2, 4, 10]);
        check("C7(b9)", &[0, 1, 4, 10]);
        check("C13", &[2, 4, 9, 10]);
        check("C7sus4", &[0, 5, 7, 10]);
        check("Cm7b5", &[0, 3, 6, 10]);
    }

    #[test]
    fn without_the_root() {
        let check = |symbol: &str, scale: &str, expected: &[u8]| {
            assert_eq!(
                rootless::voices(&harmony(symbol, scale)),
                expected,
                "{symbol}"
            );
        };
        check("C7", "1 2 3 4 5 6 b7", &[2, 4, 7, 10]);
        check("C7", "1 2 3 #4 5 6 b7", &[2, 4, 7, 10]);
        // a ninth that the scale lacks isn't played
        check("C7", "1 b2 3 4 5 b6 b7", &[4, 7, 10]);
        check("C7alt", "1 b2 b3 b4 b5 b6 b7", &[3, 4, 8, 10]);
        check("Dm7", "1 2 b3 4 5 6 b7", &[0, 4, 5, 9]);
        check("CM7", "1 2 3 4 5 6 7", &[2, 4, 7, 11]);
        check("C", "1 2 3 4 5 6 7", &[2, 4, 7]);
        check("Cm7b5", "1 b2 b3 4 b5 b6 b7", &[3, 6, 10]);
        check("C13", "1 2 3 4 5 6 b7", &[2, 4, 9, 10]);
        check("C7sus4", "1 2 3 4 5 6 b7", &[2, 5, 7, 10]);
        check("Cdim7", "1 2 b3 4 b5 b6 6 7", &[2, 3, 6, 9]);
        check("C5", "", &[7]);
    }

    proptest! {
        #[test]
        fn no_other_row_moves_less(picks in prop::collection::vec((0usize..1_000, -6i16..6), 2..4)) {
            let catalogue: Vec<Chord> =
                Chord::catalogue().into_iter().filter(|chord| !chord.is_none()).collect();
            let choices: Vec<Vec<Vec<u8>>> = picks
                .iter()
                .map(|(kind, root)| {
                    let root = PitchName::from_fifths(*root);
                    let symbol = ChordSymbol::on(root, &catalogue[kind % catalogue.len()]);
                    let harmony = Harmony::of(&symbol, &[], Interval::UNISON).unwrap();
                    close::voicings(&close::voices(&harmony), WIDE)
                })
                .collect();
            let moved = |row: &[Vec<u8>]| -> u32 { row.windows(2).map(|w| motion(&w[0], &w[1])).sum() };
            let least = choices.iter().fold(vec![Vec::new()], |rows: Vec<Vec<Vec<u8>>>, next| {
                rows.iter()
                    .flat_map(|row| next.iter().map(|keys| [row.as_slice(), std::slice::from_ref(keys)].concat()))
                    .collect()
            });
            let least = least.iter().map(|row| moved(row)).min();
            prop_assert_eq!(Some(moved(&smoothest(choices, WIDE))), least);
        }
    }
}
