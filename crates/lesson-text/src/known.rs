//! The words a lesson file knows, table by table. The reader goes by them, and
//! so does the schema that editors check a lesson by.

use crate::takes::Takes;

pub(crate) use crate::known_table::{
    CHANGES, COURSE, EXERCISE, FIGURE, INSTRUMENT, KEYS, LESSON, LEVELS, PLAYER, SCALE, SECTION,
    TEMPO, TRACK, WEEK, WEIGHTS,
};

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
    /// What a key takes.
    pub(crate) fn takes(&self, key: &str) -> Option<&'static Takes> {
        let word = self.words.iter().find(|word| word.key == key);
        word.map(|word| &word.takes)
    }
}

const ALL: [Known; 15] = [
    LESSON, COURSE, WEEK, KEYS, TEMPO, SCALE, FIGURE, EXERCISE, PLAYER, TRACK, LEVELS, INSTRUMENT,
    CHANGES, SECTION, WEIGHTS,
];

/// Whether any table knows a key.
pub(crate) fn is_known(key: &str) -> bool {
    ALL.iter().any(|table| table.keys.contains(&key))
}

/// Tables of which a lesson or a course may have several.
pub(crate) const SEVERAL: [&str; 7] = [
    "scale",
    "figure",
    "exercise",
    "player",
    "instrument",
    "section",
    "week",
];
