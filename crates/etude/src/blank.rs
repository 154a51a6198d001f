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

/// A bar without anything to be seen but its chord symbols (their ticks from
/// the bar line): a bar's rest, or a rest for each chord.
pub(crate) fn bar(
    bar: &BarPieces,
    chords: &[(Ticks, u16)],
    meter: &Meter,
    per_quarter: u32,
) -> Vec<Element> {
    if chords.iter().all(|(at, _)| *at == 0)
        && let Some(any) = bar.pieces.first()
    {
        let written = Written {
            length: u32::try_from(bar.length).unwrap_or(0),
            edge: None,
            chord: chords.first().map(|(_, chord)| *chord),
            value: any.value,
        };
        return vec![hidden(written, true)];
    }
    let beats: Vec<Ticks> = meter
        .beats()
        .into_iter()
        .map(|beat| ticks(beat, per_quarter))
        .chain([bar.length])
        .chain(chords.iter().map(|(at, _)| *at))
        .collect();
    let events: Vec<Event> = chords
        .iter()
        .map(|(at, _)| {
            let end = beats.iter().filter(|beat| *beat > at).min();
            Event {
                onset: *at,
                length: end.map_or(0, |end| end - at),
            }
        })
        .collect();
    let bars = notate(meter, per_quarter, &events, bar.length, BeamStyle::ByBeat);
    let pieces = bars.iter().flat_map(|bar| &bar.pieces);
    let rest = |piece: &Piece| {
        let chord = match piece.kind {
            PieceKind::Note {
                event,
                tied_from: false,
                ..
            } => chords.get(event).map(|(_, chord)| *chord),
            _ => None,
        };
        let written = Written {
            length: u32::try_from(piece.length).unwrap_or(0),
            value: piece.value,
            edge: piece.edge,
            chord,
        };
        hidden(written, false)
    };
    pieces.map(rest).collect()
}

fn hidden(written: Written, whole_bar: bool) -> Element {
    Element::Rest(Rest {
        written,
        whole_bar,
        hidden: true,
    })
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
