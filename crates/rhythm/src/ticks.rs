//! Exact time: fractions of a quarter, and whole ticks to the quarter.

use num_traits::ToPrimitive;

/// A time or length in quarters, exact.
pub type Fraction = num_rational::Ratio<i64>;

/// A time or length in whole ticks; how many make a quarter is said once for
/// a whole lesson.
pub type Ticks = i64;

/// The most ticks to a quarter that every reader takes (MusicXML 4.0
/// `divisions`; MIDI's division is 15 bits).
pub const MOST_DIVISIONS: i64 = 16_383;

/// No number of ticks up to [`MOST_DIVISIONS`] serves all the times.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the rhythm is finer than {MOST_DIVISIONS} parts of a quarter")]
pub struct TickError;

/// The fewest ticks to a quarter in which all `times` are whole.
///
/// # Errors
/// When that takes more than [`MOST_DIVISIONS`].
pub fn divisions(times: impl IntoIterator<Item = Fraction>) -> Result<u32, TickError> {
    let mut least: i64 = 1;
    for time in times {
        let denominator = *time.denom();
        let more = denominator / common_divisor(least, denominator);
        least = least
            .checked_mul(more)
            .filter(|ticks| *ticks <= MOST_DIVISIONS)
            .ok_or(TickError)?;
    }
    least.to_u32().ok_or(TickError)
}

fn common_divisor(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(times: &[(i64, i64)], expected: Result<u32, TickError>) {
        let times = times
            .iter()
            .map(|(upper, lower)| Fraction::new(*upper, *lower));
        assert_eq!(divisions(times), expected);
    }

    #[test]
    fn fewest_that_serve() {
        check(&[], Ok(1));
        check(&[(1, 1), (3, 2)], Ok(2));
        // Quarter, eighth, sixteenth and eighth triplet together: 12; with
        // septuplets 84, with quintuplets too 420 (arithmetic).
        check(&[(1, 1), (1, 2), (1, 4), (1, 3)], Ok(12));
        check(&[(1, 4), (1, 3), (1, 7)], Ok(84));
        check(&[(1, 4), (1, 3), (1, 5), (1, 7)], Ok(420));
        check(&[(1, 16_383)], Ok(16_383));
        check(&[(1, 16_384)], Err(TickError));
        check(&[(1, 127), (1, 131)], Err(TickError));
    }
}
