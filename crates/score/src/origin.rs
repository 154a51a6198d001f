//! Where a note came from.

use theory::Degree;

/// What a note is in its exercise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Origin {
    /// Number of the exercise on the sheet, from 0.
    pub exercise: u16,
    /// Number of the statement in the exercise, from 0; a closing root has
    /// the number after the last statement's; a `scale` exercise has one.
    pub statement: u16,
    /// Its degree in the scale, or for an ornament the degree it leads to.
    pub degree: Degree,
    /// The chord it is played over: a place in the score's chords.
    pub chord: Option<u16>,
    /// Whether it is an ornament.
    pub ornament: bool,
}
