//! What a sheet contains, for reports and for `check`.

use score::Score;
use theory::{Pitch, PitchName, Range};

/// A finished sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The score.
    pub score: Score,
    /// What is to be said of it.
    pub report: Report,
}

/// What is to be said of a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    /// Bars, pickups not counted.
    pub bars: u32,
    /// Lowest written pitch.
    pub lowest: Pitch,
    /// Highest written pitch.
    pub highest: Pitch,
    /// Exercises that turn early (or take a smaller span than asked).
    pub turns: u32,
    /// Octave jumps.
    pub jumps: u32,
    /// Melodic crossings of the horn's register break.
    pub register_crossings: u32,
    /// Notes that are spelled otherwise than `strict` would.
    pub respellings: u32,
    /// Accidentals printed, courtesies not counted.
    pub accidentals: u32,
    /// Sharps or flats in the signature, without sign.
    pub signature: u32,
    /// Exercise by exercise.
    pub exercises: Vec<ExerciseReport>,
}

/// What is to be said of one exercise on a sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ExerciseReport {
    /// Its heading: `A · sequence, up and down, one octave`.
    pub heading: String,
    /// Lowest written pitch.
    pub lowest: Pitch,
    /// Highest written pitch.
    pub highest: Pitch,
    /// Sentences about turns, jumps and smaller spans.
    pub remarks: Vec<String>,
}

/// Why a sheet is left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The exercise's heading.
    pub exercise: String,
    /// The written root of the sheet.
    pub written: PitchName,
    /// The note that leaves the range, in the best octave there is.
    pub note: Pitch,
    /// The player's written range.
    pub range: Range,
}

impl std::fmt::Display for LeftOut {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{} in written {} needs {}, outside the range {} to {}",
            self.exercise, self.written, self.note, self.range.low, self.range.high
        )
    }
}
