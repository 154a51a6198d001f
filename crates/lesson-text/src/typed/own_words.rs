//! The teacher's own words: author, rights, footer, paragraphs, headings, and
//! what stands over bars and statements.

use lesson::{KindName, OwnWords, WordsOver, WordsPlace};

use crate::language::choice::folded;
use crate::limit;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Saying;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::tree::{Entry, Value};
use crate::tables::value::{page_text, wrong_kind};
use crate::tables::walk::Walk;

/// The words of a head; `None` where any is unclear. What it doesn't say is
/// said by `rest`, but for the text.
pub(crate) fn own_words(
    walk: &Walk<'_>,
    rest: &OwnWords,
    report: &mut Report<'_>,
) -> Option<OwnWords> {
    let mut line = |key| {
        let text = walk.text(key, report);
        text.and_then(|text| page_text(key, &text, report))
            .maybe()
            .ok()
    };
    let (author, rights, footer) = (line("author"), line("rights"), line("footer"));
    let text = paragraphs(walk, report);
    let show_moves = walk.switch("show_moves", report).or(rest.show_moves);
    Some(OwnWords {
        author: author?.or_else(|| rest.author.clone()),
        rights: rights?.or_else(|| rest.rights.clone()),
        footer: footer?.or_else(|| rest.footer.clone()),
        text: text?,
        show_moves: show_moves?,
    })
}

/// `text`: plain paragraphs, parted by empty lines; none where it isn't said.
pub(crate) fn paragraphs(walk: &Walk<'_>, report: &mut Report<'_>) -> Option<Vec<String>> {
    let said = walk
        .text("text", report)
        .and_then(|text| in_paragraphs(&text, report));
    said.or(Vec::new())
}

fn in_paragraphs(text: &Text, report: &mut Report<'_>) -> Option<Vec<String>> {
    let unprintable = text.value.char_indices().find(|(_, letter)| {
        let parts_words = matches!(letter, '\n' | '\r' | '\t');
        letter.is_control() && !parts_words
    });
    if let Some((at, letter)) = unprintable {
        let span = text.part(report, &(at..at + letter.len_utf8()));
        let message = format!(
            "text holds a character that can't be printed (U+{:04X})",
            u32::from(letter)
        );
        report.mistake(&span, message, "delete it");
        return None;
    }
    let letters = text.value.chars().count();
    if letters > limit::TEXT_LETTERS {
        let help = format!("keep it to {} letters", limit::TEXT_LETTERS);
        report.mistake(&text.span, format!("text has {letters} letters"), help);
        return None;
    }
    let mut paragraphs = vec![String::new()];
    for line in text.value.lines() {
        let words = line.split_whitespace().collect::<Vec<_>>().join(" ");
        match paragraphs.last_mut() {
            Some(last) if !words.is_empty() => {
                if !last.is_empty() {
                    last.push(' ');
                }
                last.push_str(&words);
            }
            Some(last) if last.is_empty() => {}
            _ => paragraphs.push(String::new()),
        }
    }
    paragraphs.retain(|paragraph| !paragraph.is_empty());
    if paragraphs.is_empty() {
        report.mistake(
            &text.span,
            "text is empty",
            "write what it is to say, or leave it out",
        );
        return None;
    }
    Some(paragraphs)
}

/// `heading`: the teacher's own; empty for none.
pub(crate) fn heading(walk: &Walk<'_>, report: &mut Report<'_>) -> Saying<String> {
    walk.text("heading", report).and_then(|text| {
        if text.value.trim().is_empty() {
            return Some(String::new());
        }
        page_text("heading", &text, report)
    })
}

/// `words = { "bar 3" = "listen", "statement 2" = "breathe" }`, in order.
pub(crate) fn words_over(
    walk: &Walk<'_>,
    kind: Option<KindName>,
    report: &mut Report<'_>,
) -> Saying<Vec<WordsOver>> {
    walk.read("words", |node| {
        let Value::Table(table) = &node.value else {
            wrong_kind("words", node, &node.value, EXAMPLE, report);
            return None;
        };
        let before = report.count();
        let mut all: Vec<WordsOver> = Vec::new();
        // A key set aside has its mistake already.
        for entry in table.entries.iter().filter(|entry| !entry.aside) {
            let Some(over) = one(entry, kind, report) else {
                continue;
            };
            if all.iter().any(|other| other.place == over.place) {
                let message = format!("{} is said here for the second time", shown(&entry.key));
                report.mistake(&entry.key_span, message, "keep one of the two");
            }
            all.push(over);
        }
        all.sort_by_key(|over| over.place);
        (report.count() == before).then_some(all)
    })
}

const EXAMPLE: &str = "write words = { \"bar 3\" = \"listen\", \"statement 2\" = \"breathe\" }";

fn one(entry: &Entry, kind: Option<KindName>, report: &mut Report<'_>) -> Option<WordsOver> {
    let place = words_place(&entry.key);
    let said = match &entry.node.value {
        Value::Text(words) => page_text(
            &shown(&entry.key),
            &Text {
                value: words.clone(),
                span: entry.node.span.clone(),
            },
            report,
        ),
        other => {
            wrong_kind(&shown(&entry.key), &entry.node, other, EXAMPLE, report);
            None
        }
    };
    if place.is_none() {
        let message = format!("{} is no place of an exercise", shown(&entry.key));
        let help = "write \"bar 3\" or \"statement 2\", counted from 1";
        report.mistake(&entry.key_span, message, help);
    }
    if let (Some(WordsPlace::Statement(_)), Some(kind)) = (place, kind)
        && !kind.row().statements
    {
        let message = format!("an exercise of the kind {} has no statements", kind.word());
        let help = "say the bar instead: \"bar 3\"";
        report.mistake(&entry.key_span, message, help);
        return None;
    }
    Some(WordsOver {
        place: place?,
        words: said?,
    })
}

/// `bar 3`, `statement 2`.
fn words_place(typed: &str) -> Option<WordsPlace> {
    let words = folded(typed);
    let (what, number) = words.split_once(' ')?;
    let number = number.parse().ok().filter(|number| *number > 0)?;
    match what {
        "bar" => Some(WordsPlace::Bar(number)),
        "statement" => Some(WordsPlace::Statement(number)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mistakes::saying::Spanned;

    #[test]
    fn paragraphs_are_parted_by_empty_lines() {
        let check = |typed: &str, expected: &[&str]| {
            let mut report = Report::new("");
            let text = Spanned {
                value: typed.to_owned(),
                span: 0..0,
            };
            let found = in_paragraphs(&text, &mut report).unwrap_or_default();
            assert_eq!(found, expected, "{typed:?}");
        };
        check("One line.", &["One line."]);
        check("\nOne\n  line.\n\n\nTwo. \r\n", &["One line.", "Two."]);
        check(" \n \n", &[]);
        check("", &[]);
    }

    #[test]
    fn places_are_counted_from_one() {
        assert_eq!(words_place("bar 3"), Some(WordsPlace::Bar(3)));
        assert_eq!(
            words_place("Statement  12"),
            Some(WordsPlace::Statement(12))
        );
        for typed in ["", "bar", "bar 0", "3", "beat 2", "bar 99999999"] {
            assert_eq!(words_place(typed), None, "{typed}");
        }
    }
}
