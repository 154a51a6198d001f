//! What files get wrong and the reader takes all the same, with a warning for
//! each thing guessed. What a file should say is MusicXML 4.0's.
#![cfg(test)]

mod chords;
mod files;
mod made;
mod notes;
mod refused;
#[path = "../shown/mod.rs"]
mod shown;
