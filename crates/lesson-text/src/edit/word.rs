//! The words of a lesson that a control can hold, table by table, and which
//! of them each kind of exercise takes. The last is asked of the reader
//! itself, with a small lesson for each, so that it can't be told otherwise
//! here.

use std::sync::OnceLock;

use lesson::KindName;

use crate::language::choice::names;
use crate::language::known::{self, Known};
use crate::language::known_table;
use crate::language::study;
use crate::language::words;

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
    One(Vec<String>),
    /// A list of these words.
    Several(Vec<String>),
    /// Any words; these are usual.
    Text(Vec<String>),
    /// Several lines of words.
    Lines,
    /// A list of any words; these are usual.
    Texts(Vec<String>),
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

/// What a key of a table takes, by the table's name; the head has none.
pub fn words_of(table: Option<&str>) -> Vec<Word> {
    let known = match table {
        None => known_table::LESSON,
        Some("keys") => known_table::KEYS,
        Some("scale") => known_table::SCALE,
        Some("figure") => known_table::FIGURE,
        Some("exercise") => known_table::EXERCISE,
        Some("player") => known_table::PLAYER,
        Some("track") => known_table::TRACK,
        Some("levels") => known_table::LEVELS,
        Some("weights") => known_table::WEIGHTS,
        Some("changes") => known_table::CHANGES,
        Some("section") => known_table::SECTION,
        Some("instrument") => known_table::INSTRUMENT,
        Some(_) => return Vec::new(),
    };
    words_in(known)
}

fn words_in(known: Known) -> Vec<Word> {
    // A lesson's keys have a card of their own; `variants` says what `variant`
    // does.
    let elsewhere = |key| key == "variant" || key == "keys" && known == known_table::LESSON;
    let said = known.words.iter().filter(|word| !elsewhere(word.key));
    let word = |said: &known::Word| {
        Some(Word {
            key: said.key,
            takes: control(&said.takes)?,
        })
    };
    said.filter_map(word).collect()
}

/// The control that holds what a word takes; none for tables that have a card
/// of their own.
fn control(takes: &known::Takes) -> Option<Takes> {
    Some(match takes {
        known::Takes::Text => Takes::Text(Vec::new()),
        known::Takes::Lines => Takes::Lines,
        known::Takes::Usual(words) => Takes::Text(words()),
        known::Takes::Scale => Takes::Scale,
        known::Takes::Instrument => Takes::Instrument,
        known::Takes::Chord => Takes::Chord,
        known::Takes::Own(what) => Takes::Own(what),
        known::Takes::Word(words) => Takes::One(words()),
        known::Takes::Number(least, most) => Takes::Number(*least, *most),
        known::Takes::Switch => Takes::Switch,
        known::Takes::WordsOver => Takes::WordsOver,
        known::Takes::List(each) => several(each)?,
        known::Takes::Any(all) => match all.iter().find_map(known::Takes::table) {
            Some(table) if *table == known_table::TEMPO => Takes::Tempo,
            Some(table) if *table == known_table::KEYS => Takes::Keys,
            _ => control(all.first()?)?,
        },
        known::Takes::Table(table) if !table.has_heading() => Takes::Table(words_in(**table)),
        known::Takes::Table(_) | known::Takes::Tables(_) | known::Takes::Entries => return None,
    })
}

/// The control that holds a list.
fn several(each: &known::Takes) -> Option<Takes> {
    Some(match each {
        known::Takes::Word(words) => Takes::Several(words()),
        known::Takes::Usual(words) => Takes::Texts(words()),
        known::Takes::Own(what) => Takes::Owns(what),
        known::Takes::Instrument => Takes::InText,
        known::Takes::Text => Takes::Texts(Vec::new()),
        known::Takes::Lines
        | known::Takes::Scale
        | known::Takes::Chord
        | known::Takes::Number(..)
        | known::Takes::Switch
        | known::Takes::List(_)
        | known::Takes::Table(_)
        | known::Takes::Tables(_)
        | known::Takes::Entries
        | known::Takes::WordsOver
        | known::Takes::Any(_) => return None,
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
                takes: Takes::One(names(of)),
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
        Takes::Text(words) => quoted(words.first().map_or("x", String::as_str)),
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

    /// A new word gets its place on a card, or is of a table that has a card of
    /// its own.
    #[test]
    fn every_word_has_its_place() {
        for known in known_table::ALL {
            if [known_table::COURSE, known_table::WEEK, known_table::TEMPO].contains(&known) {
                continue;
            }
            let placed = words_in(known);
            for word in known.words {
                let card = word.takes.table().is_some() || word.key == "choose";
                let said = placed.iter().any(|own| own.key == word.key) || word.key == "variant";
                assert!(
                    said || card,
                    "{} of {} has no place on a card",
                    word.key,
                    known.name
                );
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
