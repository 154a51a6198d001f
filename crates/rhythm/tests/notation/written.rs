//! A count as it is written.

use rhythm::{
    BarPieces, BeamStyle, Count, Event, Fraction, Meter, Piece, PieceKind, ValueKind, divisions,
    notate,
};

pub fn bars_of(meter: &str, count: &str, style: BeamStyle) -> (u32, Vec<Event>, Vec<BarPieces>) {
    let meter: Meter = meter.parse().unwrap();
    let count = Count::read(count, &meter, None).unwrap();
    let times = count
        .slots
        .iter()
        .flat_map(|slot| [slot.onset, slot.length]);
    let per_quarter = divisions(times.chain(meter.beats()).chain([meter.bar()])).unwrap();
    let ticks = |time: Fraction| (time * i64::from(per_quarter)).to_integer();
    let sounding = count.slots.iter().filter(|slot| !slot.silent);
    let events: Vec<Event> = sounding
        .map(|s| Event {
            onset: ticks(s.onset),
            length: ticks(s.length),
        })
        .collect();
    let bars = notate(&meter, per_quarter, &events, ticks(count.length), style);
    (per_quarter, events, bars)
}

/// A line of notes on a grid of so many ticks to a quarter, `onset+length`.
pub fn bars_at(meter: &str, per_quarter: u32, notes: &str) -> Vec<BarPieces> {
    let meter: Meter = meter.parse().unwrap();
    let event = |note: &str| {
        let (onset, length) = note.split_once('+').unwrap();
        Event {
            onset: onset.parse().unwrap(),
            length: length.parse().unwrap(),
        }
    };
    let events: Vec<Event> = notes.split(' ').map(event).collect();
    notate(&meter, per_quarter, &events, 1, BeamStyle::ByHalfBar)
}

pub fn value(piece: &Piece) -> String {
    let kind = match piece.value.kind {
        ValueKind::SixtyFourth => "64",
        ValueKind::ThirtySecond => "32",
        ValueKind::Sixteenth => "16",
        ValueKind::Eighth => "8",
        ValueKind::Quarter => "4",
        ValueKind::Half => "2",
        ValueKind::Whole => "1",
        ValueKind::Breve => "breve",
    };
    let dots = ".".repeat(usize::from(piece.value.dots));
    let tuplet = piece.value.tuplet.map_or(String::new(), |tuplet| {
        format!("/{}:{}", tuplet.actual, tuplet.normal)
    });
    match piece.kind {
        PieceKind::Note { tied_to, .. } => {
            format!("{kind}{dots}{tuplet}{}", if tied_to { "~" } else { "" })
        }
        PieceKind::Rest => format!("r{kind}{dots}{tuplet}"),
        PieceKind::BarRest => "R".to_owned(),
    }
}
