//! Exact time from a file's numbers. Every sum is held to bounds within which
//! nothing downstream can overflow.

use num_traits::{CheckedAdd, CheckedDiv, CheckedMul, CheckedSub};
use rhythm::Fraction;

/// The finest part of a quarter, and the longest time in quarters, that a
/// file may name.
const FINEST: i64 = 1_000_000;
const LONGEST: i64 = 10_000_000;

/// Within the bounds, or nothing.
fn held(time: Option<Fraction>) -> Option<Fraction> {
    time.filter(|time| {
        *time.denom() <= FINEST && time.numer().abs() <= LONGEST.saturating_mul(*time.denom())
    })
}

pub(crate) fn add(a: Fraction, b: Fraction) -> Option<Fraction> {
    held(a.checked_add(&b))
}

pub(crate) fn subtract(a: Fraction, b: Fraction) -> Option<Fraction> {
    held(a.checked_sub(&b))
}

pub(crate) fn times(a: Fraction, b: Fraction) -> Option<Fraction> {
    held(a.checked_mul(&b))
}

pub(crate) fn part(a: Fraction, b: Fraction) -> Option<Fraction> {
    if b == Fraction::ZERO {
        return None;
    }
    held(a.checked_div(&b))
}

/// A decimal number as XML writes it: `-1`, `0.5`, `+2.`; nothing for what is
/// none or out of bounds.
pub(crate) fn decimal(text: &str) -> Option<Fraction> {
    let text = text.trim();
    let (negative, digits) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    let decimals = decimals.trim_end_matches('0');
    let plain = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    if !plain(whole) || !plain(decimals) || digits.bytes().all(|byte| byte == b'.') {
        return None;
    }
    let whole = whole.trim_start_matches('0');
    if whole.len() > 9 || decimals.len() > 6 {
        return None;
    }
    let number = |text: &str| match text {
        "" => Some(0),
        _ => text.parse::<i64>().ok(),
    };
    let scale = 10_i64.pow(u32::try_from(decimals.len()).ok()?);
    let value = Fraction::new(number(whole)? * scale + number(decimals)?, scale);
    Some(if negative { -value } else { value })
}

/// A whole number; `2.0` counts as one.
pub(crate) fn integer(text: &str) -> Option<i64> {
    decimal(text)
        .filter(Fraction::is_integer)
        .map(|number| number.to_integer())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals() {
        let check = |text: &str, expected: Option<(i64, i64)>| {
            let expected = expected.map(|(upper, lower)| Fraction::new(upper, lower));
            assert_eq!(decimal(text), expected, "{text}");
        };
        check("4", Some((4, 1)));
        check(" -1.0 ", Some((-1, 1)));
        check("+0.50", Some((1, 2)));
        check(".25", Some((1, 4)));
        check("2.", Some((2, 1)));
        check("000000000012", Some((12, 1)));
        check("1.333333", Some((1_333_333, 1_000_000)));
        check("1.3333333", None);
        check("9999999999", None);
        for text in ["", ".", "-", "1e3", "1,5", "four", "--1", "1.2.3", "٣"] {
            check(text, None);
        }
        assert_eq!(integer("-1.0"), Some(-1));
        assert_eq!(integer("0.5"), None);
    }

    #[test]
    fn sums_stay_within_bounds() {
        let fine = Fraction::new(1, 999_983);
        assert_eq!(add(fine, Fraction::new(1, 999_979)), None);
        assert_eq!(add(Fraction::from(LONGEST), Fraction::from(1)), None);
        assert_eq!(times(Fraction::from(LONGEST), Fraction::from(2)), None);
        assert_eq!(part(Fraction::from(1), Fraction::ZERO), None);
        assert_eq!(part(fine, Fraction::from(2)), None);
        assert_eq!(
            subtract(Fraction::new(1, 2), Fraction::new(1, 3)),
            Some(Fraction::new(1, 6))
        );
    }
}
