//! Text as XML lets it stand.

use std::borrow::Cow;

/// Escaped for text and attributes. What XML 1.0 (5th edition, production 2)
/// has no way to say becomes U+FFFD, and whatever breaks a line a space.
pub fn escape(text: &str) -> Cow<'_, str> {
    quick_xml::escape::escape(sayable(text))
}

fn sayable(text: &str) -> Cow<'_, str> {
    let instead = |char: char| match char {
        '\t' | '\n' | '\r' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some(' '),
        '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => Some('\u{fffd}'),
        _ => None,
    };
    if !text.contains(|char: char| instead(char).is_some()) {
        return Cow::Borrowed(text);
    }
    let said = text.chars().map(|char| instead(char).unwrap_or(char));
    Cow::Owned(said.collect())
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
