//! Close voicings with smooth voice leading, and the bass under them.
//!
//! Of all close voicings in the register, the row of voicings that moves
//! least in sum is taken (exact, by dynamic programming); of those, the one
//! nearest the middle of the register, then the lower at the last
//! difference.

use theory::{ChordSymbol, Degree, Interval};

/// A chord as it is played: MIDI numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Voicing {
    /// Upwards.
    pub keys: Vec<u8>,
    pub bass: u8,
}

/// Lowest and highest key of a voicing, E 3 and E 5, and the middle: where
/// comping lies clear of the bass and not over the line (common practice).
const LOWEST: u8 = 52;
const HIGHEST: u8 = 76;
const MIDDLE: u32 = 64;

/// Lowest and highest bass note, C 2 and D 3, and where it starts from.
const LOWEST_BASS: u8 = 36;
const HIGHEST_BASS: u8 = 50;
const FIRST_BASS: u8 = 43;

/// The most notes over the bass.
const MOST_VOICES: usize = 4;

/// Voices chords that follow each other; none for N.C. Chords are in written
/// pitch and come out sounding.
pub(crate) fn voice(chords: &[&ChordSymbol], to_sound: Interval) -> Vec<Option<Voicing>> {
    let sounding: Vec<(Vec<u8>, u8)> = chords
        .iter()
        .filter(|chord| !chord.chord.is_none())
        .map(|chord| (voices(chord, to_sound), bass(chord, to_sound)))
        .collect();
    let keys = smoothest(
        sounding
            .iter()
            .map(|(classes, _)| close_voicings(classes))
            .collect(),
    );
    let basses = nearest(sounding.iter().map(|(_, bass)| *bass));
    let mut voicings = keys
        .into_iter()
        .zip(basses)
        .map(|(keys, bass)| Voicing { keys, bass });
    chords
        .iter()
        .map(|chord| {
            if chord.chord.is_none() {
                None
            } else {
                voicings.next()
            }
        })
        .collect()
}

/// The pitch classes over the bass: all of up to four tones, of more those
/// that tell most.
fn voices(chord: &ChordSymbol, to_sound: Interval) -> Vec<u8> {
    let degrees = chord.chord.degrees();
    let mut ranked: Vec<Degree> = degrees.to_vec();
    ranked.sort_by_key(|degree| rank(*degree, degrees, chord.bass.is_some()));
    let mut classes: Vec<u8> = Vec::with_capacity(MOST_VOICES);
    for degree in ranked {
        let class = class(chord.root.class(), degree.interval() + to_sound);
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

fn bass(chord: &ChordSymbol, to_sound: Interval) -> u8 {
    class(chord.bass.unwrap_or(chord.root).class(), to_sound)
}

fn class(root: u8, above: Interval) -> u8 {
    (i32::from(root) + i32::from(above.semitones())).rem_euclid(12) as u8
}

/// Every way to stack classes within an octave, in the register, lowest
/// first.
fn close_voicings(classes: &[u8]) -> Vec<Vec<u8>> {
    (LOWEST..=HIGHEST)
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
                .is_some_and(|top| *top <= HIGHEST)
                .then_some(keys)
        })
        .collect()
}

