//! What a sheet leaves for the student: blank bars.

use lesson::Given;
use rhythm::{BarPieces, BeamStyle, Event, Meter, Piece, PieceKind, Ticks, notate};
use score::{Element, Rest, Written};

use crate::compose::timing::Timing;

/// From where on bars are blank, in ticks.
pub(crate) fn from(given: Given, timing: &Timing) -> Ticks {
    match given {
        Given::Bars(bars) => {
            let whole = timing.bars.iter().filter(|bar| bar.start >= 0);
            let after = whole.map(|bar| bar.start).nth(usize::from(bars));
            after.unwrap_or(Ticks::MAX)
        }
        Given::First => {
            let first = match timing.passages.get(1) {
                Some(note) => timing.starts.get(usize::from(timing.statements[*note])),
                None => timing.starts.get(1),
            };
            // Of a single statement, its first bar.
            let bars = || timing.bars.iter().map(|bar| bar.start);
            let second = bars().filter(|start| *start > 0).min();
            first.copied().or(second).unwrap_or(Ticks::MAX)
        }
    }
}

/// What of a blank bar isn't to be seen, from so many ticks after its bar line
/// on (it is a whole one: pickups are given): rests that fill it, parted where a
/// chord symbol stands (their ticks from the bar line). A single hidden rest of
/// the whole bar would do, but readers take it for nothing.
pub(crate) fn bar(
    bar: &BarPieces,
    from: Ticks,
    chords: &[(Ticks, u16)],
    meter: &Meter,
    per_quarter: u32,
) -> Vec<Element> {
    let after = || chords.iter().filter(|(at, _)| *at >= from);
    // As if something sounded from each chord to the next.
    let opens = after().next().is_none_or(|(at, _)| *at > from);
    let begins: Vec<Ticks> = (opens && from < bar.length)
        .then_some(from)
        .into_iter()
        .chain(after().map(|(at, _)| *at))
        .collect();
    let ends = begins.iter().skip(1).copied().chain([bar.length]);
    let events: Vec<Event> = begins
        .iter()
        .zip(ends)
        .map(|(onset, end)| Event {
            onset: *onset,
            length: end - onset,
        })
        .collect();
    let bars = notate(meter, per_quarter, &events, bar.length, BeamStyle::ByBeat);
    let pieces = bars.iter().flat_map(|bar| &bar.pieces);
    let rest = |piece: &Piece| {
        let PieceKind::Note {
            event, tied_from, ..
        } = piece.kind
        else {
            return None;
        };
        let begins = !tied_from;
        let chord = after().find(|(at, _)| begins && *at == events[event].onset);
        let written = Written {
            length: u32::try_from(piece.length).unwrap_or(0),
            value: piece.value,
            edge: piece.edge,
            chord: chord.map(|(_, chord)| *chord),
        };
        Some(Element::Rest(Rest {
            written,
            whole_bar: false,
            hidden: true,
        }))
    };
    pieces.filter_map(rest).collect()
}
