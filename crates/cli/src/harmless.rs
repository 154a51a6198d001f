//! Text from lessons, names and notation, made fit for a terminal: what could
//! move its cursor, colour it or turn its lines round is shown as what it is
//! and not obeyed.

use std::borrow::Cow;
use std::io::{self, Write};

/// Whether a terminal would do something else than show it: control
/// characters but the line's end and the tab, line separators, and characters
/// that turn the direction of writing (Unicode 16, UAX 9).
fn is_harmful(letter: char) -> bool {
    letter.is_control() && letter != '\n' && letter != '\t'
        || matches!(
            letter,
            '\u{61c}'
                | '\u{200e}'
                | '\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2066}'..='\u{2069}'
                | '\u{feff}'
        )
}

/// The text with such characters written out: `\u202e`, as JSON and TOML
/// write them too.
pub fn shown(text: &str) -> Cow<'_, str> {
    if !text.contains(is_harmful) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        if is_harmful(letter) {
            shown.push_str(&format!("\\u{:04x}", u32::from(letter)));
        } else {
            shown.push(letter);
        }
    }
    Cow::Owned(shown)
}

/// The text with such characters replaced by others of the same length in
/// bytes, so that places in it stay where they are.
pub fn same_length(text: &str) -> Cow<'_, str> {
    if !text.contains(|letter: char| is_harmful(letter) && letter.len_utf8() > 1) {
        return Cow::Borrowed(text);
    }
    let stand_in = |letter: char| match (is_harmful(letter), letter.len_utf8()) {
        (true, 2) => '·',
        (true, 3) => '\u{fffd}',
        // Those of one byte are the renderer's affair.
        _ => letter,
    };
    Cow::Owned(text.chars().map(stand_in).collect())
}

/// Writes everything so that it can be shown.
#[derive(Debug)]
pub struct Harmless<W>(pub W);

impl<W: Write> Write for Harmless<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.write_all(bytes)?;
        Ok(bytes.len())
    }

    /// What is written comes in whole letters; other bytes go as they are.
    fn write_all(&mut self, bytes: &[u8]) -> io::Result<()> {
        match str::from_utf8(bytes) {
            Ok(text) => self.0.write_all(shown(text).as_bytes()),
            Err(_) => self.0.write_all(bytes),
        }
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_terminal_would_obey_is_written_out() {
        for (text, expected) in [
            ("plain\tand ♭ 音階\n", "plain\tand ♭ 音階\n"),
            ("\u{1b}[31mred", "\\u001b[31mred"),
            ("\u{9b}2J", "\\u009b2J"),
            ("a\rb\u{7f}", "a\\u000db\\u007f"),
            ("left\u{202e}right\u{2069}", "left\\u202eright\\u2069"),
            ("one\u{2028}two", "one\\u2028two"),
        ] {
            assert_eq!(shown(text), expected);
            let mut written = Vec::new();
            Harmless(&mut written).write_all(text.as_bytes()).unwrap();
            assert_eq!(written, expected.as_bytes());
        }
    }

    #[test]
    fn places_stay_where_they_are() {
        let text = "a\u{9b}b\u{202e}c\u{1b}d";
        let same = same_length(text);
        assert_eq!(same.len(), text.len());
        assert_eq!(same, "a·b\u{fffd}c\u{1b}d");
    }
}
