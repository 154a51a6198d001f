//! What a word of a lesson takes. The reader asks it here, and so does the
//! schema that editors check a lesson by.

use crate::known::Known;
use crate::tree::Value;
use crate::words::Choices;

/// Words, listed when they are asked for.
pub(crate) type Words = fn() -> Vec<String>;

/// What a word takes.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Takes {
    /// Words in quotes.
    Text,
    /// The same; these are usual.
    Usual(Words),
    /// One of these words, however they are joined and in letters of any size.
    Word(Words),
    /// A whole number, the least and the most.
    Number(i64, i64),
    /// `true` or `false`.
    Switch,
    /// Several in brackets.
    List(&'static Takes),
    /// A table.
    Table(&'static Known),
    /// One table, or several.
    Tables(&'static Known),
    /// A table of words of the lesson's own, each with words in quotes.
    Entries,
    /// Any of these.
    Any(&'static [Takes]),
}

impl Takes {
    /// Whether words in quotes may stand there.
    pub(crate) fn text(&self) -> bool {
        match self {
            Takes::Text | Takes::Usual(_) | Takes::Word(_) => true,
            Takes::Any(all) => all.iter().any(Takes::text),
            _ => false,
        }
    }

    /// The least and the most, where a number may stand there.
    pub(crate) fn number(&self) -> Option<(i64, i64)> {
        match self {
            Takes::Number(least, most) => Some((*least, *most)),
            Takes::Any(all) => all.iter().find_map(Takes::number),
            _ => None,
        }
    }

    /// Whether a value of this kind may stand there.
    pub(crate) fn fits(&self, value: &Value) -> bool {
        match (self, value) {
            (_, Value::Broken) => true,
            (Takes::Any(all), value) => all.iter().any(|one| one.fits(value)),
            (takes, Value::Text(_)) => takes.text(),
            (takes, Value::Number(_)) => takes.number().is_some(),
            (Takes::Switch, Value::Switch(_))
            | (Takes::List(_) | Takes::Tables(_), Value::List(_))
            | (Takes::Table(_) | Takes::Tables(_) | Takes::Entries, Value::Table(_)) => true,
            _ => false,
        }
    }

    /// Whether just these words may stand there.
    pub(crate) fn words<T>(&self, choices: Choices<T>) -> bool {
        match self {
            Takes::Word(words) => words() == names(choices),
            _ => false,
        }
    }
}

/// The words of some choices.
pub(crate) fn names<T>(choices: Choices<T>) -> Vec<String> {
    choices.iter().map(|(word, _)| (*word).to_owned()).collect()
}
