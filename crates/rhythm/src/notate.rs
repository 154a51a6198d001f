//! From events in time to written values: rules 7 and 8.

use crate::beam::beam;
use crate::frame::{Frame, Stretch};
use crate::split::split;
use crate::tuplet::{Region, regions, written_value};
use crate::{Meter, NoteValue, Ticks, TupletEdge, ValueKind};

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
/// pickup bar that long comes first, or as much longer as its first tuplet
/// takes to be whole. Bars go on to the bar line at or after both the last
/// event's end and `until`. `per_quarter` is ticks to the
/// quarter; every onset and length must be writable at it (see
/// [`crate::divisions`]), and splits never need finer ticks than the events
/// and the meter's own beats do.
pub fn notate(
    meter: &Meter,
    per_quarter: u32,
    events: &[Event],
    until: Ticks,
    style: BeamStyle,
) -> Vec<BarPieces> {
    let frame = Frame::of(meter, per_quarter);
    let bar = frame.bar / frame.fine;
    let first = events.first().map_or(0, |event| event.onset).min(0);
    let end = events
        .last()
        .map_or(0, |event| event.onset + event.length)
        .max(until);
    let mut bars = Vec::new();
    if bar <= 0 {
        return bars;
    }
    let mut start = first;
    let mut next = 0;
    while start < end {
        let line = (start.div_euclid(bar) + 1) * bar;
        let mut offset = bar - (line - start);
        let mut pieces = BarPieces {
            start,
            length: line - start,
            pieces: Vec::new(),
        };
        fill(&frame, &mut pieces, &mut offset, events, &mut next);
        beam(&frame, &mut pieces, offset, style);
        bars.push(pieces);
        start = line;
    }
    bars
}

/// What sounds, or doesn't, in a stretch of a bar (fine ticks of the full
/// bar).
struct Atom {
    stretch: Stretch,
    event: Option<usize>,
}

/// Fills a bar with the pieces of its events; `next` is the first event that
/// may sound in it. A pickup that begins inside a tuplet grows by the rest
/// that makes it whole, and `offset` shrinks.
fn fill(
    frame: &Frame,
    bar: &mut BarPieces,
    offset: &mut Ticks,
    events: &[Event],
    next: &mut usize,
) {
    let end = bar.start + bar.length;
    let line = bar.start - *offset;
    let fine = |at: Ticks| (at - line) * frame.fine;
    let mut atoms: Vec<Atom> = Vec::new();
    let mut at = bar.start;
    while let Some(event) = events.get(*next).filter(|event| event.onset < end) {
        let from = event.onset.max(bar.start);
        let to = (event.onset + event.length).min(end);
        if from > at {
            atoms.push(Atom {
                stretch: Stretch {
                    from: fine(at),
                    to: fine(from),
                },
                event: None,
            });
        }
        if to > from {
            atoms.push(Atom {
                stretch: Stretch {
                    from: fine(from),
                    to: fine(to),
                },
                event: Some(*next),
            });
            at = to;
        }
        if event.onset + event.length > end {
            break;
        }
        *next += 1;
    }
    let silent = atoms.is_empty();
    if at < end {
        atoms.push(Atom {
            stretch: Stretch {
                from: fine(at),
                to: fine(end),
            },
            event: None,
        });
    }
    if silent && *offset == 0 {
        let value = NoteValue {
            kind: ValueKind::Whole,
            dots: 0,
            tuplet: None,
        };
        bar.pieces.push(Piece {
            kind: PieceKind::BarRest,
            at: 0,
            length: bar.length,
            value,
            edge: None,
            beams: [None; 4],
        });
        return;
    }
    let begins = *offset * frame.fine;
    let mut places: Vec<Ticks> = vec![begins];
    places.extend(atoms.iter().map(|atom| atom.stretch.to));
    let regions = regions(frame, &places);
    let begun = |region: &&Region| region.stretch.from < begins && begins < region.stretch.to;
    if let Some(region) = regions.iter().find(begun) {
        let stretch = Stretch {
            from: region.stretch.from,
            to: begins,
        };
        let more = stretch.length() / frame.fine;
        bar.start -= more;
        bar.length += more;
        *offset -= more;
        atoms.insert(
            0,
            Atom {
                stretch,
                event: None,
            },
        );
    }
    for atom in &atoms {
        place_atom(frame, bar, *offset, atom, &regions, events);
    }
    mark_edges(frame, bar, *offset, &regions);
}

