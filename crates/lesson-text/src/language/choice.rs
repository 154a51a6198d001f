//! Choosing among words: case and extra spaces don't matter, nor whether words
//! are joined by a space, a hyphen or `_`.

use crate::mistakes::report::Report;
use crate::mistakes::suggestion::{listed, nearest, shown};
use crate::mistakes::text::Text;

/// Words and the value each stands for.
pub(crate) type Choices<T> = &'static [(&'static str, T)];

/// The words of some choices.
pub(crate) fn names<T>(choices: Choices<T>) -> Vec<String> {
    choices.iter().map(|(word, _)| (*word).to_owned()).collect()
}

/// Words as they are compared: small letters, single spaces.
pub(crate) fn folded(text: &str) -> String {
    let plain = text
        .to_lowercase()
        .replace(['-', '_'], " ")
        .replace('è', "e");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a word stands for, or a mistake that says what may stand there.
pub(crate) fn choose<T: Copy>(
    key: &str,
    text: &Text,
    choices: Choices<T>,
    report: &mut Report<'_>,
) -> Option<T> {
    let typed = folded(&text.value);
    if let Some((_, value)) = choices.iter().find(|(word, _)| *word == typed) {
        return Some(*value);
    }
    let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
    report.mistake(
        &text.span,
        format!("{key} can't be {}", shown(&text.value)),
        choice_help(&typed, &words),
    );
    None
}

/// Words that musicians say for ours.
const MEANT: &[(&str, &str)] = &[
    ("inverted", "flipped"),
    ("inversion", "flipped"),
    ("mirrored", "flipped"),
    ("upside down", "flipped"),
    ("retrograde", "reversed"),
    ("backward", "reversed"),
    ("backwards", "reversed"),
    ("same", "as it is"),
    ("ascending", "up"),
    ("descending", "down"),
    ("both", "up and down"),
    ("both ways", "up and down"),
    ("there and back", "up and down"),
    ("whole range", "whole horn"),
    ("full range", "whole horn"),
    ("chromatic", "half steps"),
    ("semitones", "half steps"),
    ("whole tones", "whole steps"),
    ("random", "shuffled"),
    ("sounding", "concert"),
    ("transposed", "written"),
    ("solfa", "solfege"),
    ("notes", "note names"),
    ("fingerings", "valves"),
    ("fingering", "valves"),
    ("slide", "positions"),
    ("slide positions", "positions"),
];

/// Which of the known words was meant: a musician's other word for it, or the
/// nearest.
pub(crate) fn meant<'a>(typed: &str, words: &[&'a str]) -> Option<&'a str> {
    let other = MEANT.iter().find(|(said, _)| *said == typed);
    let other = other.and_then(|(_, ours)| words.iter().find(|word| *word == ours));
    other
        .copied()
        .or_else(|| nearest(typed, words.iter().copied()))
}

/// What to write instead of a word that isn't one of those known.
pub(crate) fn choice_help(typed: &str, words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    match meant(typed, words) {
        // A long list helps nobody who was nearly right.
        Some(near) if words.len() > 7 => format!("did you mean \"{near}\"?"),
        Some(near) => format!(
            "did you mean \"{near}\"? It may be {}",
            listed(&quoted, "or")
        ),
        None => format!("write {}", listed(&quoted, "or")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::words::{COMING_DOWN, DIRECTIONS, LABELS, NAMED, SPANS};

    #[test]
    fn a_musicians_other_word_is_understood() {
        let check = |typed: &str, words: &[&str], expected: &str| {
            let help = choice_help(typed, words);
            assert!(help.starts_with(expected), "{typed}: {help}");
        };
        let coming_down = ["flipped", "reversed", "as it is"];
        check("inverted", &coming_down, "did you mean \"flipped\"?");
        check("retrograde", &coming_down, "did you mean \"reversed\"?");
        check("fliped", &coming_down, "did you mean \"flipped\"?");
        check("ascending", &["up", "down"], "did you mean \"up\"?");
        check("ascending", &["one octave"], "write \"one octave\"");
    }

    #[test]
    fn every_other_word_stands_for_one_that_is_known() {
        let known: Vec<&str> = [
            COMING_DOWN
                .iter()
                .map(|(word, _)| *word)
                .collect::<Vec<_>>(),
            DIRECTIONS.iter().map(|(word, _)| *word).collect(),
            SPANS.iter().map(|(word, _)| *word).collect(),
            NAMED.iter().map(|(word, _)| *word).collect(),
            LABELS.iter().map(|(word, _)| *word).collect(),
            vec!["half steps", "whole steps", "shuffled"],
        ]
        .concat();
        for (said, ours) in MEANT {
            assert!(known.contains(ours), "{said}: {ours}");
        }
    }

    #[test]
    fn case_spaces_and_hyphens_do_not_matter() {
        let rows = [
            (" Up  and DOWN ", "up and down"),
            ("note-names", "note names"),
            ("as_it_is", "as it is"),
            ("Solfège", "solfege"),
        ];
        for (typed, expected) in rows {
            assert_eq!(folded(typed), expected);
        }
    }
}
