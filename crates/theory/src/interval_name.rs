//! Intervals by their names: `M2`, `P5`, `A4`, `m9`, and `-m3` downward.

use std::fmt;
use std::str::FromStr;

use crate::Interval;

impl Interval {
    /// Its general number, 1 for any unison, 9 for any ninth; unsigned.
    pub const fn number(self) -> u16 {
        self.steps().unsigned_abs() + 1
    }

    /// Whether it leads downward.
    pub const fn is_descending(self) -> bool {
        self.steps() < 0 || (self.steps() == 0 && self.semitones() < 0)
    }

    /// What is left of an octave when it is taken away: M3 gives m6, and a
    /// compound interval gives what its simple one does. Always upward.
    pub fn inverted(self) -> Interval {
        let up = if self.is_descending() { -self } else { self };
        let whole = up.steps().div_euclid(7);
        let octaves = if up.steps() % 7 == 0 && whole > 0 {
            whole - 1
        } else {
            whole
        };
        Interval::OCTAVE - (up - Interval::OCTAVE * octaves)
    }
}

impl fmt::Display for Interval {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let up = if self.is_descending() { -*self } else { *self };
        if self.is_descending() {
            f.write_str("-")?;
        }
        match up.fifths() {
            -1..=1 => f.write_str("P")?,
            2..=5 => f.write_str("M")?,
            -5..=-2 => f.write_str("m")?,
            fifths => {
                let quality = if fifths > 0 { "A" } else { "d" };
                for _ in 0..(fifths.unsigned_abs() + 1) / 7 {
                    f.write_str(quality)?;
                }
            }
        }
        write!(f, "{}", up.number())
    }
}

/// Why a text is no interval.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not an interval: write P, M, m, A or d and a number, as in m3, with - before it downward")]
pub struct IntervalParseError;

impl FromStr for Interval {
    type Err = IntervalParseError;
    fn from_str(text: &str) -> Result<Interval, IntervalParseError> {
        let up = text.strip_prefix('-').unwrap_or(text);
        let digits = up.trim_start_matches(['P', 'M', 'm', 'A', 'd']);
        let quality = &up[..up.len() - digits.len()];
        let number: u8 = digits.parse().map_err(|_| IntervalParseError)?;
        if number == 0 || digits.starts_with(['+', '0']) {
            return Err(IntervalParseError);
        }
        let steps = i16::from(number) - 1;
        let natural = [0, 2, 4, 5, 7, 9, 11][steps as usize % 7] + 12 * (steps / 7);
        let perfect = matches!(steps % 7, 0 | 3 | 4);
        let change = match (quality, perfect) {
            ("P", true) | ("M", false) => 0,
            ("m", false) => -1,
            ("A" | "AA" | "AAA", _) => quality.len() as i16,
            ("d" | "dd" | "ddd", true) => -(quality.len() as i16),
            ("d" | "dd" | "ddd", false) => -(quality.len() as i16) - 1,
            _ => return Err(IntervalParseError),
        };
        let interval = Interval::from_steps(steps, natural + change);
        Ok(if up.len() < text.len() {
            -interval
        } else {
            interval
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_both_ways() {
        let check = |name: &str, steps: i16, semitones: i16| {
            let interval = Interval::from_steps(steps, semitones);
            assert_eq!(interval.to_string(), name);
            assert_eq!(name.parse(), Ok(interval));
        };
        check("P1", 0, 0);
        check("M2", 1, 2);
        check("m2", 1, 1);
        check("d2", 1, 0);
        check("A1", 0, 1);
        check("P4", 3, 5);
        check("A4", 3, 6);
        check("d5", 4, 6);
        check("P5", 4, 7);
        check("AA4", 3, 7);
        check("dd7", 6, 8);
        check("P8", 7, 12);
        check("m9", 8, 13);
        check("M13", 12, 21);
        check("-m3", -2, -3);
        check("-M6", -5, -9);
        check("-P8", -7, -12);
        check("-A1", 0, -1);
    }

    #[test]
    fn refuses_what_is_no_interval() {
        for text in [
            "", "-", "M", "M5", "P3", "m4", "M0", "M+3", "M03", "x3", "AAAA4", "M3 ", "--M3",
            "P1000",
        ] {
            assert_eq!(text.parse::<Interval>(), Err(IntervalParseError), "{text}");
        }
    }

    #[test]
    fn inversion() {
        let check = |given: &str, expected: &str| {
            let interval: Interval = given.parse().unwrap();
            assert_eq!(interval.inverted().to_string(), expected, "{given}");
        };
        check("M3", "m6");
        check("P1", "P8");
        check("P8", "P1");
        check("M10", "m6");
        check("-M3", "m6");
        check("A4", "d5");
        check("d2", "A7");
        check("P15", "P1");
    }
}
