//! A fixed share of a run's sheets, so that a library can be spread over
//! machines.

use std::str::FromStr;

/// More parts than any library has sheets are a slip.
const MOST: usize = 100_000;

/// The third of sixteen: every sixteenth sheet, beginning with the third.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RunPart {
    number: usize,
    of: usize,
}

impl RunPart {
    /// Whether the sheet in this place of the run, from 0, is in the part.
    pub fn has(self, place: usize) -> bool {
        place % self.of == self.number - 1
    }

    /// Whether it is the first part.
    pub fn is_first(self) -> bool {
        self.number == 1
    }

    /// Tells the part's own files from those of others.
    pub fn tag(self) -> String {
        format!("-{}-of-{}", self.number, self.of)
    }
}

impl FromStr for RunPart {
    type Err = String;

    fn from_str(text: &str) -> Result<RunPart, String> {
        let refused = || "write a part as 3/16, the third of sixteen".to_owned();
        let (number, of) = text.split_once('/').ok_or_else(refused)?;
        let part = RunPart {
            number: number.parse().map_err(|_| refused())?,
            of: of.parse().map_err(|_| refused())?,
        };
        if (1..=part.of).contains(&part.number) && part.of <= MOST {
            Ok(part)
        } else {
            Err(refused())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_are_read_and_refused() {
        for (text, expected) in [
            ("3/16", true),
            ("1/1", true),
            ("0/4", false),
            ("5/4", false),
        ] {
            assert_eq!(text.parse::<RunPart>().is_ok(), expected, "{text}");
        }
        for text in ["", "3", "a/b", "-1/4", "1/0", "1/100001", "3/16/2"] {
            assert!(text.parse::<RunPart>().is_err(), "{text}");
        }
    }

    #[test]
    fn every_sheet_is_in_one_part() {
        for place in 0..100 {
            let parts = (1..=16).map(|number| RunPart { number, of: 16 });
            assert_eq!(parts.filter(|part| part.has(place)).count(), 1, "{place}");
        }
    }
}
