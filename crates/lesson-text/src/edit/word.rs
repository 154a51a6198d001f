//! The words of a lesson that a control can hold, table by table, and which
//! of them each kind of exercise takes. The last is asked of the reader
//! itself, with a small lesson for each, so that it can't be told otherwise
//! here.

use std::sync::OnceLock;

use lesson::KindName;

use crate::choice::Choices;
use crate::limit;
use crate::study;
use crate::words;

/// A key of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Word {
    /// The key.
    pub key: &'static str,
    /// What it takes.
    pub takes: Takes,
}

/// What a key takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Takes {
    /// One of these words.
    One(Vec<&'static str>),
    /// A list of these words.
    Several(Vec<&'static str>),
    /// Any words; these are usual.
    Text(Vec<&'static str>),
    /// Several lines of words.
    Lines,
    /// A list of any words; these are usual.
    Texts(Vec<&'static str>),
    /// A whole number in a range.
    Number(i64, i64),
    /// `true` or `false`.
    Switch,
    /// The name of a scale of the catalogue.
    Scale,
    /// The name of an instrument of the catalogue.
    Instrument,
    /// The name of a figure or a scale of this lesson.
    Own(&'static str),
    /// A list of names of this lesson's figures.
    Owns(&'static str),
    /// A small table of its own, with these words.
    Table(Vec<Word>),
    /// Words over bars and statements: `"bar 3" = "listen"`.
    WordsOver,
    /// A kind of chord.
    Chord,
    /// Beats a minute, or a ladder of them.
    Tempo,
    /// An order of keys, or exactly some.
    Keys,
    /// More than a control can hold.
    InText,
}

fn one<T>(choices: Choices<T>) -> Takes {
    Takes::One(choices.iter().map(|(word, _)| *word).collect())
}

fn several<T>(choices: Choices<T>) -> Takes {
    Takes::Several(choices.iter().map(|(word, _)| *word).collect())
}

fn number(range: std::ops::RangeInclusive<i64>) -> Takes {
    Takes::Number(*range.start(), *range.end())
}

const VARIANTS: [&str; 16] = [
    "as it is",
    "flipped",
    "reversed",
    "flipped and reversed",
    "begun on note 2",
    "begun on each note",
    "order 2 1 3",
    "every order",
    "1 eighth later",
    "begun on every eighth",
    "half values",
    "double values",
    "in 3/4",
    "from below on 2",
    "enclosed on 3",
    "all",
];

/// What a key of a table takes, by the table's name; the head has none.
pub fn words_of(table: Option<&str>) -> Vec<Word> {
    let keys = match table {
        None => crate::known_table::LESSON.keys,
        Some("keys") => crate::known_table::KEYS.keys,
        Some("scale") => crate::known_table::SCALE.keys,
        Some("figure") => crate::known_table::FIGURE.keys,
        Some("exercise") => crate::known_table::EXERCISE.keys,
        Some("player") => crate::known_table::PLAYER.keys,
        Some("track") => crate::known_table::TRACK.keys,
        Some("levels") => crate::known_table::LEVELS.keys,
        Some("weights") => crate::known_table::WEIGHTS.keys,
        Some("changes") => crate::known_table::CHANGES.keys,
        Some("section") => crate::known_table::SECTION.keys,
        Some("instrument") => crate::known_table::INSTRUMENT.keys,
        Some(_) => &[],
    };
    let word = |key: &&'static str| {
        Some(Word {
            key,
            takes: takes(table, key)?,
        })
    };
    keys.iter().filter_map(word).collect()
}

fn takes(table: Option<&str>, key: &str) -> Option<Takes> {
    Some(match (table, key) {
        (Some("levels"), _) => number(limit::LEVEL),
        (Some("weights"), _) => number(limit::WEIGHT),
        (Some("figure"), "literal") => Takes::Switch,
        (Some("figure"), "chords") => Takes::Text(Vec::new()),
        (Some("figure"), "key") => Takes::Text(vec!["C", "C minor"]),
        (Some("changes"), "key") => Takes::Text(vec!["C", "C minor"]),
        (Some("changes"), "lead_sheet" | "part") => Takes::Text(Vec::new()),
        (Some("changes" | "section"), "bars") => Takes::Lines,
        (Some("changes"), "form") => Takes::Texts(Vec::new()),
        (Some("section"), "times") => number(limit::SECTION_TIMES),
        (Some("instrument"), "clef") => {
            Takes::Text(vec!["treble", "treble 8 below", "bass", "alto", "tenor"])
        }
        (Some("instrument"), "sounds") => Takes::Text(vec!["Bb3", "Eb3", "C4"]),
        (Some("instrument"), "like") => Takes::Instrument,
        (Some("instrument"), "range" | "beginner" | "intermediate" | "advanced") => {
            Takes::Text(vec!["B3 to A5"])
        }
        (Some("scale"), "name") => Takes::Scale,
        (Some("exercise"), "kind") => one(words::KINDS),
        (Some("exercise"), "of") => Takes::One(
            study::INTERVALS
                .iter()
                .chain(study::RUNS)
                .map(|(word, _)| *word)
                .collect(),
        ),
        (Some("exercise"), "figure") => Takes::Own("figure"),
        (Some("exercise"), "figures") => Takes::Owns("figure"),
        (Some("exercise"), "words") => Takes::WordsOver,
        (Some("exercise"), "weights") => Takes::Table(words_of(Some("weights"))),
        (Some("track"), "levels") => Takes::Table(words_of(Some("levels"))),
        (Some("track"), "style") => one(words::TRACK_STYLES),
        (Some("track"), "click") => one(words::TRACK_CLICKS),
        (None, "paper") => one(words::PAPERS),
        (_, "numbers") => Takes::Text(vec!["quarters", "eighths", "sixteenths"]),
        (Some("exercise"), "scale") => Takes::Own("scale"),
        (_, "title" | "subtitle" | "class" | "id" | "name" | "from") => Takes::Text(Vec::new()),
        (_, "moves" | "degrees" | "rungs" | "count" | "flipped") => Takes::Text(Vec::new()),
        (_, "slur" | "accent" | "staccato" | "tenuto" | "low" | "high") => Takes::Text(Vec::new()),
        (_, "ghost" | "fall" | "scoop" | "doit" | "unflipped") => Takes::Text(Vec::new()),
        (_, "author" | "rights" | "footer" | "heading") => Takes::Text(Vec::new()),
        (_, "text") => Takes::Lines,
        (_, "show_moves" | "chord_symbols") => Takes::Switch,
        (_, "for") => Takes::Texts(vec!["beginner", "intermediate", "advanced"]),
        (_, "begins") => Takes::Text(vec!["1", "1 5"]),
        (_, "instruments") => Takes::InText,
        (_, "instrument") if table.is_some() => Takes::Instrument,
        (_, "level") => one(words::LEVELS),
        (_, "tempo") => Takes::Tempo,
        (_, "feel") => Takes::Text(vec!["straight", "swing", "swing auto", "swing 3:2"]),
        (_, "signature") => one(words::SIGNATURES),
        (_, "spelling") => one(words::SPELLINGS),
        (_, "labels") => several(words::LABELS),
        (_, "together" | "large_print" | "answers" | "care" | "anticipate") => Takes::Switch,
        (_, "note_names") => one(words::NOTE_NAMES),
        (_, "dynamic") => one(words::DYNAMICS),
        (_, "breath") => one(words::BREATHS),
        (Some("keys"), "order") => Takes::Text(Vec::new()),
        (_, "named") => one(words::NAMED),
        (_, "prefer") => one(words::PREFERENCES),
        (_, "only" | "heard") => Takes::Texts(Vec::new()),
        (_, "draw") => Takes::Number(1, 12),
        (_, "seed") => Takes::Number(0, limit::SEED),
        (_, "chord") => Takes::Chord,
        (_, "meter") => Takes::Text(vec![
            "4/4", "3/4", "2/4", "2/2", "6/8", "9/8", "12/8", "5/4", "7/8",
        ]),
        (_, "length") => Takes::Text(vec!["1 bar", "2 bars"]),
        (_, "say") => one(words::SAYINGS),
        (_, "pattern") => one(words::PATTERNS),
        (_, "direction") => one(words::DIRECTIONS),
        (_, "coming_down") => one(words::COMING_DOWN),
        (_, "span") => one(words::SPANS),
        (_, "when_too_wide") => one(words::TOO_WIDE),
        (_, "ending") => one(words::ENDINGS),
        (_, "variants") => Takes::Texts(VARIANTS.to_vec()),
        (_, "keys") if table.is_some() => Takes::Keys,
        (_, "written" | "slashes" | "given") => number(limit::BARS),
        (_, "line") => one(words::LINES),
        (_, "hide") => one(words::HIDES),
        (_, "choruses") => several(words::CHORUSES),
        (_, "plan") => Takes::Text(vec!["every bar", "2 bars play, 1 bar rest"]),
        (_, "connect") => one(words::CONNECTS),
        (_, "shift") => one(words::SHIFTS),
        (_, "in_a_row") => Takes::Number(1, 16),
        (_, "copies") => Takes::Number(1, limit::COPIES),
        (_, "count_in") => number(limit::COUNT_IN),
        (_, "times") => number(limit::TIMES),
        (_, "forms") => several(words::TRACK_FORMS),
        (_, "tuning") => number(limit::TUNING),
        // Both say the same; a card has the list.
        (_, "variant") => return None,
        _ => return None,
    })
}

/// Every kind of exercise with what it is and the words it takes, `kind`
/// left out.
pub fn kinds() -> &'static [(&'static str, &'static str, Vec<Word>)] {
    static KINDS: OnceLock<Vec<(&'static str, &'static str, Vec<Word>)>> = OnceLock::new();
    KINDS.get_or_init(|| {
        words::KINDS
            .iter()
            .map(|(word, kind)| (*word, about(*kind), words_of_kind(word, *kind)))
            .collect()
    })
}

fn about(kind: Option<KindName>) -> &'static str {
    kind.map_or(
        "the beginning is given, and the student writes the rest",
        |kind| kind.row().about,
    )
}

fn words_of_kind(word: &str, kind: Option<KindName>) -> Vec<Word> {
    let of = kind.and_then(study::choices);
    let required = of
        .map(|of| format!("of = \"{}\"\n", of[0].0))
        .unwrap_or_default();
    let says = words_of(Some("exercise")).into_iter().filter_map(|own| {
        if own.key == "kind" {
            return None;
        }
        if own.key == "of" {
            let of = of?;
            return Some(Word {
                takes: one(of),
                ..own
            });
        }
        let own = match own.takes {
            Takes::Table(words) => Word {
                takes: Takes::Table(taken_in(word, own.key, words)),
                ..own
            },
            _ => own,
        };
        let sample = sample(&own)?;
        let line = format!("{} = {sample}\n", own.key);
        // What a figure said once in each key doesn't take, its sequence may.
        let sequence = format!("say = \"sequence\"\n{line}");
        [&line, &sequence]
            .into_iter()
            .any(|line| is_taken(word, &required, line))
            .then_some(own)
    });
    says.collect()
}

/// The words of a small table that a kind takes; how much a connection weighs
/// is said beside one.
fn taken_in(kind: &str, table: &str, words: Vec<Word>) -> Vec<Word> {
    let taken = |word: &Word| {
        let Some(sample) = sample(word) else {
            return false;
        };
        let line = format!("{table} = {{ {} = {sample} }}\n", word.key);
        let connected = format!("connect = \"approach\"\n{line}");
        [line, connected]
            .iter()
            .any(|line| is_taken(kind, "", line))
    };
    words.into_iter().filter(taken).collect()
}

/// Whether a lesson with such an exercise is without a mistake.
fn is_taken(kind: &str, required: &str, line: &str) -> bool {
    let text = format!(
        "title = \"t\"\n[scale]\nname = \"major\"\n\
         [changes]\nbars = \"| C | G7 | C | C |\"\n\
         [figure]\nname = \"f\"\nmoves = \"start, step up, step up, step up\"\n\
         [[exercise]]\nkind = \"{kind}\"\n{required}{line}"
    );
    crate::read(&text, "t").is_ok()
}

/// A value that the word may have.
fn sample(word: &Word) -> Option<String> {
    let quoted = |word: &str| format!("\"{word}\"");
    Some(match &word.takes {
        Takes::One(words) => quoted(words.first()?),
        Takes::Several(words) => format!("[{}]", quoted(words.first()?)),
        Takes::Texts(words) => format!("[{}]", quoted(words.first()?)),
        Takes::Text(words) => quoted(words.first().unwrap_or(&"x")),
        Takes::Lines => quoted("x"),
        Takes::Number(from, _) => from.max(&1).to_string(),
        Takes::Switch => "true".to_owned(),
        Takes::Own("figure") => quoted("f"),
        Takes::Owns(_) => "[\"f\"]".to_owned(),
        Takes::Table(words) => {
            let first = words.first()?;
            format!("{{ {} = {} }}", first.key, sample(first)?)
        }
        Takes::WordsOver => "{ \"bar 1\" = \"x\" }".to_owned(),
        Takes::Own(_) | Takes::Scale => quoted("major"),
        Takes::Instrument => quoted("flute"),
        Takes::Chord => quoted("maj7"),
        Takes::Tempo => "96".to_owned(),
        Takes::Keys => "{ only = [\"C\"] }".to_owned(),
        Takes::InText => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::known_table;

    /// A new word gets its place on a card, or is named here as one that only
    /// the text has.
    #[test]
    fn every_word_has_its_place() {
        // Tables have cards of their own; `variants` says what `variant` does;
        // what it is for each chord is a list of its own.
        let elsewhere = |table: Option<&str>, key: &str| match table {
            None => {
                known_table::SEVERAL.contains(&key)
                    || ["keys", "changes", "choose", "track"].contains(&key)
            }
            Some("exercise") => key == "variant",
            Some(_) => false,
        };
        let tables = [
            (None, known_table::LESSON),
            (Some("keys"), known_table::KEYS),
            (Some("scale"), known_table::SCALE),
            (Some("figure"), known_table::FIGURE),
            (Some("exercise"), known_table::EXERCISE),
            (Some("player"), known_table::PLAYER),
            (Some("track"), known_table::TRACK),
            (Some("levels"), known_table::LEVELS),
            (Some("changes"), known_table::CHANGES),
            (Some("section"), known_table::SECTION),
            (Some("weights"), known_table::WEIGHTS),
            (Some("instrument"), known_table::INSTRUMENT),
        ];
        for (table, known) in tables {
            for key in known.keys {
                let placed = takes(table, key).is_some() || elsewhere(table, key);
                assert!(placed, "{key} of {table:?} has no place on a card");
            }
        }
    }

    /// Cards of exercises over changes have what only they take.
    #[test]
    fn what_a_kind_takes_is_asked_of_the_reader() {
        let has = |kind: &str, key: &str| {
            let (_, _, words) = kinds().iter().find(|(word, ..)| *word == kind).unwrap();
            words.iter().any(|word| word.key == key)
        };
        for key in ["weights", "figures", "words", "variants", "begins", "plan"] {
            assert!(has("changes", key), "{key}");
        }
        let weights = |kind: &str| {
            let (_, _, words) = kinds().iter().find(|(word, ..)| *word == kind).unwrap();
            let weights = words.iter().find(|word| word.key == "weights").unwrap();
            match &weights.takes {
                Takes::Table(words) => words.iter().map(|word| word.key).collect::<Vec<_>>(),
                _ => Vec::new(),
            }
        };
        assert!(weights("changes").contains(&"connect"));
        assert!(!weights("guide tones").contains(&"connect"));
        assert!(weights("guide tones").contains(&"smooth"));
        assert!(has("changes", "connect") && has("changes", "shift"));
        assert!(!has("sequence", "weights") && !has("sequence", "figures"));
        assert!(has("sequence", "words") && has("scale", "words"));
    }
}
