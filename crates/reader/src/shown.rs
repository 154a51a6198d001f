//! A file's own words in a message: in quotes, cut short, no control signs.

use crate::limit;

/// The words in quotes.
pub(crate) fn shown(words: &str) -> String {
    format!("“{}”", short(words))
}

/// The words, spaces folded and cut to a length fit for a message or a title.
pub(crate) fn short(words: &str) -> String {
    cut(words, limit::SHOWN_LETTERS)
}

/// The words, spaces folded, with at most so many letters.
pub(crate) fn cut(words: &str, most: usize) -> String {
    let mut said = String::new();
    let mut letters = 0;
    for letter in words.trim().chars().filter(|letter| !steers(*letter)) {
        let letter = if letter.is_whitespace() || letter.is_control() {
            ' '
        } else {
            letter
        };
        if letter == ' ' && said.ends_with(' ') {
            continue;
        }
        if letters == most {
            said.push('…');
            break;
        }
        said.push(letter);
        letters += 1;
    }
    said
}

/// Marks that turn the direction of the text around them, and what is no
/// letter at all (The Unicode Standard, chapter 23): neither a terminal nor a
/// lesson gets them from a file.
fn steers(letter: char) -> bool {
    matches!(
        letter,
        '\u{061C}'
            | '\u{200B}'..='\u{200F}'
            | '\u{2028}'..='\u{202E}'
            | '\u{2060}'..='\u{206F}'
            | '\u{FDD0}'..='\u{FDEF}'
            | '\u{FEFF}'
            | '\u{FFF9}'..='\u{FFFB}'
    ) || u32::from(letter) & 0xFFFE == 0xFFFE
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_shown_short_and_clean() {
        assert_eq!(shown(" a\n\tb "), "“a b”");
        assert_eq!(shown("\u{1b}[31m"), "“ [31m”");
        assert_eq!(shown("a\u{202E}b\u{2066}c\u{FFFF}"), "“abc”");
        assert_eq!(shown(&"é".repeat(500)), format!("“{}…”", "é".repeat(40)));
    }
}
