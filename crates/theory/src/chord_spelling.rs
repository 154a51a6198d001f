//! The many ways to write a chord kind, reduced to one plain form: `△`, `Maj7`
//! and `ma7` become one text, `-7b5` and `ø` another. Alterations are sorted,
//! so that their order doesn't matter either.

/// Longer texts are no chord kinds.
const LONGEST: usize = 32;

/// The plain form of a kind, or nothing for what is too long to be one.
pub(crate) fn plain(text: &str) -> Option<String> {
    if text.len() > LONGEST {
        return None;
    }
    let text = ascii(text);
    if matches!(
        text.to_lowercase().as_str(),
        "n.c." | "nc" | "n.c" | "nochord"
    ) {
        return Some("none".to_owned());
    }
    let mut reader = Reader {
        rest: &text,
        base: String::new(),
        alterations: Vec::new(),
    };
    while reader.read_one() {}
    Some(reader.finish())
}

/// One letter or sign for each thing; brackets, spaces and commas left out.
fn ascii(text: &str) -> String {
    let mut plain = String::new();
    for c in text.chars() {
        match c {
            '♭' => plain.push('b'),
            '♯' => plain.push('#'),
            'Δ' | '∆' | '△' | '^' => plain.push('^'),
            'ø' | 'Ø' => plain.push('ø'),
            '°' | 'º' => plain.push('°'),
            '−' | '–' => plain.push('-'),
            '(' | ')' | '[' | ']' | ',' => {}
            c if c.is_whitespace() => {}
            c => plain.push(c),
        }
    }
    plain
}

struct Reader<'a> {
    rest: &'a str,
    /// Triad and seventh: `M7`, `m`, `°7`.
    base: String,
    /// `b9`, `#11`, `sus4`, `add9`.
    alterations: Vec<String>,
}

/// Words in either case, the longer before those they begin with.
const WORDS: [(&str, &str); 14] = [
    ("major", "M"),
    ("minor", "m"),
    ("diminished", "°"),
    ("augmented", "+"),
    ("maj", "M"),
    ("min", "m"),
    ("dim", "°"),
    ("aug", "+"),
    ("dom", ""),
    ("alt", "alt"),
    ("sus", "sus"),
    ("add", "add"),
    ("no", "no"),
    ("lyd", "lyd"),
];

impl<'a> Reader<'a> {
    /// Takes the next word, sign or number; false at the end.
    fn read_one(&mut self) -> bool {
        if let Some(meaning) = self.take_word() {
            match meaning {
                "sus" => {
                    let number = self.take_number();
                    self.alterations.push(format!(
                        "sus{}",
                        if number.is_empty() { "4" } else { number }
                    ));
                }
                "add" => {
                    let sign = self.take_sign();
                    let number = self.take_number();
                    self.alterations.push(format!("add{sign}{number}"));
                }
                "lyd" => {
                    self.base.push_str("M7");
                    self.alterations.push("#11".to_owned());
                }
                "+" => self.alterations.push("#5".to_owned()),
                meaning => self.base.push_str(meaning),
            }
            return true;
        }
        let first = self.base.is_empty() && self.alterations.is_empty();
        let Some(sign) = self.rest.chars().next() else {
            return false;
        };
        self.rest = &self.rest[sign.len_utf8()..];
        let number_follows = self.rest.starts_with(|c: char| c.is_ascii_digit());
        match sign {
            '-' if first => self.base.push('m'),
            '+' if first || !number_follows => self.alterations.push("#5".to_owned()),
            'b' | '#' | '-' | '+' if number_follows => {
                let sign = if matches!(sign, 'b' | '-') { 'b' } else { '#' };
                let number = self.take_number();
                self.alterations.push(format!("{sign}{number}"));
            }
            '^' => self.base.push_str(if number_follows { "M" } else { "M7" }),
            'ø' => {
                let number = self.take_number();
                self.base.push_str(&format!(
                    "m{}",
                    if number.is_empty() { "7" } else { number }
                ));
                self.alterations.push("b5".to_owned());
            }
            'o' => self.base.push('°'),
            '/' if !first => {}
            sign => self.base.push(sign),
        }
        true
    }

    fn take_word(&mut self) -> Option<&'static str> {
        let starts = |word: &str| {
            self.rest
                .get(..word.len())
                .is_some_and(|start| start.eq_ignore_ascii_case(word))
        };
        // `ma` and `mi` are words too, but in `madd9` the m stands alone
        let short = [("ma", "M"), ("mi", "m")]
            .into_iter()
            .find(|(word, _)| starts(word) && !starts("madd"));
        let (word, meaning) = WORDS.into_iter().find(|(word, _)| starts(word)).or(short)?;
        self.rest = &self.rest[word.len()..];
        Some(meaning)
    }

    fn take_number(&mut self) -> &'a str {
        let after = self.rest.trim_start_matches(|c: char| c.is_ascii_digit());
        let number = &self.rest[..self.rest.len() - after.len()];
        self.rest = after;
        number
    }

    fn take_sign(&mut self) -> &'static str {
        for (sign, plain) in [('b', "b"), ('#', "#")] {
            if let Some(rest) = self.rest.strip_prefix(sign) {
                self.rest = rest;
                return plain;
            }
        }
        ""
    }

    fn finish(mut self) -> String {
        // a major triad or sixth is major without a word
        if self.base == "M" || self.base.starts_with("M6") {
            self.base.remove(0);
        }
        self.alterations.sort_unstable();
        self.alterations.insert(0, self.base);
        self.alterations.join(" ")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_form_for_each() {
        let check = |texts: &[&str], expected: &str| {
            for text in texts {
                assert_eq!(plain(text).unwrap(), expected, "{text}");
            }
        };
        check(
            &[
                "M7", "maj7", "Maj7", "MA7", "ma7", "△", "△7", "^7", "major7", "Major 7",
            ],
            "M7",
        );
        check(&["m7", "min7", "-7", "MI7", "minor 7"], "m7");
        check(&["ø", "ø7", "m7b5", "-7(b5)", "m7♭5", "mi7-5"], "m7 b5");
        check(&["7(b9 #5)", "7#5b9", "+7b9", "aug7(♭9)"], "7 #5 b9");
        check(&["7+", "7#5", "7(+5)"], "7 #5");
        check(&["7+9", "7#9", "7(#9)"], "7 #9");
        check(&["7sus", "7sus4"], "7 sus4");
        check(&["madd9", "m(add9)", "min add9"], "m add9");
        check(&["maj7(add#11)", "M7add♯11"], "M7 add#11");
        check(&["m(addb9)", "madd♭9"], "m addb9");
        check(&["", "M", "maj", "major"], "");
        check(&["no chord", "N.C.", "NC"], "none");
        // A sign with nothing after it alters nothing.
        check(&["7b"], "7b");
        assert!(plain(&"7".repeat(32)).is_some());
        assert_eq!(plain(&"7".repeat(33)), None);
    }
}
