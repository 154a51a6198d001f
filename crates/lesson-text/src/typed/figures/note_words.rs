//! A figure's line as degrees or rungs: `degrees = "1 2 3 5"` or
//! `rungs = "1 2 3 4"`.

use std::ops::Range;

use theory::Degree;

use crate::limit;
use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Spanned;
use crate::mistakes::suggestion::shown;
use crate::mistakes::text::Text;
use crate::tables::value::too_many;
use crate::typed::figures::wording::{DegreeWord, NoteWord};
use crate::typed::scale::split;

/// Whether numbers name degrees or count rungs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Numbers {
    Degrees,
    Rungs,
}

/// Reads notes; `None` where any is unclear.
pub(crate) fn note_words(
    text: &Text,
    numbers: Numbers,
    report: &mut Report<'_>,
) -> Option<Vec<Spanned<NoteWord>>> {
    let before = report.count();
    let typed = text.value.to_lowercase();
    // Small letters may take other bytes; spans are those of what was typed.
    let typed = if typed.len() == text.value.len() {
        typed
    } else {
        text.value.clone()
    };
    let words = split(&typed, |c| c.is_whitespace() || c == ',');
    if too_many(words.len(), limit::MOVES, &text.span, report) {
        return None;
    }
    let mut notes = Vec::new();
    let mut from: Option<usize> = None;
    let mut octaves = 0;
    for (part, word) in words {
        let start = from.unwrap_or(part.start);
        let value = match (word, read(word, numbers, octaves)) {
            ("low", _) => {
                from = Some(start);
                octaves -= 1;
                continue;
            }
            ("high", _) => {
                from = Some(start);
                octaves += 1;
                continue;
            }
            ("rest", _) if from.is_none() => NoteWord::Rest,
            (_, Some(value)) => value,
            (_, None) => {
                report.note(wrong(text.part(report, &part), word, numbers));
                continue;
            }
        };
        notes.push(Spanned {
            value,
            span: text.part(report, &(start..part.end)),
        });
        from = None;
        octaves = 0;
    }
    if let Some(start) = from {
        let span = text.part(report, &(start..typed.trim_end().len()));
        report.mistake(
            &span,
            "no number follows here",
            "low and high stand before the number they shift",
        );
    }
    let sounds = |said: &Spanned<NoteWord>| said.value != NoteWord::Rest;
    if report.count() == before && !notes.iter().any(sounds) {
        report.mistake(
            &text.span,
            "no note is said",
            "write numbers with spaces between them: 1 2 3 5",
        );
    }
    (report.count() == before).then_some(notes)
}

/// The degree that words begin with, `low` and `high` before it, and how many
/// words they are.
pub(crate) fn degree_word(words: &[&str]) -> Option<(DegreeWord, usize)> {
    let mut octaves = 0;
    for (at, word) in words.iter().enumerate() {
        match *word {
            "low" => octaves -= 1,
            "high" => octaves += 1,
            word => {
                return Some((
                    DegreeWord {
                        degree: word.parse().ok()?,
                        octaves,
                    },
                    at + 1,
                ));
            }
        }
    }
    None
}

fn read(word: &str, numbers: Numbers, octaves: i32) -> Option<NoteWord> {
    match numbers {
        Numbers::Degrees => Some(NoteWord::Degree(DegreeWord {
            degree: word.parse::<Degree>().ok()?,
            octaves,
        })),
        Numbers::Rungs => {
            let plain =
                !word.is_empty() && word.len() <= 3 && word.chars().all(|c| c.is_ascii_digit());
            let number: i32 = if plain {
                word.parse().ok()?
            } else {
                return None;
            };
            (1..=limit::RUNGS)
                .contains(&number)
                .then(|| NoteWord::Rung {
                    rungs: number - 1,
                    octaves,
                })
        }
    }
}

fn wrong(span: Range<usize>, word: &str, numbers: Numbers) -> Mistake {
    let (message, help) = match numbers {
        Numbers::Degrees => (
            format!("{} is no degree", shown(word)),
            "write numbers with b or # before them, rest, and low or high before a number: 1 b3 5 high 1".to_owned(),
        ),
        Numbers::Rungs => (
            format!("{} is no place in the scale", shown(word)),
            format!("write plain numbers from 1 to {}, rest, and low or high before a number: 1 3 5 low 7", limit::RUNGS),
        ),
    };
    Mistake::new(span, message, help)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(typed: &str, numbers: Numbers, expected: &str) {
        let source = format!("\"{typed}\"");
        let mut report = Report::new(&source);
        let text = Text {
            value: typed.to_owned(),
            span: 0..source.len(),
        };
        let found = match note_words(&text, numbers, &mut report) {
            Some(notes) => notes.iter().map(word).collect::<Vec<_>>().join(" "),
            None => report
                .into_mistakes()
                .iter()
                .map(|mistake| format!("{}: {}", &source[mistake.span.clone()], mistake.message))
                .collect::<Vec<_>>()
                .join("; "),
        };
        assert_eq!(found, expected, "{typed}");
    }

    fn word(said: &Spanned<NoteWord>) -> String {
        match said.value {
            NoteWord::Degree(word) => format!("{}{:+}", word.degree, word.octaves),
            NoteWord::Rung { rungs, octaves } => format!("r{rungs}{octaves:+}"),
            NoteWord::Rest => "-".to_owned(),
        }
    }

    #[test]
    fn places_are_read() {
        check("1 2 b3 5", Numbers::Degrees, "1+0 2+0 b3+0 5+0");
        check(
            "1, low ♭7, rest, HIGH 1",
            Numbers::Degrees,
            "1+0 b7-1 - 1+1",
        );
        check("1 9 low 3", Numbers::Rungs, "r0+0 r8+0 r2-1");
        check("1 x", Numbers::Degrees, "x: \"x\" is no degree");
        check(
            "1 b3",
            Numbers::Rungs,
            "b3: \"b3\" is no place in the scale",
        );
        check("1 low", Numbers::Degrees, "low: no number follows here");
        check("rest", Numbers::Degrees, "\"rest\": no note is said");
        check("0", Numbers::Rungs, "0: \"0\" is no place in the scale");
    }
}
