//! From events in time to written values: rules 7 and 8 of the design.

use crate::{Meter, NoteValue, Ticks, TupletEdge};

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

/// Writes events down bar by bar.
///
/// `events` are in order and do not overlap. If the first begins before 0, a
/// pickup bar that long comes first. Bars go on to the bar line at or after
/// both the last event's end and `until`. `per_quarter` is ticks to the
/// quarter; every onset and length must be writable at it (see
/// [`crate::divisions`]), and splits never need finer ticks than the events
/// and the meter's own beats do.
pub fn notate(meter: &Meter, per_quarter: u32, events: &[Event], until: Ticks, style: BeamStyle) -> Vec<BarPieces> {
    todo!()
}
