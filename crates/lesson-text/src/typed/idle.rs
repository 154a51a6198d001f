//! Words that say nothing in an exercise of this or that kind.

use std::ops::Range;

use lesson::{KindName, SayName};

use crate::mistakes::mistake::Mistake;
use crate::mistakes::report::Report;
use crate::tables::walk::Walk;

/// Words that say something only of what the student writes out.
pub(crate) const WRITTEN_OUT: [&str; 2] = ["line", "given"];

/// Tells of those in any other exercise.
pub(crate) fn only_written_out(walk: &Walk<'_>, kind: KindName, report: &mut Report<'_>) {
    for word in WRITTEN_OUT.into_iter().filter(|word| walk.has(word)) {
        let help = "leave it out, or write kind = \"write out\"";
        report.mistake(&walk.key_span(word), nothing_about(word, kind), help);
    }
}

/// Tells of words that say nothing in an exercise of this kind.
pub(crate) fn idle(walk: &Walk<'_>, kind: KindName, say: SayName, report: &mut Report<'_>) {
    for word in kind.idle_words(say).filter(|word| walk.has(word)) {
        report.note(says_nothing(walk.key_span(word), word, kind));
    }
}

/// What is told of a word that says nothing in a kind.
fn says_nothing(span: Range<usize>, word: &str, kind: KindName) -> Mistake {
    if let "begins" | "connect" | "shift" = word
        && kind.row().over_changes
    {
        return led(span, word, kind);
    }
    let (message, help) = match word {
        _ if kind.row().over_changes => (
            nothing_about(word, kind),
            "leave it out: the changes say it",
        ),
        "figures" => (
            nothing_about(word, kind),
            "write figure = and one of them, or say it in an exercise of the kind changes",
        ),
        "written" | "slashes" => (
            nothing_about(word, kind),
            "leave it out, or say it in an exercise of the kind trade",
        ),
        "of" | "pattern" => (
            nothing_about(word, kind),
            "leave it out, or say it in an exercise of the kind intervals or runs",
        ),
        "begins" | "choruses" | "plan" | "anticipate" | "connect" | "shift" | "weights"
        | "in_a_row" | "seed" => (
            nothing_about(word, kind),
            "leave it out, or say it in an exercise of the kind changes",
        ),
        _ if kind == KindName::Keys => (
            format!("{word} says nothing about a figure that is said once in each key"),
            "leave it out, or write say = \"sequence\"",
        ),
        "say" => (
            nothing_about(word, kind),
            "leave it out, or say it in an exercise of the kind keys",
        ),
        _ => (
            nothing_about(word, kind),
            "leave it out, or say it in a sequence",
        ),
    };
    Mistake::new(span, message, help)
}

/// What is told of a word for statements, where guide tones are played.
pub(crate) fn led(span: Range<usize>, word: &str, kind: KindName) -> Mistake {
    Mistake::new(
        span,
        format!("{} go where the chords lead them", kind.word()),
        format!("leave {word} out, or write kind = \"changes\""),
    )
}

fn nothing_about(word: &str, kind: KindName) -> String {
    let kind = kind.word();
    format!("{word} says nothing about an exercise of the kind {kind}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::known_table;
    use crate::language::words;

    /// What the table of kinds calls idle are words of an exercise, and what it
    /// lets the student write out may be written out.
    #[test]
    fn the_table_of_kinds_knows_the_words() {
        for kind in KindName::ALL {
            for word in kind.idle_words(SayName::Figure) {
                assert!(known_table::EXERCISE.keys.contains(&word), "{word}");
            }
            let line = words::LINES.iter().any(|(_, line)| line == kind);
            assert_eq!(line, kind.row().written_out, "{}", kind.word());
        }
    }
}
