//! Rule 9: where systems begin. At statements where that can be, four bars to
//! a system, fewer when bars are dense or staves large, and no last bar alone
//! unless one or two fill a line.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use rhythm::{BarPieces, Ticks};
use theory::Level;

use crate::print::Print;

/// What a break elsewhere than at a statement costs, beside a bar too few or
/// too many (1, 4, 9 …).
const INSIDE_A_STATEMENT: u32 = 6;

/// What a last bar alone on its system costs.
const LONELY: u32 = 1_000;

/// The bars (by place) at which systems begin, the first always among them.
pub(crate) fn systems(bars: &[BarPieces], starts: &[Ticks], print: Print) -> Vec<bool> {
    laid_out(bars, starts, bars_to_a_system(bars, print))
}

fn laid_out(bars: &[BarPieces], starts: &[Ticks], most: usize) -> Vec<bool> {
    let count = bars.len();
    let starts: BTreeSet<Ticks> = starts.iter().copied().collect();
    let opens: Vec<bool> = bars.iter().map(|bar| starts.contains(&bar.start)).collect();
    // The least cost of bars from each place on, and the system that gives it.
    let mut rest: Vec<(u32, usize)> = vec![(0, 0); count + 1];
    // The last system may hold one more, but where one or two bars fill a line,
    // that would double it.
    let takes_one_more = most > 2;
    for place in (0..count).rev() {
        let left = count - place;
        let longest = if takes_one_more && left == most + 1 {
            left
        } else {
            most.min(left)
        };
        let ways = (1..=longest).map(|length| {
            let next = place + length;
            let last = next == count;
            // The last may be shorter for nothing.
            let gap = if last {
                length.saturating_sub(most)
            } else {
                most - length
            } as u32;
            let mut cost = gap * gap;
            if last && length == 1 && takes_one_more {
                cost += LONELY;
            }
            if !last && !opens[next] {
                cost += INSIDE_A_STATEMENT;
            }
            (cost + rest[next].0, length)
        });
        // Of equal ways the longest system first.
        rest[place] = ways
            .min_by_key(|(cost, length)| (*cost, Reverse(*length)))
            .unwrap_or((0, 1));
    }
    let mut begins = vec![false; count];
    let mut place = 0;
    while place < count {
        begins[place] = true;
        place += rest[place].1.max(1);
    }
    begins
}

/// How many bars go on a system.
fn bars_to_a_system(bars: &[BarPieces], print: Print) -> usize {
    let pieces: usize = bars.iter().map(|bar| bar.pieces.len()).max().unwrap_or(0);
    let large = match print.level {
        _ if print.large => 2,
        Level::Beginner => 1,
        Level::Intermediate | Level::Advanced => 0,
    };
    // About 36 notes stand comfortably on a line, 32 with labels under them,
    // fewer on large staves.
    let room = 36 - 4 * print.rows.len().min(2) - 6 * large;
    (room / pieces.max(1)).clamp(1, 4 - large)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bars of length 8 with statements beginning at the given bars; how many
    /// bars each system gets.
    fn check(bars: usize, starts: &[i64], most: usize, expected: &[usize]) {
        let list: Vec<BarPieces> = (0..bars)
            .map(|bar| BarPieces {
                start: bar as i64 * 8,
                length: 8,
                pieces: Vec::new(),
            })
            .collect();
        let starts: Vec<Ticks> = starts.iter().map(|bar| bar * 8).collect();
        let begins = laid_out(&list, &starts, most);
        let mut found: Vec<usize> = Vec::new();
        for begin in begins {
            match found.last_mut() {
                Some(bars) if !begin => *bars += 1,
                _ => found.push(1),
            }
        }
        assert_eq!(found, expected, "{bars} bars, {most} to a system");
    }

    #[test]
    fn systems_begin_at_statements() {
        let every: Vec<i64> = (0..40).collect();
        let second: Vec<i64> = (0..40).step_by(2).collect();
        let third: Vec<i64> = (0..40).step_by(3).collect();
        check(16, &every, 4, &[4, 4, 4, 4]);
        check(33, &second, 4, &[4, 4, 4, 4, 4, 4, 4, 5]);
        check(12, &third, 4, &[3, 3, 3, 3]);
        check(7, &every, 4, &[4, 3]);
        check(6, &every, 4, &[4, 2]);
        check(10, &every, 4, &[4, 4, 2]);
        // A line of one bar stretches worse than a break within a statement
        // tears.
        check(9, &[0, 1, 5], 4, &[4, 5]);
        // Where every statement would be torn, it doesn't.
        check(17, &[0, 1, 5, 9, 13], 4, &[1, 4, 4, 4, 4]);
        // A line of three never does.
        check(7, &[0, 3], 4, &[3, 4]);
    }

    #[test]
    fn no_last_bar_stands_alone() {
        let every: Vec<i64> = (0..40).collect();
        check(17, &every, 4, &[4, 4, 4, 5]);
        check(5, &every, 4, &[5]);
        check(1, &every, 4, &[1]);
        // But where a line holds two at most, none holds three.
        check(7, &every, 2, &[2, 2, 2, 1]);
        check(3, &every, 1, &[1, 1, 1]);
        for most in 3..=4 {
            for bars in 2..40 {
                let list: Vec<BarPieces> = (0..bars)
                    .map(|bar| BarPieces {
                        start: bar * 8,
                        length: 8,
                        pieces: Vec::new(),
                    })
                    .collect();
                let begins = laid_out(&list, &[0], most);
                assert!(
                    !begins[bars as usize - 1],
                    "{bars} bars, {most} to a system"
                );
            }
        }
    }
}
