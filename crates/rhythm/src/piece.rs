//! Events in time, and the pieces they are written as.

use crate::{NoteValue, Ticks, TupletEdge};

/// Something that sounds; what lies between events is silence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Event {
    /// Ticks from the first bar line; negative in a pickup.
    pub onset: Ticks,
    /// Ticks.
    pub length: Ticks,
}

/// How eighths are beamed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BeamStyle {
    /// By the beat only (beginners).
    ByBeat,
    /// Four eighths over half a 4/4 bar under one beam.
    ByHalfBar,
}

/// One beam level's part of a note.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Beam {
    /// Begins here.
    Begin,
    /// Goes on.
    Continue,
    /// Ends here.
    End,
    /// A hook to the right.
    ForwardHook,
    /// A hook to the left.
    BackwardHook,
}

/// Beams of a note, level 1 first; none beyond the first `None`.
pub type Beams = [Option<Beam>; 4];

/// What a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PieceKind {
    /// Part of event number `event`, tied on from the piece before or to the
    /// piece after where an event takes several.
    Note {
        /// Index into the events.
        event: usize,
        /// Tied from the piece before.
        tied_from: bool,
        /// Tied to the piece after.
        tied_to: bool,
    },
    /// A rest.
    Rest,
    /// A silent bar's rest; its value means nothing.
    BarRest,
}

/// One written note or rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Piece {
    /// What it is.
    pub kind: PieceKind,
    /// Ticks from its bar line (in a pickup bar, from that bar's beginning).
    pub at: Ticks,
    /// Ticks.
    pub length: Ticks,
    /// As written.
    pub value: NoteValue,
    /// Where a tuplet begins or ends.
    pub edge: Option<TupletEdge>,
    /// Its beams.
    pub beams: Beams,
}

/// A bar's pieces; they fill it exactly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BarPieces {
    /// Ticks from the first bar line to this one; negative for a pickup bar.
    pub start: Ticks,
    /// Ticks; shorter than the meter's only in a pickup bar.
    pub length: Ticks,
    /// In order, without gaps.
    pub pieces: Vec<Piece>,
}
