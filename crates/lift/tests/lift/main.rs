//! Phrases lifted into lessons: what the lesson says, and that its sheets give
//! the phrase back, note for note.
#![cfg(test)]

mod figures;
mod file;
mod found;
mod licks;
mod made;
mod phrases;
mod sheets;
mod statements;
mod words;
