//! A text harmed in every way there is to harm it a little.

use lesson_text::Mistake;

/// A text with one letter less, for each letter.
pub fn without_a_letter(text: &str) -> impl Iterator<Item = String> {
    letters(text, |_, _| true)
}

/// With one line less, and with one line twice, for each line.
pub fn with_a_line_less_or_twice(text: &str) -> impl Iterator<Item = String> {
    let lines: Vec<&str> = text.lines().collect();
    (0..lines.len()).flat_map(move |number| {
        let mut fewer = lines.clone();
        fewer.remove(number);
        let mut more = lines.clone();
        more.insert(number, lines[number]);
        [fewer.join("\n"), more.join("\n")]
    })
}

/// Ended at each letter.
pub fn cut_short(text: &str) -> impl Iterator<Item = &str> {
    text.char_indices().map(|(at, _)| &text[..at])
}

/// Without one quotation mark, bracket or sign of equality that isn't the
/// first of a comment.
pub fn with_a_slip(text: &str) -> impl Iterator<Item = String> {
    letters(text, |before, letter| {
        matches!(letter, '"' | '[' | ']' | '{' | '}' | '=') && !before.ends_with('#')
    })
}

fn letters(text: &str, which: impl Fn(&str, char) -> bool) -> impl Iterator<Item = String> {
    text.char_indices()
        .filter(move |(at, letter)| which(&text[..*at], *letter))
        .map(move |(at, letter)| format!("{}{}", &text[..at], &text[at + letter.len_utf8()..]))
}

/// Mistakes say something, in order, of places that the text has.
pub fn places_are_inside(text: &str, mistakes: &[Mistake]) {
    let mut last = 0;
    for mistake in mistakes {
        let place = &mistake.span;
        assert!(text.get(place.clone()).is_some(), "{place:?} in {text}");
        assert!(place.start >= last, "{text}");
        assert!(
            !mistake.message.is_empty() && !mistake.help.is_empty(),
            "{text}"
        );
        last = place.start;
    }
}
