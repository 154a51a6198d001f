//! Fractions as SVG writes them.

/// A fraction to five places, without zeros that say nothing. The denominator
/// is above 0.
pub(crate) fn decimal(numerator: i64, denominator: i64) -> String {
    let nearest = (2 * PLACES * numerator + denominator).div_euclid(2 * denominator);
    let sign = if nearest < 0 { "-" } else { "" };
    let (whole, rest) = (nearest.abs() / PLACES, nearest.abs() % PLACES);
    let text = format!("{sign}{whole}.{rest:05}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

const PLACES: i64 = 100_000;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn five_places() {
        let check = |numerator: i64, denominator: i64, expected: &str| {
            assert_eq!(decimal(numerator, denominator), expected);
        };
        check(420, 1000, "0.42");
        check(1, 3, "0.33333");
        check(2, 3, "0.66667");
        check(-1, 3, "-0.33333");
        check(100, 1, "100");
        check(0, 7, "0");
        check(-1, 1_000_000, "0");
    }
}
