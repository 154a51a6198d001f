//! Moves and count must agree: a note on every sounding count, rests only
//! where the count is silent.

use rhythm::Count;

use crate::mistakes::saying::Spanned;
use crate::typed::figures::wording::Beat;

/// Where moves and count part company, by index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Mismatch {
    /// This count has no note left.
    NoNote { slot: usize },
    /// This move has no count left.
    NoCount { word: usize },
    /// This rest meets a sounding count.
    RestOnNote { word: usize, slot: usize },
    /// This rest has no silence left.
    NoSilence { word: usize },
}

/// Lays moves over a count. Silence that the moves don't mention is fine.
pub(crate) fn agree(beats: &[Spanned<Beat>], count: &Count) -> Result<(), Mismatch> {
    let slots = &count.slots;
    let mut slot = 0;
    for (word, beat) in beats.iter().enumerate() {
        let notes = match beat.value {
            Beat::Note => 1,
            Beat::Pair => 2,
            Beat::Rest => {
                match slots.get(slot) {
                    Some(found) if found.silent => slot += 1,
                    Some(_) => return Err(Mismatch::RestOnNote { word, slot }),
                    // Silence that the next pickup takes the place of.
                    None if count.closes_with_rest => {}
                    None => return Err(Mismatch::NoSilence { word }),
                }
                0
            }
        };
        for _ in 0..notes {
            let Some(next) = (slot..slots.len()).find(|at| !slots[*at].silent) else {
                return Err(Mismatch::NoCount { word });
            };
            slot = next + 1;
        }
    }
    match (slot..slots.len()).find(|at| !slots[*at].silent) {
        Some(slot) => Err(Mismatch::NoNote { slot }),
        None => Ok(()),
    }
}

/// Notes that moves sound.
pub(crate) fn notes(beats: &[Spanned<Beat>]) -> usize {
    beats
        .iter()
        .map(|beat| match beat.value {
            Beat::Note => 1,
            Beat::Pair => 2,
            Beat::Rest => 0,
        })
        .sum()
}

/// For each count that moves take one by one, whether it is silent.
pub(crate) fn silences(beats: &[Spanned<Beat>]) -> Vec<bool> {
    beats
        .iter()
        .flat_map(|beat| match beat.value {
            Beat::Note => vec![false],
            Beat::Pair => vec![false, false],
            Beat::Rest => vec![true],
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use rhythm::{Fraction, Slot};

    /// A count as `n` (note) and `-` (silence); moves as `n`, `p` (pair), `-`.
    fn check(moves: &str, count: &str, expected: Result<(), Mismatch>) {
        let slots = count
            .chars()
            .map(|c| Slot {
                onset: Fraction::from(0),
                length: Fraction::from(1),
                silent: c == '-',
            })
            .collect();
        let zero = Fraction::from(0);
        let count = Count {
            slots,
            pickup: zero,
            length: zero,
            closes_with_rest: false,
            counting: rhythm::Counting::default(),
        };
        let beats: Vec<_> = moves
            .chars()
            .map(|c| {
                let value = match c {
                    'n' => Beat::Note,
                    'p' => Beat::Pair,
                    _ => Beat::Rest,
                };
                Spanned { value, span: 0..0 }
            })
            .collect();
        assert_eq!(agree(&beats, &count), expected, "{moves} over {count:?}");
    }

    #[test]
    fn every_count_has_its_note() {
        check("nnn", "nnn", Ok(()));
        check("nnn", "nn-n", Ok(()));
        check("nn-n", "nn-n", Ok(()));
        check("nn-n", "nn--n", Ok(()));
        check("np", "n-nn", Ok(()));
        check("-n", "-n", Ok(()));
        check("n", "-n-", Ok(()));
        check("nn", "nnn", Err(Mismatch::NoNote { slot: 2 }));
        check("nnn", "n-n-", Err(Mismatch::NoCount { word: 2 }));
        check("np", "nn", Err(Mismatch::NoCount { word: 1 }));
        check(
            "n-nn",
            "nn-n",
            Err(Mismatch::RestOnNote { word: 1, slot: 1 }),
        );
        check("nn-", "nn", Err(Mismatch::NoSilence { word: 2 }));
    }
}
