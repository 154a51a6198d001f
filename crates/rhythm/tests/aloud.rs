//! Rhythms said aloud: what they are in words, and that every one reads back.
#![cfg(test)]

use proptest::prelude::*;
use rhythm::{Count, Fraction, Meter, NoWords, Sound};

/// Sounds as `1/2 1 (1) 3/2`, lengths in quarters, silences in parentheses,
/// from the bar line or a pickup of so many quarters before it.
fn sounds(pickup: Fraction, lengths: &str) -> Vec<Sound> {
    let mut onset = -pickup;
    let sound = |word: &str| {
        let length: Fraction = word.trim_matches(['(', ')']).parse().unwrap();
        let sound = Sound {
            onset,
            length,
            silent: word.starts_with('('),
        };
        onset += length;
        sound
    };
    lengths.split_whitespace().map(sound).collect()
}

fn check(meter: &str, pickup: &str, lengths: &str, expected: Result<&str, NoWords>) {
    let sounds = sounds(pickup.parse().unwrap(), lengths);
    let said = Count::aloud(&sounds, &meter.parse().unwrap());
    assert_eq!(
        said.as_deref().map_err(|error| *error),
        expected,
        "{meter}: {lengths}"
    );
}

#[test]
fn struck_on_numbers_and_parts() {
    check("4/4", "0", "1 1 1 1", Ok("1 2 3 4"));
    check(
        "4/4",
        "0",
        "1/2 1/2 1/2 1/2 (1/2) 1/2 1/2 1/2",
        Ok("1 & 2 & (3) & 4 &"),
    );
    check("4/4", "0", "1/4 1/4 1/4 1/4 3", Ok("1 e & a 2"));
    check("4/4", "0", "1/3 1/3 1/3 3", Ok("1 trip let 2"));
    check("4/4", "0", "2 1 1", Ok("1 3 4"));
    check("6/8", "0", "1/2 1/2 1/2 3/2", Ok("1 2 3 4"));
    check("6/8", "0", "1/4 1/4 1 3/2", Ok("1 & 2 4"));
    check("7/8", "0", "1 1 3/2", Ok("1 3 5"));
    // One number in thirds, the next in halves.
    check("4/4", "0", "1/3 1/3 1/3 1/2 1/2 2", Ok("1 trip let 2 & 3"));
    check("6/8", "0", "1/6 1/6 1/6 1/4 1/4 2", Ok("1 trip let 2 & 3"));
}

#[test]
fn silences() {
    check("4/4", "0", "1/2 1/2 1/2 (1) 3/2", Ok("1 & 2 (& 3) &"));
    check("4/4", "0", "1", Ok("1 (2)"));
    check("4/4", "0", "1 (3)", Ok("1 (2)"));
    check("4/4", "0", "(1) 3", Ok("(1) 2"));
    check("4/4", "0", "(2) 1 3 2", Ok("(1) 3 4 | -1 3"));
    check("4/4", "0", "1 (7)", Ok("1 (2) | (1)"));
    check("4/4", "0", "4 (4) 4", Ok("1 | (1) | 1"));
    check("3/4", "0", "3/2 (1/2) 1", Ok("1-2 (&) 3"));
    // Silences that meet are one, said where it begins; so is the one that
    // fills the bar.
    check("4/4", "0", "1 (1/2) (3/2) 1", Ok("1 (2) 4"));
    check("4/4", "0", "1 (1/2)", Ok("1 (2)"));
}

#[test]
fn held_over_numbers() {
    check("4/4", "0", "3/2 1/2 2", Ok("1-2 & 3"));
    check("4/4", "0", "1/2 1 5/2", Ok("1 &-2 &"));
    check("4/4", "0", "7/4 1/4 2", Ok("1-2 a 3"));
    check("3/4", "0", "3/2 3/2", Ok("1-2 &"));
    check("4/4", "0", "3/2 3/2 1", Ok("1-2 & 4"));
    check("4/4", "0", "5/3 1/3 2", Ok("1-2 let 3"));
    check("4/4", "0", "4/3 4/3 4/3", Ok("1-2 trip-3 let"));
    check("4/4", "0", "5/2 3/2", Ok("1-3 &"));
    // Over bar lines, and through whole bars.
    check("4/4", "0", "8", Ok("1 | -1"));
    check("4/4", "0", "9 3", Ok("1 | -1 | -1 2"));
    check("4/4", "0", "3 3/2 1/2 1 2", Ok("1 4 | -1 & 2 3"));
    check("4/4", "0", "3 5/2 5/2", Ok("1 4 | -1-2 &"));
}

#[test]
fn pickups() {
    // What sounds into the next pickup takes another bar.
    check("4/4", "1", "1 1 1 2", Ok("4 | 1 2 3 | (1)"));
    check("4/4", "1", "1 1 1 1/2", Ok("4 | 1 2 3 (&)"));
    check("4/4", "1", "1 3", Ok("4 | 1 (4)"));
    check("4/4", "1", "1 4", Ok("4 | 1 | (1)"));
    check("4/4", "1", "1 3 1/2", Ok("4 | 1 4 (&)"));
    check("4/4", "1", "1 1 1 3/2", Ok("4 | 1 2 3-4 (&)"));
    check("4/4", "1/2", "1/2 3 3/4", Ok("& | 1 4 (a)"));
    check("4/4", "1/2", "1/2 2 3/2", Ok("& | 1 3-4 (&)"));
    // Without a number before it a part belongs to the last beat.
    check("4/4", "5/4", "1/4 1 3", Ok("a 4 | 1 (4)"));
    check("4/4", "3/2", "1/4 5/4 2", Ok("& a-4 | 1 (3)"));
    check("4/4", "5/4", "5/4 2", Ok("a-4 | 1 (3)"));
}

