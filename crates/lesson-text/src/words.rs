//! The words of a lesson and what they mean. Case and extra spaces don't
//! matter, nor whether words are joined by a space, a hyphen or `_`.

use lesson::{
    Breath, ChorusKind, ComingDown, Connect, Direction, Dynamic, Ending, Hide, KindName, Label,
    Named, NoteNames, Paper, SayName, Shift, Span, TooWide, TrackClick, TrackForm, TrackStyle,
};
use theory::{Level, Preference, SignatureStyle, SpellingStyle};

use crate::report::Report;
use crate::suggestion::{listed, nearest, shown};
use crate::text::Text;

/// Words and the value each stands for.
pub(crate) type Choices<T> = &'static [(&'static str, T)];

pub(crate) const LEVELS: Choices<Level> = &[
    ("beginner", Level::Beginner),
    ("intermediate", Level::Intermediate),
    ("advanced", Level::Advanced),
];

pub(crate) const SIGNATURES: Choices<SignatureStyle> = &[
    ("fitting", SignatureStyle::Fitting),
    ("tonic", SignatureStyle::Tonic),
    ("none", SignatureStyle::None),
];

pub(crate) const SPELLINGS: Choices<SpellingStyle> = &[
    ("readable", SpellingStyle::Readable),
    ("strict", SpellingStyle::Strict),
];

pub(crate) const LABELS: Choices<Label> = &[
    ("degrees", Label::Degrees),
    ("counts", Label::Counts),
    ("moves", Label::Moves),
    ("note names", Label::NoteNames),
    ("solfege", Label::Solfege),
    ("valves", Label::Valves),
    ("positions", Label::Positions),
];

pub(crate) const PAPERS: Choices<Paper> = &[("a4", Paper::A4), ("letter", Paper::Letter)];

pub(crate) const NAMED: Choices<Named> =
    &[("concert", Named::Concert), ("written", Named::Written)];

pub(crate) const PREFERENCES: Choices<Preference> =
    &[("sharps", Preference::Sharps), ("flats", Preference::Flats)];

/// Kinds; none for a line of another kind that the student writes out.
pub(crate) const KINDS: Choices<Option<KindName>> = &{
    let mut kinds = [("write out", None); KindName::ALL.len() + 1];
    let mut at = 0;
    while at < KindName::ALL.len() {
        kinds[at] = (KindName::ALL[at].word(), Some(KindName::ALL[at]));
        at += 1;
    }
    kinds
};

/// Whether every second statement of a study is turned backwards.
pub(crate) const PATTERNS: Choices<bool> = &[("straight", false), ("broken", true)];

pub(crate) const SAYINGS: Choices<SayName> =
    &[("figure", SayName::Figure), ("sequence", SayName::Sequence)];

/// What an exercise may be that the student writes out, the usual one first.
pub(crate) const LINES: Choices<KindName> = &[
    (KindName::Keys.word(), KindName::Keys),
    (KindName::Scale.word(), KindName::Scale),
    (KindName::Figure.word(), KindName::Figure),
    (KindName::Sequence.word(), KindName::Sequence),
    (KindName::Intervals.word(), KindName::Intervals),
    (KindName::Runs.word(), KindName::Runs),
];

pub(crate) const NOTE_NAMES: Choices<NoteNames> = &[
    ("english", NoteNames::English),
    ("german", NoteNames::German),
    ("latin", NoteNames::Latin),
];

pub(crate) const CHORUSES: Choices<ChorusKind> = &[
    ("line", ChorusKind::Line),
    ("elsewhere", ChorusKind::Elsewhere),
    ("flipped", ChorusKind::Flipped),
    ("later", ChorusKind::Later),
    ("denser", ChorusKind::Denser),
    ("slashes", ChorusKind::Slashes),
];

pub(crate) const CONNECTS: Choices<Connect> = &[
    ("none", Connect::None),
    ("approach", Connect::Approach),
    ("run", Connect::Run),
];

pub(crate) const SHIFTS: Choices<Shift> =
    &[("none", Shift::None), ("over the bar", Shift::OverTheBar)];

pub(crate) const BREATHS: Choices<Breath> = &[
    ("mark", Breath::Mark),
    ("rest", Breath::Rest),
    ("none", Breath::None),
];

pub(crate) const DYNAMICS: Choices<Dynamic> = &[
    ("pp", Dynamic::Pianissimo),
    ("p", Dynamic::Piano),
    ("mp", Dynamic::MezzoPiano),
    ("mf", Dynamic::MezzoForte),
    ("f", Dynamic::Forte),
    ("ff", Dynamic::Fortissimo),
];

pub(crate) const HIDES: Choices<Hide> = &[
    ("notes", Hide::Notes),
    ("chords", Hide::Chords),
    ("degrees", Hide::Degrees),
];

pub(crate) const DIRECTIONS: Choices<Direction> = &[
    ("up", Direction::Up),
    ("down", Direction::Down),
    ("up and down", Direction::UpAndDown),
];

pub(crate) const COMING_DOWN: Choices<ComingDown> = &[
    ("flipped", ComingDown::Flipped),
    ("reversed", ComingDown::Reversed),
    ("as it is", ComingDown::AsItIs),
];

pub(crate) const SPANS: Choices<Span> = &[
    ("one octave", Span::OneOctave),
    ("two octaves", Span::TwoOctaves),
    ("whole horn", Span::WholeHorn),
];

pub(crate) const TOO_WIDE: Choices<TooWide> = &[
    ("turn early", TooWide::TurnEarly),
    ("jump", TooWide::Jump),
    ("leave out", TooWide::LeaveOut),
];

pub(crate) const ENDINGS: Choices<Ending> = &[("root", Ending::Root), ("none", Ending::None)];

pub(crate) const TRACK_FORMS: Choices<TrackForm> = &[
    ("backing", TrackForm::Backing),
    ("line alone", TrackForm::LineAlone),
    ("answer", TrackForm::Answer),
    ("slow", TrackForm::Slow),
    ("all keys", TrackForm::AllKeys),
];

pub(crate) const TRACK_STYLES: Choices<TrackStyle> = &[
    ("swing", TrackStyle::Swing),
    ("two beat", TrackStyle::TwoBeat),
    ("waltz", TrackStyle::Waltz),
    ("bossa", TrackStyle::Bossa),
    ("funk", TrackStyle::Funk),
    ("shuffle", TrackStyle::Shuffle),
    ("ballad", TrackStyle::Ballad),
    ("even eighths", TrackStyle::EvenEighths),
    ("drone", TrackStyle::Drone),
    ("plain", TrackStyle::Plain),
];

pub(crate) const TRACK_CLICKS: Choices<TrackClick> = &[
    ("all beats", TrackClick::AllBeats),
    ("2 and 4", TrackClick::TwoAndFour),
    ("beat 1", TrackClick::BeatOne),
    ("none", TrackClick::None),
];

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
        &text.place,
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
