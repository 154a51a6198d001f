//! Rule 8: which notes are beamed together, level by level.

use crate::frame::Frame;
use crate::{
    BarPieces, Beam, BeamStyle, MeterKind, Piece, PieceKind, Ticks, TupletEdge, ValueKind,
};

/// Beams the notes of a bar; `offset` is where its first piece stands in the
/// full bar, in ticks.
pub(crate) fn beam(frame: &Frame, bar: &mut BarPieces, offset: Ticks, style: BeamStyle) {
    let place = |piece: &Piece| (piece.at + offset) * frame.fine;
    let halves = halves_of_eighths(frame, bar, place, style);
    let mut start = 0;
    while start < bar.pieces.len() {
        let group = group_of(frame, place(&bar.pieces[start]), &halves);
        let same =
            |piece: &Piece| flags(piece) > 0 && group_of(frame, place(piece), &halves) == group;
        let end = start
            + bar.pieces[start..]
                .iter()
                .take_while(|piece| same(piece))
                .count();
        if end - start >= 2 {
            let within = |piece: &Piece| place(piece) - group;
            beam_run(frame, &mut bar.pieces[start..end], within);
        }
        start = end.max(start + 1);
    }
    hide_brackets(bar);
}

/// Beams a note or rest takes: 1 for an eighth; none for rests.
fn flags(piece: &Piece) -> usize {
    if !matches!(piece.kind, PieceKind::Note { .. }) {
        return 0;
    }
    match piece.value.kind {
        ValueKind::Eighth => 1,
        ValueKind::Sixteenth => 2,
        ValueKind::ThirtySecond => 3,
        ValueKind::SixtyFourth => 4,
        _ => 0,
    }
}

/// The stretches of half a 4/4 bar (or all of 3/4) that are nothing but
/// eighths, as (from, to) in fine ticks.
fn halves_of_eighths(
    frame: &Frame,
    bar: &BarPieces,
    place: impl Fn(&Piece) -> Ticks,
    style: BeamStyle,
) -> Vec<(Ticks, Ticks)> {
    let quarters = frame.kind == MeterKind::Simple && frame.unit == frame.quarter;
    let length = match frame.groups.len() - 1 {
        4 => 2 * frame.unit,
        3 => frame.bar,
        _ => return Vec::new(),
    };
    if !quarters || style == BeamStyle::ByBeat {
        return Vec::new();
    }
    let whole = (0..frame.bar / length).map(|half| (half * length, (half + 1) * length));
    let eighths = whole.filter(|(from, to)| {
        let inside = bar.pieces.iter().filter(|piece| {
            let at = place(piece);
            at + piece.length * frame.fine > *from && at < *to
        });
        let (mut count, mut all) = (0, true);
        for piece in inside {
            count += 1;
            all &= flags(piece) == 1 && piece.value.dots == 0 && piece.value.tuplet.is_none();
        }
        all && count * frame.unit / 2 == length
    });
    eighths.collect()
}

/// Where the beam group of a place begins.
fn group_of(frame: &Frame, at: Ticks, halves: &[(Ticks, Ticks)]) -> Ticks {
    if let Some((from, _)) = halves.iter().find(|(from, to)| (*from..*to).contains(&at)) {
        return *from;
    }
    let by_unit = frame.kind != MeterKind::Compound && !frame.short_unit;
    if by_unit {
        return at - at % frame.unit;
    }
    match frame.kind {
        // Short beats go in pairs: 4/8, 2/8.
        MeterKind::Simple => at - at % (2 * frame.unit),
        MeterKind::Compound | MeterKind::Odd => frame.group(at).from,
    }
}

/// Beams notes of one group that stand next to each other; `place` is counted
/// from the group's beginning.
fn beam_run(frame: &Frame, run: &mut [Piece], place: impl Fn(&Piece) -> Ticks) {
    for at in 0..run.len() {
        for level in 1..=flags(&run[at]) {
            let reaches = |piece: &Piece| flags(piece) >= level;
            let before = at.checked_sub(1).map(|before| reaches(&run[before]));
            let after = run.get(at + 1).map(reaches);
            let beam = match (before, after) {
                (Some(true), Some(true)) => Beam::Continue,
                (Some(true), _) => Beam::End,
                (_, Some(true)) => Beam::Begin,
                // A hook points into the run, and inside it to the note that
                // makes a pair with its own.
                (None, _) => Beam::ForwardHook,
                (_, None) => Beam::BackwardHook,
                _ if begins_a_pair(place(&run[at]), run[at].length * frame.fine) => {
                    Beam::ForwardHook
                }
                _ => Beam::BackwardHook,
            };
            run[at].beams[level - 1] = Some(beam);
        }
    }
}

/// Whether a note is the first of two that share the next longer value's place.
fn begins_a_pair(at: Ticks, length: Ticks) -> bool {
    at % (2 * length.max(1)) == 0
}

/// A tuplet whose notes all stand under one unbroken beam needs no bracket.
fn hide_brackets(bar: &mut BarPieces) {
    let mut start = None;
    for at in 0..bar.pieces.len() {
        match bar.pieces[at].edge {
            Some(TupletEdge::Start { .. }) => start = Some(at),
            Some(TupletEdge::Stop) => {
                let Some(first) = start.take() else { continue };
                let notes = &bar.pieces[first..=at];
                let joined = |place: usize, piece: &Piece| {
                    let last = place + 1 == notes.len();
                    match piece.beams[0] {
                        Some(Beam::Begin) => place == 0,
                        Some(Beam::Continue) => true,
                        Some(Beam::End) => last,
                        _ => false,
                    }
                };
                let tied_in = matches!(
                    notes[0].kind,
                    PieceKind::Note {
                        tied_from: true,
                        ..
                    }
                );
                let bracket = tied_in
                    || !notes
                        .iter()
                        .enumerate()
                        .all(|(place, piece)| joined(place, piece));
                bar.pieces[first].edge = Some(TupletEdge::Start { bracket });
            }
            None => {}
        }
    }
}
