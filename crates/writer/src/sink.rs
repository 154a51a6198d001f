//! Bytes at the end of one buffer: fixed markup, numbers, and text escaped.

/// Where a document is written.
pub(crate) struct Sink<'a> {
    out: &'a mut Vec<u8>,
}

impl<'a> Sink<'a> {
    /// Appends to `out`.
    pub(crate) fn new(out: &'a mut Vec<u8>) -> Sink<'a> {
        Sink { out }
    }

    /// Markup as it stands.
    #[inline(always)]
    pub(crate) fn put(&mut self, markup: &str) {
        self.out.extend_from_slice(markup.as_bytes());
    }

    /// A whole number.
    #[inline]
    pub(crate) fn number(&mut self, number: impl Into<i64>) {
        let number = number.into();
        if let Ok(small @ 0..10) = u8::try_from(number) {
            self.out.push(b'0' + small);
        } else {
            self.long_number(number);
        }
    }

    /// `value` tens-to-the-minus-`places`, without zeros at its end.
    pub(crate) fn decimal(&mut self, value: u64, places: u32) {
        let unit = 10u64.pow(places);
        self.digits(value / unit);
        let mut rest = value % unit;
        if rest > 0 {
            self.out.push(b'.');
        }
        let mut place = unit / 10;
        while rest > 0 {
            self.out.push(b'0' + (rest / place) as u8);
            rest %= place;
            place /= 10;
        }
    }

    /// Text or an attribute's value. What XML 1.0 cannot hold (control
    /// characters, U+FFFE, U+FFFF) becomes the replacement character; white
    /// space other than a space is written as a reference, so that it
    /// survives in attributes too.
    pub(crate) fn text(&mut self, text: &str) {
        if text.bytes().all(|byte| PLAIN[usize::from(byte)]) {
            self.put(text);
        } else {
            self.escaped(text.as_bytes());
        }
    }

    fn escaped(&mut self, bytes: &[u8]) {
        let mut plain = 0;
        for (at, byte) in bytes.iter().enumerate() {
            let (instead, length) = match byte {
                b'&' => ("&amp;", 1),
                b'<' => ("&lt;", 1),
                b'>' => ("&gt;", 1),
                b'"' => ("&quot;", 1),
                b'\t' => ("&#9;", 1),
                b'\n' => ("&#10;", 1),
                b'\r' => ("&#13;", 1),
                0..0x20 => ("\u{FFFD}", 1),
                0xEF if matches!(bytes.get(at + 1..at + 3), Some([0xBF, 0xBE | 0xBF])) => {
                    ("\u{FFFD}", 3)
                }
                _ => continue,
            };
            self.out.extend_from_slice(&bytes[plain..at]);
            self.put(instead);
            plain = at + length;
        }
        self.out.extend_from_slice(&bytes[plain..]);
    }

    fn long_number(&mut self, number: i64) {
        if number < 0 {
            self.out.push(b'-');
        }
        self.digits(number.unsigned_abs());
    }

    fn digits(&mut self, mut number: u64) {
        let mut digits = [b'0'; 20];
        let mut first = digits.len() - 1;
        loop {
            digits[first] = b'0' + (number % 10) as u8;
            number /= 10;
            if number == 0 {
                break;
            }
            first -= 1;
        }
        self.out.extend_from_slice(&digits[first..]);
    }
}

/// Bytes that stand for themselves in text, wherever they are.
const PLAIN: [bool; 256] = {
    let mut plain = [false; 256];
    let mut byte = 0x20;
    while byte < 256 {
        plain[byte] = !matches!(byte as u8, b'&' | b'<' | b'>' | b'"' | 0xEF);
        byte += 1;
    }
    plain
};

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn written(write: impl FnOnce(&mut Sink<'_>)) -> String {
        let mut out = Vec::new();
        write(&mut Sink::new(&mut out));
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn text_is_escaped() {
        let check = |text: &str, expected: &str| {
            assert_eq!(written(|s| s.text(text)), expected, "{text:?}")
        };
        check("", "");
        check("♭7", "♭7");
        check(
            "A & B <swing> \"q\"",
            "A &amp; B &lt;swing&gt; &quot;q&quot;",
        );
        check("&&", "&amp;&amp;");
        check("one\ttwo\r\n", "one&#9;two&#13;&#10;");
        // XML 1.0 (fifth edition), production [2] Char.
        check("a\u{0}b\u{1b}", "a\u{FFFD}b\u{FFFD}");
        check("\u{FFFD}\u{FFFE}x\u{FFFF}", "\u{FFFD}\u{FFFD}x\u{FFFD}");
        check("\u{7f}\u{85}𝄪", "\u{7f}\u{85}𝄪");
    }

    #[test]
    fn decimals_have_no_idle_zeros() {
        let check = |value, places, expected: &str| {
            assert_eq!(written(|s| s.decimal(value, places)), expected)
        };
        check(0, 2, "0");
        check(70, 1, "7");
        check(75, 1, "7.5");
        check(159_657, 2, "1596.57");
        check(12_005, 3, "12.005");
        check(5, 3, "0.005");
        check(7, 0, "7");
    }

    proptest! {
        #[test]
        fn numbers_are_the_standard_librarys(number: i64, small in -200i64..200) {
            prop_assert_eq!(written(|s| s.number(number)), number.to_string());
            prop_assert_eq!(written(|s| s.number(small)), small.to_string());
        }

        #[test]
        fn an_xml_reader_gives_the_text_back(text in r#"[ -~♭♯\t\n\r&<>"'𝄪]*"#) {
            let escaped = written(|s| s.text(&text));
            prop_assert_eq!(quick_xml::escape::unescape(&escaped).unwrap(), text);
        }
    }
}