/// Cuts an atom at the edges of tuplets, and each part into values.
fn place_atom(
    frame: &Frame,
    bar: &mut BarPieces,
    offset: Ticks,
    atom: &Atom,
    regions: &[Region],
    events: &[Event],
) {
    let mut from = atom.stretch.from;
    while from < atom.stretch.to {
        let region = regions.iter().find(|region| region.stretch.to > from);
        let (to, inside) = match region {
            Some(region) if region.stretch.from <= from => (region.stretch.to, Some(*region)),
            Some(region) => (region.stretch.from, None),
            None => (atom.stretch.to, None),
        };
        let stretch = Stretch {
            from,
            to: to.min(atom.stretch.to),
        };
        let note = atom.event.is_some();
        let unit = inside.map_or(frame.unit, Region::part);
        let allowed = |piece: Stretch| match (inside, note) {
            (Some(region), true) => region.shows_parts(frame, piece),
            (Some(region), false) => region.rests(frame, piece),
            (None, true) => frame.shows_beats(piece),
            (None, false) => frame.rests(piece),
        };
        // Cuts inside a tuplet fall on its parts, counted from its start.
        let shift = inside.map_or(0, |region| region.stretch.from);
        let shifted = Stretch {
            from: stretch.from - shift,
            to: stretch.to - shift,
        };
        let back = |piece: Stretch| Stretch {
            from: piece.from + shift,
            to: piece.to + shift,
        };
        let (start, pieces) = (bar.start, &mut bar.pieces);
        let middle = if inside.is_none() {
            frame.middle()
        } else {
            None
        };
        split(
            shifted,
            unit,
            middle,
            |piece| allowed(back(piece)),
            |piece| {
                pieces.push(written(
                    frame,
                    start,
                    offset,
                    back(piece),
                    inside,
                    atom.event,
                    events,
                ));
            },
        );
        from = stretch.to;
    }
}

fn written(
    frame: &Frame,
    bar_start: Ticks,
    offset: Ticks,
    piece: Stretch,
    inside: Option<Region>,
    event: Option<usize>,
    events: &[Event],
) -> Piece {
    let at = piece.from / frame.fine - offset;
    let length = piece.length() / frame.fine;
    let value = match inside {
        Some(region) => written_value(frame, region, piece),
        None => frame.value(piece.length()),
    };
    let (kind, dots) = value.unwrap_or((ValueKind::SixtyFourth, 0));
    let sound = match event {
        None => PieceKind::Rest,
        Some(event) => {
            let sounding = &events[event];
            let from = bar_start + at;
            PieceKind::Note {
                event,
                tied_from: from > sounding.onset,
                tied_to: from + length < sounding.onset + sounding.length,
            }
        }
    };
    let value = NoteValue {
        kind,
        dots,
        tuplet: inside.map(|region| region.tuplet),
    };
    Piece {
        kind: sound,
        at,
        length,
        value,
        edge: None,
        beams: [None; 4],
    }
}

/// Marks the first and last piece of each tuplet.
fn mark_edges(frame: &Frame, bar: &mut BarPieces, offset: Ticks, regions: &[Region]) {
    for region in regions {
        let inside = |piece: &&mut Piece| {
            let at = (piece.at + offset) * frame.fine;
            (region.stretch.from..region.stretch.to).contains(&at)
        };
        let mut pieces = bar.pieces.iter_mut().filter(inside);
        if let Some(first) = pieces.next() {
            first.edge = Some(TupletEdge::Start { bracket: true });
        }
        if let Some(last) = pieces.next_back() {
            last.edge = Some(TupletEdge::Stop);
        }
    }
}
