//! The lesson's language: its words with what they mean, the keys of each table
//! with what they take, and the schemas made of them.

pub(crate) mod choice;
pub(crate) mod known;
pub(crate) mod known_table;
pub(crate) mod schema;
pub(crate) mod study;
pub(crate) mod variant_words;
pub(crate) mod words;
pub(crate) mod writing;
