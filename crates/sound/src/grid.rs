//! The ticks of a track: as many to the quarter as make every time whole.

use rhythm::Fraction;

/// Ticks to the quarter that a file can say (Standard MIDI Files 1.0: 15
/// bits).
const MOST: u64 = 0x7FFF;

/// Coarser grids are multiplied up to this, so that a track is easy to edit.
const FEWEST: u64 = 480;

/// A track's ticks to the quarter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Grid {
    per_quarter: u64,
}

impl Grid {
    /// The coarsest that makes every one of these parts of a quarter whole,
    /// and then a comfortable multiple. Where a file can't say so many, those
    /// that come later give way: their times go to the nearest tick.
    pub(crate) fn of(parts: impl IntoIterator<Item = u64>) -> Grid {
        let mut per_quarter = 1;
        for part in parts {
            let finer = per_quarter / common(per_quarter, part.max(1)) * part.max(1);
            if finer <= MOST {
                per_quarter = finer;
            }
        }
        Grid {
            per_quarter: per_quarter * FEWEST.div_ceil(per_quarter),
        }
    }

    /// Ticks to the quarter, at most 32,767.
    pub(crate) fn per_quarter(self) -> u16 {
        self.per_quarter as u16
    }

    /// A score's time in this track's ticks, to the nearest.
    pub(crate) fn ticks(self, at: u64, divisions: u64) -> u64 {
        let divisions = u128::from(divisions.max(1));
        let ticks =
            (2 * u128::from(at) * u128::from(self.per_quarter) + divisions) / (2 * divisions);
        ticks.min(u128::from(u64::MAX)) as u64
    }

    /// A length in quarters in ticks, to the nearest; negative ones are none.
    pub(crate) fn quarters(self, length: Fraction) -> u64 {
        match (
            u64::try_from(*length.numer()),
            u64::try_from(*length.denom()),
        ) {
            (Ok(number), Ok(of)) => self.ticks(number, of),
            _ => 0,
        }
    }
}

fn common(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { common(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_to_the_quarter() {
        let check = |parts: &[u64], per_quarter| {
            assert_eq!(
                Grid::of(parts.iter().copied()).per_quarter(),
                per_quarter,
                "{parts:?}"
            );
        };
        check(&[], 480);
        check(&[1, 2, 3], 480);
        check(&[2, 3, 5], 480);
        check(&[7], 483);
        check(&[24, 3], 480);
        check(&[16, 5, 9], 720);
        check(&[16_383, 3], 16_383); // a multiple of three
        check(&[16_381, 2], 32_762);
        check(&[16_381, 3, 2], 32_762); // thirds give way
        check(&[0, 1], 480);
        check(&[u64::from(u16::MAX)], 480);
    }

    #[test]
    fn times_are_whole_or_nearest() {
        let check = |per_quarter, at, divisions, ticks| {
            assert_eq!(Grid { per_quarter }.ticks(at, divisions), ticks);
        };
        check(480, 7, 2, 1_680);
        check(480, 1, 3, 160);
        check(480, 1, 7, 69); // 68.57
        check(480, 3, 0, 1_440);
        check(u64::from(u16::MAX), u64::MAX, 1, u64::MAX);
        let grid = Grid { per_quarter: 480 };
        assert_eq!(grid.quarters(Fraction::new(3, 2)), 720);
        assert_eq!(grid.quarters(Fraction::new(-3, 2)), 0);
    }
}
