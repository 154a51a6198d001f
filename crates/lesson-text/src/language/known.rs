//! The words a lesson file knows, table by table. The reader goes by them, and
//! so does the schema that editors check a lesson by.

use theory::{Chord, Instrument, Scale};

use crate::language::choice::{Choices, names};

/// One kind of table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Known {
    /// What it is called in a message.
    pub name: &'static str,
    /// Its keys.
    pub keys: &'static [&'static str],
    /// The same with what they take, in the same order.
    pub words: &'static [Word],
    /// What it must say and may not say together.
    pub needs: &'static [Need],
}

/// What a table must say of some of its keys, or may not say together.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Need {
    /// One of them, or more.
    Some(&'static [&'static str]),
    /// Just one of them.
    Exactly(&'static [&'static str]),
    /// None or one of them.
    NotBoth(&'static [&'static str]),
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Word {
    pub key: &'static str,
    pub takes: Takes,
    /// What it says, for who writes it.
    pub about: &'static str,
}

impl PartialEq for Known {
    fn eq(&self, other: &Known) -> bool {
        self.name == other.name
    }
}

impl Known {
    /// Whether it begins with a heading in brackets, not with a key.
    pub(crate) fn has_heading(&self) -> bool {
        self.name.starts_with('[')
    }

    /// What a key takes.
    pub(crate) fn takes(&self, key: &str) -> Option<&'static Takes> {
        let word = self.words.iter().find(|word| word.key == key);
        word.map(|word| &word.takes)
    }
}

/// Words, listed when they are asked for.
pub(crate) type Words = fn() -> Vec<String>;

/// What a word takes.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Takes {
    /// Words in quotes.
    Text,
    /// The same, over several lines.
    Lines,
    /// The same; these are usual.
    Usual(Words),
    /// The name of a scale of the catalogue, or one of the lesson's own.
    Scale,
    /// The name of an instrument.
    Instrument,
    /// A kind of chord.
    Chord,
    /// The name of one of the lesson's tables of this kind.
    Own(&'static str),
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
    /// The same over bars and statements: `"bar 3" = "listen"`.
    WordsOver,
    /// Any of these.
    Any(&'static [Takes]),
}

impl Takes {
    /// Whether words in quotes may stand there.
    pub(crate) fn text(&self) -> bool {
        match self {
            Takes::Text
            | Takes::Lines
            | Takes::Usual(_)
            | Takes::Scale
            | Takes::Instrument
            | Takes::Chord
            | Takes::Own(_)
            | Takes::Word(_) => true,
            Takes::Any(all) => all.iter().any(Takes::text),
            _ => false,
        }
    }

    /// What is usual among words in quotes, where something is.
    pub(crate) fn usual(&self) -> Option<Vec<String>> {
        match self {
            Takes::Usual(words) => Some(words()),
            Takes::Scale => Some(all(&Scale::catalogue(), |one: &Scale| one.name.to_string())),
            Takes::Instrument => Some(all(&Instrument::catalogue(), |one: &Instrument| {
                one.name.to_string()
            })),
            Takes::Chord => {
                let mut suffixes = all(&Chord::catalogue(), |one: &Chord| one.suffix().to_string());
                suffixes.retain(|suffix| !suffix.is_empty());
                Some(suffixes)
            }
            _ => None,
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

    /// The table that may stand there.
    pub(crate) fn table(&self) -> Option<&'static Known> {
        match self {
            Takes::Table(known) | Takes::Tables(known) => Some(known),
            Takes::Any(all) => all.iter().find_map(Takes::table),
            _ => None,
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

fn all<T>(catalogue: &[T], name: fn(&T) -> String) -> Vec<String> {
    catalogue.iter().map(name).collect()
}
