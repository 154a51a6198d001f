//! The exercises of a sheet: where each begins, and what it is played over.

use theory::{Degree, PitchName};

/// An exercise of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Exercise {
    /// Its place in the lesson, from 0: the same on every player's sheet.
    pub place: usize,
    /// The place of its first measure among the part's, its pickup if it has
    /// one.
    pub first: usize,
    /// Its letter, or its number; none on a sheet with a single exercise. It is
    /// printed over its first measure.
    pub letter: Option<String>,
    /// Its heading, printed there too; empty where none is printed.
    pub heading: String,
    /// The root of its scale, over changes the tonic of their key, in written
    /// pitch; of an exercise that goes through keys the first.
    pub tonic: PitchName,
    /// The scale on it, upwards.
    pub scale: Vec<Degree>,
    /// Over changes the bars of a chorus, a pickup not counted.
    pub chorus: Option<u32>,
}
