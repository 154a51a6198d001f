//! A line through the keys: each key's passage in the octave that makes the
//! way from one to the next shortest. Exact, by dynamic programming.

use theory::Pitch;

use crate::heights::{Heights, Reach, height};
use crate::place::horn::midi;
use crate::place::placement::Placement;

/// Semitones between one passage's last note and the next one's first,
/// summed; then how far passages lie from the middle of the range (twice it),
/// summed.
type Cost = (i32, i32);

/// A passage in semitones above its root.
#[derive(Debug, Clone)]
struct PassageReach {
    /// Roots it may stand on, as MIDI numbers, lowest first.
    roots: Vec<i32>,
    first: i32,
    last: i32,
    reach: Reach,
}

/// Chooses the octave of each passage: the least summed distance from the end
/// of one to the beginning of the next, then nearest the middle of the range,
/// then the lower at the first difference.
pub(crate) fn join(passages: &mut [Placement], heights: &Heights, range: Reach) {
    let shapes: Vec<PassageReach> = passages
        .iter()
        .map(|placed| PassageReach::of(placed, heights))
        .collect();
    let chosen = least(&shapes, range);
    for (placed, choice) in passages.iter_mut().zip(chosen) {
        placed.root = placed.roots[choice];
    }
}

impl PassageReach {
    fn of(placed: &Placement, heights: &Heights) -> PassageReach {
        let at = |tone: Option<&theory::LineTone>| tone.map_or(0, |tone| height(heights, *tone));
        let all = placed.tones.iter().map(|tone| height(heights, *tone));
        PassageReach {
            roots: placed
                .roots
                .iter()
                .map(|root: &Pitch| midi(*root))
                .collect(),
            first: at(placed.tones.first()),
            last: at(placed.tones.last()),
            reach: Reach::of(all).unwrap_or(Reach { low: 0, high: 0 }),
        }
    }

    fn off_middle(&self, root: i32, range: Reach) -> i32 {
        (self.reach.up(root).twice_middle() - range.twice_middle()).abs()
    }
}

/// Which root each passage stands on, as places among its roots.
fn least(passages: &[PassageReach], range: Reach) -> Vec<usize> {
    // From the last passage back: the least cost from each root on, and the
    // lowest next root that gives it.
    let mut rest: Vec<Vec<(Cost, usize)>> = Vec::with_capacity(passages.len());
    for (place, passage) in passages.iter().enumerate().rev() {
        let row = passage.roots.iter().map(|root| {
            let here = passage.off_middle(*root, range);
            let after = passages.get(place + 1).zip(rest.last());
            let onward = after.into_iter().flat_map(|(next, costs)| {
                let end = root + passage.last;
                next.roots.iter().zip(costs).enumerate().map(
                    move |(choice, (next_root, ((way, middle), _)))| {
                        let leap = (next_root + next.first - end).abs();
                        ((way + leap, middle + here), choice)
                    },
                )
            });
            onward.min().unwrap_or(((0, here), 0))
        });
        rest.push(row.collect());
    }
    rest.reverse();
    let start = rest.first().and_then(|row| {
        let costs = row.iter().enumerate();
        costs.map(|(choice, (cost, _))| (*cost, choice)).min()
    });
    let Some((_, mut choice)) = start else {
        return Vec::new();
    };
    let mut chosen = Vec::with_capacity(passages.len());
    for row in &rest {
        chosen.push(choice);
        choice = row.get(choice).map_or(0, |(_, next)| *next);
    }
    chosen
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// The best of all ways, tried one by one, lowest first.
    fn brute(passages: &[PassageReach], range: Reach) -> Vec<usize> {
        let mut ways: Vec<Vec<usize>> = vec![Vec::new()];
        for passage in passages {
            ways = ways
                .iter()
                .flat_map(|way| {
                    (0..passage.roots.len()).map(move |at| [way.as_slice(), &[at]].concat())
                })
                .collect();
        }
        let cost = |way: &Vec<usize>| {
            let roots: Vec<i32> = way
                .iter()
                .zip(passages)
                .map(|(at, passage)| passage.roots[*at])
                .collect();
            let leaps: i32 = (1..roots.len())
                .map(|at| {
                    let end = roots[at - 1] + passages[at - 1].last;
                    (roots[at] + passages[at].first - end).abs()
                })
                .sum();
            let middle: i32 = roots
                .iter()
                .zip(passages)
                .map(|(root, passage)| passage.off_middle(*root, range))
                .sum();
            (leaps, middle, way.clone())
        };
        ways.into_iter().min_by_key(cost).unwrap_or_default()
    }

    fn passage() -> impl Strategy<Value = PassageReach> {
        let roots = (40..52i32, 1..4i32);
        (roots, -12..13i32, -12..13i32).prop_map(|((lowest, octaves), first, last)| PassageReach {
            roots: (0..octaves).map(|octave| lowest + 12 * octave).collect(),
            first,
            last,
            reach: Reach {
                low: first.min(last) - 2,
                high: first.max(last) + 3,
            },
        })
    }

    proptest! {
        #[test]
        fn as_good_as_trying_all(passages in prop::collection::vec(passage(), 0..6)) {
            let range = Reach { low: 46, high: 80 };
            prop_assert_eq!(least(&passages, range), brute(&passages, range));
        }
    }

    #[test]
    fn a_tie_goes_to_the_middle_then_lower() {
        let passage = |roots: &[i32]| PassageReach {
            roots: roots.to_vec(),
            first: 0,
            last: 0,
            reach: Reach { low: 0, high: 0 },
        };
        let check = |rows: &[&[i32]], expected: &[usize]| {
            let passages: Vec<PassageReach> = rows.iter().map(|roots| passage(roots)).collect();
            assert_eq!(
                least(&passages, Reach { low: 50, high: 70 }),
                expected,
                "{rows:?}"
            );
        };
        check(&[&[48, 60, 72]], &[1]);
        check(&[&[54, 66]], &[0]); // six from the middle either way
        check(&[&[48, 60, 72], &[53, 65]], &[1, 1]); // five up rather than seven down
        check(&[&[54, 66], &[60]], &[0, 0]);
        check(&[&[60], &[54, 66], &[60]], &[0, 0, 0]);
    }
}
