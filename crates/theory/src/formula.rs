//! Degrees, pitches and ranges written as text in the tables and checked when
//! the program is compiled: a slip in a table is a compile error.

use crate::{Degree, Letter, Pitch, Range};

/// A static slice of degrees from a text such as `"1 2 b3"`.
macro_rules! degrees {
    ($text:literal) => {{
        const COUNT: usize = $crate::formula::count($text);
        const DEGREES: [$crate::Degree; COUNT] = $crate::formula::parse($text);
        &DEGREES
    }};
}
pub(crate) use degrees;

/// How many words a text has.
pub(crate) const fn count(text: &str) -> usize {
    let bytes = text.as_bytes();
    let mut words = 0;
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at] != b' ' && (at == 0 || bytes[at - 1] == b' ') {
            words += 1;
        }
        at += 1;
    }
    words
}

/// The degrees of a text with `N` words.
pub(crate) const fn parse<const N: usize>(text: &str) -> [Degree; N] {
    let bytes = text.as_bytes();
    let mut degrees = [Degree::ROOT; N];
    let mut word = 0;
    let mut at = 0;
    while word < N {
        let (degree, after) = one(bytes, at);
        degrees[word] = degree;
        assert!(
            after == bytes.len() || bytes[after] == b' ',
            "degrees stand apart"
        );
        at = after + 1;
        word += 1;
    }
    degrees
}

/// One degree.
pub(crate) const fn degree(text: &str) -> Degree {
    let (degree, after) = one(text.as_bytes(), 0);
    assert!(after == text.len(), "one degree");
    degree
}

/// One written pitch with a single-digit octave, such as `"Bb3"`.
pub(crate) const fn pitch(text: &str) -> Pitch {
    let bytes = text.as_bytes();
    let (alteration, after) = signs(bytes, 1);
    assert!(
        after + 1 == bytes.len() && bytes[after].is_ascii_digit(),
        "an octave of one digit"
    );
    let mut letter = 0;
    while Letter::ALL[letter].char() as u8 != bytes[0] {
        letter += 1;
    }
    Pitch::new(
        Letter::ALL[letter],
        alteration as i16,
        (bytes[after] - b'0') as i16,
    )
}

/// Both ends of a written range.
pub(crate) const fn range(low: &str, high: &str) -> Range {
    let range = Range {
        low: pitch(low),
        high: pitch(high),
    };
    assert!(range.low.midi() < range.high.midi(), "low before high");
    range
}

/// The degree at a place in a text and the place after it.
const fn one(bytes: &[u8], at: usize) -> (Degree, usize) {
    let (alteration, start) = signs(bytes, at);
    let mut at = start;
    let mut number = 0;
    while at < bytes.len() && bytes[at].is_ascii_digit() {
        number = number * 10 + (bytes[at] - b'0');
        at += 1;
    }
    assert!(1 <= number && number <= 13, "a degree from 1 to 13");
    (Degree::new(number, alteration), at)
}

const fn signs(bytes: &[u8], mut at: usize) -> (i8, usize) {
    let mut alteration = 0;
    while at < bytes.len() && (bytes[at] == b'b' || bytes[at] == b'#') {
        alteration += if bytes[at] == b'b' { -1 } else { 1 };
        at += 1;
    }
    (alteration, at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_the_run_time_reads() {
        let texts: &[(&str, &[Degree])] = &[
            ("1 b3 5", degrees!("1 b3 5")),
            ("1 #4 bb7 #11", degrees!("1 #4 bb7 #11")),
            ("", degrees!("")),
        ];
        for (text, degrees) in texts {
            let read: Vec<Degree> = text
                .split_whitespace()
                .map(|word| word.parse().unwrap())
                .collect();
            assert_eq!(&read, degrees, "{text}");
        }
        for text in ["Bb3", "C#6", "F4", "A0"] {
            assert_eq!(pitch(text), text.parse().unwrap());
        }
    }
}
