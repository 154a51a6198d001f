//! How a place in the bar is counted aloud.

use std::fmt;

use crate::{Counting, Fraction, Meter, Thirds};

/// A word of the count, for labels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CountWord {
    /// The number of a beat or unit, from 1.
    Number(u16),
    /// `&`
    And,
    /// `e`
    E,
    /// `a`
    A,
    /// `trip`: the second third.
    Trip,
    /// `let`: the last third.
    Let,
    /// `la`: the second third.
    La,
    /// `li`: the last third.
    Li,
}

/// As it is typed and printed.
impl fmt::Display for CountWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            CountWord::Number(number) => return write!(f, "{number}"),
            CountWord::And => "&",
            CountWord::E => "e",
            CountWord::A => "a",
            CountWord::Trip => "trip",
            CountWord::Let => "let",
            CountWord::La => "la",
            CountWord::Li => "li",
        })
    }
}

/// How a place in the bar (quarters from its bar line) is counted aloud; none
/// where the count has no word.
pub fn count_word(meter: &Meter, at: Fraction, counting: Counting) -> Option<CountWord> {
    let numbered = match counting.lower {
        Some(lower) => Fraction::new(4, i64::from(lower.max(1))),
        None if counting.beats => meter.beat(),
        None => meter.unit(),
    };
    let (at, bar, numbered) = commonly(at, meter.bar(), numbered)?;
    let within = at.rem_euclid(bar);
    let part = within % numbered;
    Some(match part {
        0 => CountWord::Number(u16::try_from(within / numbered).ok()? + 1),
        _ if part * 2 == numbered => CountWord::And,
        _ if part * 4 == numbered => CountWord::E,
        _ if part * 4 == numbered * 3 => CountWord::A,
        _ if part * 3 == numbered => counting.thirds.words().0,
        _ if part * 3 == numbered * 2 => counting.thirds.words().1,
        _ => return None,
    })
}

impl Thirds {
    /// The second and the last third.
    const fn words(self) -> (CountWord, CountWord) {
        match self {
            Thirds::TripLet => (CountWord::Trip, CountWord::Let),
            Thirds::LaLi => (CountWord::La, CountWord::Li),
            Thirds::AndA => (CountWord::And, CountWord::A),
        }
    }
}

/// Three lengths as whole numbers of one unit: a place is asked for with each
/// label, and fractions would be shortened at every step. None where the
/// numbers are past all music.
fn commonly(one: Fraction, two: Fraction, three: Fraction) -> Option<(i64, i64, i64)> {
    let whole = |of: Fraction, others: [Fraction; 2]| {
        let [first, second] = others.map(|other| *other.denom());
        let whole = of.numer().checked_mul(first.checked_mul(second)?)?;
        // Four times as much is still a number: quarters are asked for.
        whole.checked_mul(4).map(|_| whole)
    };
    Some((
        whole(one, [two, three])?,
        whole(two, [one, three])?,
        whole(three, [one, two])?,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(meter: &str, quarters: (i64, i64), beats: bool, expected: Option<CountWord>) {
        let at = Fraction::new(quarters.0, quarters.1);
        let counting = Counting {
            lower: None,
            beats,
            thirds: Thirds::TripLet,
        };
        assert_eq!(
            count_word(&meter.parse().unwrap(), at, counting),
            expected,
            "{meter} at {at}"
        );
    }

    #[test]
    fn words_of_the_count() {
        use CountWord::{A, And, E, Let, Number, Trip};
        check("4/4", (0, 1), false, Some(Number(1)));
        check("4/4", (7, 2), false, Some(And));
        check("4/4", (5, 4), false, Some(E));
        check("4/4", (7, 4), false, Some(A));
        check("4/4", (4, 3), false, Some(Trip));
        check("4/4", (5, 3), false, Some(Let));
        check("4/4", (1, 8), false, None);
        check("4/4", (5, 1), false, Some(Number(2)));
        check("4/4", (-1, 2), false, Some(And));
        // 2/2, four quarters: 1 & 2 & (common practice).
        check("2/2", (1, 1), false, Some(And));
        check("6/8", (3, 2), false, Some(Number(4)));
        check("6/8", (3, 2), true, Some(Number(2)));
        check("6/8", (2, 1), true, Some(Trip));
        check("7/8", (3, 1), false, Some(Number(7)));
        check("4/4", (1 << 60, 3), false, Some(Trip));
        check("4/4", (1 << 62, 3), false, None);
        check("4/4", (-(1 << 62), 1), false, None);
    }

    #[test]
    fn thirds_are_called_as_they_were_typed() {
        let check = |thirds, expected| {
            let counting = Counting {
                lower: None,
                beats: true,
                thirds,
            };
            let six_eight = "6/8".parse().unwrap();
            let word = |eighth| count_word(&six_eight, Fraction::new(eighth, 2), counting);
            assert_eq!((word(1), word(2)), expected, "{thirds:?}");
            assert_eq!(word(3), Some(CountWord::Number(2)));
        };
        use CountWord::{A, And, La, Let, Li, Trip};
        check(Thirds::TripLet, (Some(Trip), Some(Let)));
        check(Thirds::LaLi, (Some(La), Some(Li)));
        check(Thirds::AndA, (Some(And), Some(A)));
    }
}