#[test]
fn a_pickup_in_which_nothing_sounds_is_left_out() {
    check("4/4", "1", "(1) 2 2", Ok("1 3"));
    check("4/4", "1", "(2) 3", Ok("(1) 2"));
    check("4/4", "2", "(1) 1 4", Ok("(3) 4 | 1 | (1)"));
}

#[test]
fn eighths_of_a_compound_bar_are_not_taken_for_beats() {
    check("6/8", "0", "1/4 1/8 1/8 5/2", Ok("1 & a 2-3"));
    check("6/8", "0", "1/4 1/8 1/8 (5/2)", Ok("1 & a (2 3)"));
    check("6/8", "0", "1/4 1/8 9/8 3/2", Ok("1 & a 4"));
    check("3/8", "0", "1/4 1/8 9/8", Ok("1 & a-2"));
    check("12/8", "0", "1/4 1/8 45/8", Ok("1 & a-5"));
    check("6/8", "0", "3 1/4 1/8 1/8 5/2", Ok("1 | 1 & a 2-3"));
    check("6/8", "0", "1/4 1/8 21/8 (3)", Ok("1 & a | (1 3)"));
}

#[test]
fn without_words() {
    let at = |upper, lower| Fraction::new(upper, lower);
    check("4/4", "0", "1/5 19/5", Err(NoWords::Between(at(1, 5))));
    check("4/4", "0", "1/3 1/6 7/2", Err(NoWords::Mixed(at(1, 2))));
    check("4/4", "0", "1/8 31/8", Err(NoWords::Between(at(1, 8))));
    check("5/32", "0", "1/32 1/8", Err(NoWords::NoFigure));
    check("4/4", "0", "", Err(NoWords::NoFigure));
    check("4/4", "0", "400", Err(NoWords::NoFigure));
}

const METERS: [&str; 10] = [
    "4/4", "3/4", "2/4", "5/4", "2/2", "6/8", "12/8", "7/8", "5/8", "3/8",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// Every sequence of notes and rests on a grid of eighths, sixteenths or
    /// triplets of what is numbered, over one to three bars, with or without a
    /// pickup, can be said, and what is said reads back the same: each note
    /// and silence where it was, and silence from the last to the bar line.
    #[test]
    fn every_rhythm_reads_back(
        meter in 0..METERS.len(),
        parts in prop::sample::select(vec![2i64, 3, 4]),
        bars in 1i64..4,
        pickup in 0i64..40,
        lengths in prop::collection::vec((1i64..20, 0u8..4), 1..30),
    ) {
        let meter: Meter = METERS[meter].parse().unwrap();
        let grid = meter.unit() / parts;
        let to_a_bar = (meter.bar() / grid).to_integer();
        let mut onset = -grid * (pickup % to_a_bar);
        let until = meter.bar() * bars;
        let mut sounds: Vec<Sound> = Vec::new();
        for (length, silent) in lengths {
            // A pickup begins with a note; silences that meet are one.
            let silent = silent == 0 && !(sounds.is_empty() && onset < Fraction::ZERO);
            if onset >= until || silent && sounds.last().is_some_and(|last| last.silent) {
                continue;
            }
            let length = (grid * length).min(until - onset);
            sounds.push(Sound { onset, length, silent });
            onset += length;
        }
        let text = Count::aloud(&sounds, &meter).map_err(|error| TestCaseError::fail(format!("{error:?}: {sounds:?}")))?;
        let read = Count::read(&text, &meter, None).unwrap();
        let first = sounds[0].onset;
        prop_assert_eq!(read.pickup, if first < Fraction::ZERO { -first } else { Fraction::ZERO });
        prop_assert!(read.length >= until.min(onset) - read.pickup, "{}", text);
        // Silence is said a count at a time.
        let mut found: Vec<Sound> = Vec::new();
        for slot in &read.slots {
            match found.last_mut().filter(|last| last.silent && slot.silent) {
                Some(last) => last.length += slot.length,
                None => found.push(Sound { onset: slot.onset, length: slot.length, silent: slot.silent }),
            }
        }
        let notes = |sounds: &[Sound]| sounds.iter().filter(|sound| !sound.silent).copied().collect::<Vec<_>>();
        prop_assert_eq!(notes(&found), notes(&sounds), "{}", text);
        let silences = |sounds: &[Sound]| sounds.iter().filter(|sound| sound.silent).map(|sound| sound.onset).collect::<Vec<_>>();
        let mut expected = silences(&sounds);
        let last = sounds[sounds.len() - 1];
        let end = last.onset + last.length;
        if !last.silent {
            expected.push(end);
        }
        // It stops for the next pickup.
        expected.retain(|onset| *onset < read.length - read.pickup);
        prop_assert_eq!(silences(&found), expected, "{}", text);
        // Only a note that ends where its figure does fills its bar.
        let fills = read.slots.last().is_some_and(|slot| !slot.silent) && !read.closes_with_rest;
        prop_assert_eq!(fills, !last.silent && (end / meter.bar()).is_integer() && read.pickup == Fraction::ZERO, "{}", text);
    }
}
