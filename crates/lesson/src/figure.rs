//! The figure: a cell of moves on a count.

use rhythm::{Count, Meter};

use crate::Literal;

/// Where the line goes, one per count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Move {
    /// The first note: on the statement's root, or on a degree of the scale
    /// (given as rungs above the root).
    Start {
        /// Rungs above the statement's root.
        rungs: i32,
    },
    /// So many rungs up (positive) or down from the last rung.
    Rungs(i32),
    /// The last rung again.
    Repeat,
    /// So many octaves up or down.
    Octaves(i32),
    /// Silence, where the count is silent.
    Rest,
    /// A half step below the next rung.
    FromBelow,
    /// A half step above the next rung.
    FromAbove,
    /// Two counts: above the next rung, then below it.
    Enclose,
}

/// Moves in order, beginning with `Start` (ornaments and rests may come
/// before it).
pub type Moves = Vec<Move>;

/// A cell of moves on a count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figure {
    /// Its name in the lesson, if it has one.
    pub name: Option<String>,
    /// Its meter.
    pub meter: Meter,
    /// Its rhythm.
    pub count: Count,
    /// Where it goes: as many sounding counts as `count` has sounding slots,
    /// rests only where the count is silent (and not needed there). None in a
    /// literal phrase.
    pub moves: Moves,
    /// A phrase that moves note for note, in the place of moves; its exercises
    /// are of the kinds `figure` and `keys`, said once, and have the major or
    /// natural minor scale of its key.
    pub literal: Option<Literal>,
    /// Its own wording of the flipped form, where the plain flip is not
    /// wanted: same count.
    pub flipped: Option<Moves>,
    /// Notes (each a rung with the ornaments that lead to it, from 0) whose
    /// moves keep their direction in the plain flip.
    pub unflipped: Vec<usize>,
    /// Which variant of the lesson's figure it is, in words.
    pub variant: Option<String>,
    /// The same as a heading says it; none where nothing became of it.
    pub variant_heading: Option<String>,
    /// The moves in the teacher's words, degrees with ♭ and ♯, for the head of
    /// the sheet.
    pub moves_said: String,
    /// How its notes are played.
    pub marks: FigureMarks,
}

/// How the notes of a figure are played, by their place in the count, the
/// first sounding note being 1: what is flipped or reversed keeps them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FigureMarks {
    /// First and last note of each slur, in order; a slur may begin on the
    /// note that another ends on.
    pub slurs: Vec<(u16, u16)>,
    /// The note from which a slur goes on to the first of the next statement.
    pub slur_to_next: Option<u16>,
    /// Accented notes.
    pub accents: Vec<u16>,
    /// Short notes.
    pub staccato: Vec<u16>,
    /// Notes held their full length.
    pub tenuto: Vec<u16>,
    /// Notes hardly sounded, in parentheses.
    pub ghosts: Vec<u16>,
    /// Notes that fall away at their end.
    pub falls: Vec<u16>,
    /// Notes that are scooped into from below.
    pub scoops: Vec<u16>,
    /// Notes that slide up at their end.
    pub doits: Vec<u16>,
}
