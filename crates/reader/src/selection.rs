//! What the caller wants of a file.

use std::str::FromStr;

use lesson::Named;

/// Which part of a file, which line of it, and at which pitch.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Selection {
    /// A part by its name, its id in the file, or its place from 1; none: the
    /// first that has what is looked for.
    pub part: Option<String>,
    /// A staff of the part, from 1 at the top; none: the uppermost with notes.
    pub staff: Option<u8>,
    /// A voice by its number in the file; none: the one that leads.
    pub voice: Option<String>,
    /// Concert (sounding) or written pitch.
    pub named: Named,
}

/// Bars by their printed numbers, both ends included: `3-4`, or `3`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bars {
    /// The first.
    pub from: u16,
    /// The last; not before the first.
    pub to: u16,
}

/// Why a text names no bars.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("write bars as their numbers, the first and the last, as in 3-4")]
pub struct BarsParseError;

impl FromStr for Bars {
    type Err = BarsParseError;

    fn from_str(text: &str) -> Result<Bars, BarsParseError> {
        let number = |text: &str| {
            let text = text.trim();
            let digits = text.bytes().all(|byte| byte.is_ascii_digit());
            text.parse().ok().filter(|_| digits).ok_or(BarsParseError)
        };
        let (from, to) = text.split_once(['-', '–']).unwrap_or((text, text));
        let bars = Bars {
            from: number(from)?,
            to: number(to)?,
        };
        (bars.from <= bars.to).then_some(bars).ok_or(BarsParseError)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_as_they_are_said() {
        let check = |text: &str, expected: Option<(u16, u16)>| {
            let bars = text.parse::<Bars>().ok().map(|bars| (bars.from, bars.to));
            assert_eq!(bars, expected, "{text}");
        };
        check("3-4", Some((3, 4)));
        check(" 3 – 12 ", Some((3, 12)));
        check("0", Some((0, 0)));
        check("4-3", None);
        check("", None);
        check("-", None);
        check("1-2-3", None);
        check("+1", None);
        check("70000", None);
    }
}
