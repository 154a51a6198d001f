//! Note values as they are written.

/// The plain value of a note or rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum ValueKind {
    SixtyFourth,
    ThirtySecond,
    Sixteenth,
    Eighth,
    Quarter,
    Half,
    Whole,
    Breve,
}

/// A written value: plain, dotted, or a tuplet's.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct NoteValue {
    /// Its plain value.
    pub kind: ValueKind,
    /// Augmentation dots.
    pub dots: u8,
    /// The tuplet it belongs to, if any.
    pub tuplet: Option<Tuplet>,
}

/// A tuplet's ratio: `actual` notes in the time of `normal` of `unit`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Tuplet {
    /// Notes in it: 3 for a triplet.
    pub actual: u16,
    /// Notes whose time they take: 2 for a triplet.
    pub normal: u16,
    /// The value counted by both numbers.
    pub unit: ValueKind,
}

/// Where a note stands in its tuplet, for the bracket.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TupletEdge {
    /// First note; whether the bracket shows (hidden under one unbroken beam).
    Start {
        /// Whether the bracket shows.
        bracket: bool,
    },
    /// Last note.
    Stop,
}
