//! A player's sheets as one book: cover, foreword, contents, lessons and their
//! keys in order, the answers at the back.

use crate::{Cover, Foot, Paper};

/// What is bound. Pages are drawn when their turn comes; until then only how
/// many there are is known.
#[derive(Debug, Clone, Default)]
pub struct Book {
    /// What the pages of the book's own are on.
    pub paper: Paper,
    /// Its cover.
    pub cover: Cover,
    /// The teacher's own paragraphs before the contents.
    pub foreword: Vec<String>,
    /// Who signs them.
    pub author: String,
    /// What stands at the foot of each page but the cover.
    pub foot: Foot,
    /// The lessons in order.
    pub chapters: Vec<Chapter>,
    /// The same with their answers.
    pub answers: Vec<Chapter>,
}

/// A lesson. One without a name is all there is to the book: its keys stand for
/// chapters.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Chapter {
    /// Its title.
    pub name: String,
    /// Whether all its keys have the same exercises, so that the contents name
    /// the keys alone, side by side.
    pub alike: bool,
    /// Its keys in order.
    pub keys: Vec<Key>,
}

/// A key's sheets. One without pages is left out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Key {
    /// As the contents name it.
    pub name: String,
    /// The same where there is little room: `A♭`.
    pub short: String,
    /// Its exercises.
    pub sections: Vec<Section>,
    /// How many pages it has.
    pub pages: usize,
}

/// An exercise of a key.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Section {
    /// What the contents call it.
    pub name: String,
    /// The page it begins on, of its key's; past the last, that one.
    pub page: usize,
}

/// Which key's pages are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeyPlace {
    /// Whether the answers are.
    pub answers: bool,
    /// The place of its lesson among the book's chapters, or its answers.
    pub chapter: usize,
    /// Its place among the lesson's keys.
    pub key: usize,
}
