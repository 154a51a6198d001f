//! Changes that are written beside a chord's kind.

/// A change that MusicXML prints beside a kind: `add 9 −1`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ChordDegree {
    /// Add, alter or subtract.
    pub change: DegreeChange,
    /// 1 to 13.
    pub value: u8,
    /// Semitones, as the standard counts them (`degree-alter`).
    pub alter: i8,
}

/// What a chord degree does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DegreeChange {
    /// Adds a note.
    Add,
    /// Alters a note of the kind.
    Alter,
    /// Takes a note away.
    Subtract,
}
