//! What a sheet leaves for the student: blank bars, and places on the staff.

use lesson::Given;
use rhythm::{BarPieces, BeamStyle, Event, Meter, Piece, PieceKind, Ticks, notate};
use score::{Element, Rest, Written};
use theory::{Clef, ClefSign, Letter, Pitch, Signature};

use crate::timing::{Timing, ticks};

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
/// on: rests that fill it, parted where a chord symbol stands (their ticks from
/// the bar line). A single hidden rest of the whole bar would do, but readers
/// take it for nothing.
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
    // A pickup is the end of a whole bar.
    let line = if bar.start < 0 {
        bar.length - ticks(meter.bar(), per_quarter)
    } else {
        0
    };
    let moved: Vec<Event> = events
        .iter()
        .map(|event| Event {
            onset: event.onset - line,
            ..*event
        })
        .collect();
    let until = bar.length - line;
    let bars = notate(meter, per_quarter, &moved, until, BeamStyle::ByBeat);
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

/// What stands on a staff's middle line, altered as the signature has it, so
/// that a slash there wants no accidental.
pub(crate) fn middle_line(clef: Clef, signature: Signature) -> Pitch {
    let (letter, octave) = match clef.sign {
        ClefSign::G => (Letter::G, 4),
        ClefSign::F => (Letter::F, 3),
        ClefSign::C => (Letter::C, 4),
    };
    // Two letters to the next line, the middle one being the third.
    let up = 2 * (3 - i16::from(clef.line));
    let steps = Pitch::new(letter, 0, octave + i16::from(clef.octave_change)).steps() + up;
    let letter = Letter::ALL[steps.rem_euclid(7) as usize];
    Pitch::new(letter, signature.alteration(letter), steps.div_euclid(7))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_line_of_each_clef() {
        let check = |sign, line, octave_change, fifths, expected: &str| {
            let clef = Clef {
                sign,
                line,
                octave_change,
            };
            let found = middle_line(clef, Signature::new(fifths).unwrap());
            assert_eq!(found.to_string(), expected, "{sign:?} {line}");
        };
        // Common practice.
        check(ClefSign::G, 2, 0, 0, "B4");
        check(ClefSign::G, 2, 0, -1, "Bb4");
        check(ClefSign::G, 2, -1, 0, "B3");
        check(ClefSign::F, 4, 0, 0, "D3");
        check(ClefSign::C, 3, 0, 7, "C#4");
        check(ClefSign::C, 4, 0, 0, "A3");
    }
}
