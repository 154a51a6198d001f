//! Degrees: places named against the major scale.

use std::fmt;
use std::str::FromStr;

use crate::Interval;

/// A place named against the major scale: 1, b3, #4, bb7, and 9 to 13 in
/// chords.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Degree {
    /// 1 to 7 in scales, up to 13 in chords.
    pub number: u8,
    /// Semitones against the major scale: −1 for b3, 1 for #4.
    pub alteration: i8,
}

impl Degree {
    /// The root.
    pub const ROOT: Degree = Degree {
        number: 1,
        alteration: 0,
    };

    /// From number and alteration.
    pub const fn new(number: u8, alteration: i8) -> Degree {
        Degree { number, alteration }
    }

    /// The interval from the root up to it.
    pub const fn interval(self) -> Interval {
        let steps = self.number as i16 - 1;
        let natural = [0, 2, 4, 5, 7, 9, 11][(steps % 7) as usize] + 12 * (steps / 7);
        Interval::from_steps(steps, natural + self.alteration as i16)
    }

    /// With ♭ and ♯ signs, for what people read: `♭3`.
    pub fn signs(self) -> String {
        let sign = if self.alteration < 0 { "♭" } else { "♯" };
        let signs = sign.repeat(usize::from(self.alteration.unsigned_abs()));
        format!("{signs}{}", self.number)
    }
}

impl fmt::Display for Degree {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.alteration < 0 { "b" } else { "#" };
        for _ in 0..self.alteration.unsigned_abs() {
            f.write_str(sign)?;
        }
        write!(f, "{}", self.number)
    }
}

/// Why a text is no degree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("not a degree: write a number from 1 to 13 with b or # before it, as in b3 or #4")]
pub struct DegreeParseError;

impl FromStr for Degree {
    type Err = DegreeParseError;
    fn from_str(text: &str) -> Result<Degree, DegreeParseError> {
        let digits = text.trim_start_matches(['b', '#', '♭', '♯']);
        let signs = &text[..text.len() - digits.len()];
        let flats = signs.chars().filter(|c| matches!(c, 'b' | '♭')).count();
        let sharps = signs.chars().count() - flats;
        let number: u8 = digits.parse().map_err(|_| DegreeParseError)?;
        let plain = !digits.starts_with(['+', '0']);
        if (flats > 0 && sharps > 0)
            || flats > 2
            || sharps > 2
            || !(1..=13).contains(&number)
            || !plain
        {
            return Err(DegreeParseError);
        }
        Ok(Degree::new(number, sharps as i8 - flats as i8))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_prints() {
        let check = |text: &str, number: u8, alteration: i8, semitones: i16| {
            let degree = Degree::new(number, alteration);
            assert_eq!(text.parse(), Ok(degree), "{text}");
            assert_eq!(degree.interval().semitones(), semitones, "{text}");
            assert_eq!(degree.signs().parse(), Ok(degree), "{text}");
        };
        check("1", 1, 0, 0);
        check("b3", 3, -1, 3);
        check("♭3", 3, -1, 3);
        check("#4", 4, 1, 6);
        check("♯4", 4, 1, 6);
        check("bb7", 7, -2, 9);
        check("##5", 5, 2, 9);
        check("b9", 9, -1, 13);
        check("#11", 11, 1, 18);
        check("13", 13, 0, 21);
        assert_eq!(Degree::new(7, -2).to_string(), "bb7");
        assert_eq!(Degree::new(4, 1).signs(), "♯4");
    }

    #[test]
    fn refuses_what_is_no_degree() {
        for text in [
            "", "0", "14", "b#3", "bbb7", "###4", "3b", "b", "+3", "03", "b 3", "3 ", "300",
        ] {
            assert_eq!(text.parse::<Degree>(), Err(DegreeParseError), "{text}");
        }
    }
}
