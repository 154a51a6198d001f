//! Text as XML lets it stand.

use std::borrow::Cow;

/// Escaped for text and attributes. What XML 1.0 (5th edition, production 2)
/// has no way to say becomes U+FFFD, and whatever breaks a line a space.
pub fn escape(text: &str) -> Cow<'_, str> {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || byte == b' ';
    if text.bytes().all(plain) {
        return Cow::Borrowed(text);
    }
    let mut escaped = String::with_capacity(text.len() + 8);
    for char in text.chars() {
        match char {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\'' => escaped.push_str("&apos;"),
            '\t' | '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => escaped.push(' '),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => escaped.push('\u{fffd}'),
            _ => escaped.push(char),
        }
    }
    Cow::Owned(escaped)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_xml_allows() {
        let check = |text: &str, expected: &str| assert_eq!(escape(text), expected, "{text:?}");
        check("plain ♭", "plain ♭");
        check(
            "a < b & \"c\" > 'd'",
            "a &lt; b &amp; &quot;c&quot; &gt; &apos;d&apos;",
        );
        check("two\nlines\tand\r", "two lines and ");
        check("\u{0}\u{1b}[0m\u{ffff}", "\u{fffd}\u{fffd}[0m\u{fffd}");
        check("𝄪", "𝄪");
    }
}
