//! The near miss: which known word was probably meant.

use crate::limit;

/// The known word nearest to what was typed, if one is near: half the letters
/// may be wrong, three at most.
pub(crate) fn nearest<'a>(
    typed: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let letters = typed.chars().take(limit::COMPARED_LETTERS).count();
    nearest_within((letters / 2).clamp(1, 3), typed, known)
}

/// The known word nearest to what was typed, if at most so many letters are
/// wrong.
pub(crate) fn nearest_within<'a>(
    most: usize,
    typed: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<&'a str> {
    let typed = typed.to_lowercase();
    if typed.chars().count() > limit::COMPARED_LETTERS {
        return None;
    }
    known
        .into_iter()
        .map(|word| (strsim::osa_distance(&typed, &word.to_lowercase()), word))
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

/// Words as a sentence lists them: `up, down or up and down`.
pub(crate) fn listed<S: AsRef<str>>(words: &[S], last: &str) -> String {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    match words.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_owned(),
        Some((end, before)) => format!("{} {last} {end}", before.join(", ")),
    }
}

/// What was typed, fit for a message and in quotes.
pub(crate) fn shown(typed: &str) -> String {
    format!("\"{}\"", plain(typed))
}

/// What was typed, fit for a message: on one line, not too long.
pub(crate) fn plain(typed: &str) -> String {
    const MOST: usize = 40;
    let mut words = String::new();
    for (at, letter) in typed.trim().chars().enumerate() {
        if at == MOST {
            words.push('…');
            break;
        }
        words.push(if letter.is_control() { ' ' } else { letter });
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_word_is_found() {
        let known = ["title", "level", "tempo", "figure"];
        let rows = [
            ("titel", Some("title")),
            ("Title", Some("title")),
            ("figures", Some("figure")),
            ("fgire", Some("figure")),
            ("lvele", Some("level")),
            ("key", None),
            ("", None),
        ];
        for (typed, expected) in rows {
            assert_eq!(nearest(typed, known), expected, "{typed}");
        }
    }

    #[test]
    fn lists_read_like_sentences() {
        assert_eq!(listed(&["a", "b", "c"], "or"), "a, b or c");
        assert_eq!(listed(&["a"], "or"), "a");
        assert_eq!(listed::<&str>(&[], "or"), "");
    }

    #[test]
    fn shown_words_stay_short_and_on_one_line() {
        assert_eq!(shown(" up\n3 "), "\"up 3\"");
        assert_eq!(shown(&"a".repeat(50)), format!("\"{}…\"", "a".repeat(40)));
    }
}
