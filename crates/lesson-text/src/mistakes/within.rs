//! Where a part of a quoted text stands in the file, quotes and backslashes
//! considered.

use std::ops::Range;

/// The bytes of the file at which a part of a text stands. `token` is the
/// whole quoted text in the file, `words` what it says, `part` bytes of that.
pub(crate) fn within(
    source: &str,
    token: &Range<usize>,
    words: &str,
    part: &Range<usize>,
) -> Range<usize> {
    let raw = source.get(token.clone()).unwrap_or_default();
    let start = past_joins(raw, offset(raw, words, part.start));
    let end = offset(raw, words, part.end).max(start);
    token.start + start..token.start + end
}

/// A span inside the text, on character boundaries.
pub(crate) fn on_characters(source: &str, span: &Range<usize>) -> Range<usize> {
    let mut start = span.start.min(source.len());
    while !source.is_char_boundary(start) {
        start -= 1;
    }
    let mut end = span.end.clamp(start, source.len());
    while !source.is_char_boundary(end) {
        end += 1;
    }
    start..end
}

/// The offset in the raw token of an offset in what it says.
fn offset(raw: &str, words: &str, target: usize) -> usize {
    let open = opening(raw);
    let inner = raw.get(open..).unwrap_or_default();
    // Without escapes the words stand in the file as they are.
    if inner.starts_with(words) {
        return open + target.min(words.len());
    }
    let basic = raw.starts_with('"');
    let (mut at, mut said) = (open, 0);
    while said < target && at < raw.len() {
        let (raw_bytes, said_bytes) = unit(&raw[at..], basic);
        at += raw_bytes;
        said += said_bytes;
    }
    at
}

/// Past backslashes that only join lines: they say nothing.
fn past_joins(raw: &str, mut at: usize) -> usize {
    while raw.starts_with('"') && raw[at..].starts_with('\\') {
        match unit(&raw[at..], true) {
            (bytes, 0) => at += bytes,
            _ => break,
        }
    }
    at
}

/// Bytes of the opening quotes, and of the line end that follows three of
/// them and isn't part of the text.
fn opening(raw: &str) -> usize {
    for quotes in ["\"\"\"", "'''"] {
        if let Some(rest) = raw.strip_prefix(quotes) {
            let skipped = if rest.starts_with("\r\n") {
                2
            } else {
                usize::from(rest.starts_with('\n'))
            };
            return quotes.len() + skipped;
        }
    }
    usize::from(raw.starts_with(['"', '\'']))
}

/// The next character or escape: its bytes in the file, and those it says.
fn unit(rest: &str, basic: bool) -> (usize, usize) {
    let mut letters = rest.chars();
    match (letters.next(), letters.next()) {
        (Some('\r'), Some('\n')) => (2, 1),
        (Some('\\'), Some(escape)) if basic => escaped(rest, escape),
        (Some(letter), _) => (letter.len_utf8(), letter.len_utf8()),
        (None, _) => (1, 0),
    }
}

fn escaped(rest: &str, escape: char) -> (usize, usize) {
    let digits = match escape {
        'x' => 2,
        'u' => 4,
        'U' => 8,
        _ if escape.is_whitespace() => {
            // A backslash at a line's end swallows the white space after it.
            let after = rest[1..].trim_start();
            return (rest.len() - after.len(), 0);
        }
        _ => return (1 + escape.len_utf8(), 1),
    };
    let code = rest.get(2..2 + digits).unwrap_or_default();
    let letter = u32::from_str_radix(code, 16).ok().and_then(char::from_u32);
    match letter {
        Some(letter) => (2 + digits, letter.len_utf8()),
        None => (2, 2),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(token: &str, words: &str, part: &str, expected: &str) {
        let source = format!("k = {token} # end");
        let start = words.find(part).unwrap();
        let span = within(
            &source,
            &(4..4 + token.len()),
            words,
            &(start..start + part.len()),
        );
        assert_eq!(&source[span], expected, "{token}");
    }

    #[test]
    fn parts_are_found() {
        check("\"1 & 2\"", "1 & 2", "&", "&");
        check("'1 & 2'", "1 & 2", "2", "2");
        check("\"a\\tb up\"", "a\tb up", "up", "up");
        check("\"\\u0041\\x42 up\"", "AB up", "up", "up");
        check("\"\"\"\nstart, up\"\"\"", "start, up", "up", "up");
        check("\"\"\"\r\nstart,\\\r\n   up\"\"\"", "start,up", "up", "up");
        check("'''a\\tb'''", "a\\tb", "b", "b");
        check("\"♭ \\\" up\"", "♭ \" up", "up", "up");
    }
}