/// One of each row of choices, so that the whole moves least.
fn smoothest(choices: Vec<Vec<Vec<u8>>>) -> Vec<Vec<u8>> {
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
                (moved, off + off_middle(keys), from)
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
fn off_middle(keys: &[u8]) -> u32 {
    let voices = keys.len().max(1) as u32;
    let sum: u32 = keys.iter().map(|key| u32::from(*key)).sum();
    12 * sum.abs_diff(MIDDLE * voices) / voices
}

/// Bass notes of these classes, each as near to the one before as can be; of
/// two as near, the lower.
fn nearest(classes: impl Iterator<Item = u8>) -> Vec<u8> {
    let mut last = FIRST_BASS;
    classes
        .map(|class| {
            let keys = (LOWEST_BASS..=HIGHEST_BASS).filter(|key| key % 12 == class);
            last = keys
                .min_by_key(|key| key.abs_diff(last))
                .unwrap_or(FIRST_BASS);
            last
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use theory::{Chord, PitchName};

    use super::*;

    fn voiced(symbols: &str) -> Vec<Option<Voicing>> {
        let chords: Vec<ChordSymbol> = symbols
            .split(' ')
            .map(|symbol| symbol.parse().unwrap())
            .collect();
        voice(&chords.iter().collect::<Vec<_>>(), Interval::UNISON)
    }

    #[test]
    fn smooth_rows() {
        let check = |symbols: &str, expected: &str| {
            let said: Vec<String> = voiced(symbols)
                .into_iter()
                .map(|voicing| {
                    voicing.map_or("-".to_owned(), |Voicing { keys, bass }| {
                        let keys: Vec<String> = keys.iter().map(u8::to_string).collect();
                        format!("{bass}:{}", keys.join(","))
                    })
                })
                .collect();
            assert_eq!(said.join(" "), expected, "{symbols}");
        };
        // C major nearest the middle: G3 C4 E4 … C4 E4 G4
        check("C", "48:60,64,67");
        // C E G stay or move by steps: C A F, C E G, B D G
        check("C F G C", "48:60,64,67 41:60,65,69 43:59,62,67 48:60,64,67");
        check("Dm7 G7 CM7", "38:60,62,65,69 43:59,62,65,67 48:59,60,64,67");
        check("C N.C. C", "48:60,64,67 - 48:60,64,67");
        check("C/E", "40:60,64,67");
    }

    #[test]
    fn of_many_tones_those_that_tell_most() {
        let check = |symbol: &str, expected: &[u8]| {
            let chord: ChordSymbol = symbol.parse().unwrap();
            assert_eq!(voices(&chord, Interval::UNISON), expected, "{symbol}");
        };
        check("C", &[0, 4, 7]);
        check("C7", &[0, 4, 7, 10]);
        check("C9", &[0, 2, 4, 10]);
        check("C7(b9)", &[0, 1, 4, 10]);
        check("C13", &[2, 4, 9, 10]);
        check("C7sus4", &[0, 5, 7, 10]);
        check("Cm7b5", &[0, 3, 6, 10]);
    }

    proptest! {
        #[test]
        fn every_chord_lies_in_its_register(
            picks in prop::collection::vec((0usize..1_000, -8i16..8), 1..12),
            steps in -14i16..3,
        ) {
            let catalogue = Chord::catalogue();
            let chords: Vec<ChordSymbol> = picks
                .iter()
                .map(|(kind, root)| {
                    ChordSymbol::on(PitchName::from_fifths(*root), &catalogue[kind % catalogue.len()])
                })
                .collect();
            let to_sound = Interval::from_steps(steps, steps * 12 / 7);
            let voicings = voice(&chords.iter().collect::<Vec<_>>(), to_sound);
            prop_assert_eq!(voicings.len(), chords.len());
            for (chord, voicing) in chords.iter().zip(voicings) {
                prop_assert_eq!(voicing.is_none(), chord.chord.is_none());
                let Some(Voicing { keys, bass }) = voicing else { continue };
                let sounding = chord.transposed(to_sound);
                let bass_class = sounding.bass.unwrap_or(sounding.root).class();
                let tones: Vec<u8> = sounding.tones().iter().map(|tone| tone.class()).collect();
                prop_assert_eq!(bass % 12, bass_class);
                prop_assert!((LOWEST_BASS..=HIGHEST_BASS).contains(&bass));
                prop_assert!(!keys.is_empty() && keys.is_sorted_by(|a, b| a < b));
                prop_assert!(keys[0] >= LOWEST && keys[keys.len() - 1] <= HIGHEST);
                prop_assert!(keys[keys.len() - 1] - keys[0] < 12);
                prop_assert!(keys.iter().all(|key| tones.contains(&(key % 12))));
            }
        }

        #[test]
        fn no_other_row_moves_less(picks in prop::collection::vec((0usize..1_000, -6i16..6), 2..4)) {
            let catalogue: Vec<Chord> =
                Chord::catalogue().into_iter().filter(|chord| !chord.is_none()).collect();
            let choices: Vec<Vec<Vec<u8>>> = picks
                .iter()
                .map(|(kind, root)| {
                    let root = PitchName::from_fifths(*root);
                    let chord = ChordSymbol::on(root, &catalogue[kind % catalogue.len()]);
                    close_voicings(&voices(&chord, Interval::UNISON))
                })
                .collect();
            let moved = |row: &[Vec<u8>]| -> u32 { row.windows(2).map(|w| motion(&w[0], &w[1])).sum() };
            let least = choices.iter().fold(vec![Vec::new()], |rows: Vec<Vec<Vec<u8>>>, next| {
                rows.iter()
                    .flat_map(|row| next.iter().map(|keys| [row.as_slice(), std::slice::from_ref(keys)].concat()))
                    .collect()
            });
            let least = least.iter().map(|row| moved(row)).min();
            prop_assert_eq!(Some(moved(&smoothest(choices))), least);
        }
    }
}
