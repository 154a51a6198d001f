//! Numbers of beats as they are said.

use crate::Fraction;

/// A number as a musician says it: `2`, `2 1/2`, `1/2`.
pub fn mixed(number: Fraction) -> String {
    let whole = number.floor();
    let part = number - whole;
    match (*whole.numer(), *part.numer()) {
        (whole, 0) => whole.to_string(),
        (0, _) => part.to_string(),
        (whole, _) => format!("{whole} {part}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beats_are_said() {
        let check = |upper, lower, said: &str| assert_eq!(mixed(Fraction::new(upper, lower)), said);
        check(2, 1, "2");
        check(5, 2, "2 1/2");
        check(1, 2, "1/2");
        check(0, 1, "0");
    }
}
