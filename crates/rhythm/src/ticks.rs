//! Exact time: fractions of a quarter, and whole ticks to the quarter.

use num_traits::Zero as _;

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
    let mut common: i64 = 1;
    for time in times {
        let parts = *time.denom();
        let missing = parts / gcd(common, parts);
        common = common
            .checked_mul(missing)
            .filter(|common| *common <= MOST_DIVISIONS)
            .ok_or(TickError)?;
    }
    u32::try_from(common).map_err(|_| TickError)
}

fn gcd(mut a: i64, mut b: i64) -> i64 {
    while !b.is_zero() {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(parts: &[i64], expected: Option<u32>) {
        let times = parts.iter().map(|part| Fraction::new(1, *part));
        assert_eq!(divisions(times).ok(), expected, "{parts:?}");
    }

    #[test]
    fn the_fewest_ticks_that_serve() {
        check(&[], Some(1));
        check(&[1], Some(1));
        check(&[2, 4], Some(4));
        // Least common multiples by arithmetic: lcm(4, 3), lcm(4, 3, 5, 7).
        check(&[1, 2, 4, 3], Some(12));
        check(&[4, 3, 5, 7], Some(420));
        check(&[16_383], Some(16_383));
        check(&[16_384], None);
        check(&[127, 129], Some(16_383));
        check(&[128, 129], None);
        check(&[i64::MAX, i64::MAX - 1], None);
    }

    #[test]
    fn whole_and_negative_times() {
        let times = [Fraction::from(-3), Fraction::new(-5, 6), Fraction::new(6, 4)];
        assert_eq!(divisions(times), Ok(6));
    }
}
