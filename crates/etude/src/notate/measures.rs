//! From a spelled line to measures: notes on their bars with accidentals,
//! labels, chord symbols, breaks and barlines decided.

use lesson::Hide;
use rhythm::{BarPieces, Meter, MeterKind, NoteValue, PieceKind, ValueKind};
use score::{Barline, Break, Direction, Measure, Numbering};
use theory::KeySignature;

use crate::buffers::SheetBuffers;
use crate::notate::accidental::Accidentals;
use crate::notate::blank;
use crate::notate::element::{blanked, elements};
use crate::notate::input::NotationInput;

/// Appends an exercise's measures, `over` standing over the first.
pub(crate) fn measures(
    input: &NotationInput,
    over: Vec<Direction>,
    numbering: &mut Numbering,
    sheet: &mut Vec<Measure>,
    buffers: &mut SheetBuffers,
) {
    let bars = &input.timing.bars;
    let opens = sheet.len();
    sheet.reserve(bars.len());
    let (key, mut shown) = shown(sheet);
    let mut accidentals = Accidentals::new(input.key.signature);
    let blank_from = input.given.map(|given| blank::from(given, input.timing));
    for (place, (bar, begins)) in bars.iter().zip(&input.timing.systems).enumerate() {
        let meter = input.print.meter(bar);
        let mut measure = Measure {
            meter: (shown.as_ref() != Some(meter)).then(|| meter.clone()),
            elements: if blank_from.is_some_and(|from| bar.start >= from) {
                blanked(input, bar, meter, &mut accidentals, buffers.elements())
            } else {
                elements(input, bar, &mut accidentals, buffers.elements())
            },
            ..Measure::default()
        };
        if measure.meter.is_some() {
            shown.clone_from(&measure.meter);
        }
        measure.implicit = bar.start < 0;
        numbering.number(&mut measure);
        measure.directions = unsymboled(input, bar);
        if let Some(name) = section(input, bar) {
            measure.directions.push(Direction::Section(name.clone()));
            if let Some(before) = sheet.last_mut().filter(|_| place > 0) {
                before.barline = Some(Barline::Double);
            }
        }
        measure.begins = (*begins && opens + place > 0).then_some(Break::System);
        accidentals.next_bar();
        sheet.push(measure);
    }
    if let Some(first) = sheet.get_mut(opens) {
        first.key = (key != Some(input.key)).then_some(input.key);
        first.directions.splice(0..0, over);
    }
    if let Some(last) = sheet.last_mut() {
        last.barline = Some(Barline::Double);
    }
}

/// The name of the section that begins with a bar.
fn section<'a>(input: &NotationInput<'a>, bar: &BarPieces) -> Option<&'a String> {
    let found = input
        .sections
        .binary_search_by_key(&bar.start, |(at, _)| *at);
    found.ok().map(|place| &input.sections[place].1)
}

/// Names of the keys that begin in a bar, where no chord symbol says them.
fn unsymboled(input: &NotationInput, bar: &BarPieces) -> Vec<Direction> {
    if !input.keyed || input.passages.len() < 2 {
        return Vec::new();
    }
    // A student who is to write the symbols isn't told the keys either.
    let said = input.chord_symbols || input.hide == Some(Hide::Chords);
    let begun = bar.pieces.iter().filter_map(|piece| match piece.kind {
        PieceKind::Note {
            event,
            tied_from: false,
            ..
        } => input.note(event).map(|note| input.at(note)),
        _ => None,
    });
    begun
        .filter(|place| place.opens && !(said && place.passage.chord.is_some()))
        .map(|place| {
            let root = place.passage.placed.root.name();
            Direction::Words(format!("on {}", root.signs()).into())
        })
        .collect()
}

/// The value of a meter's beat, for tempo marks.
pub(crate) fn beat_value(meter: &Meter) -> NoteValue {
    let compound = meter.kind() == MeterKind::Compound;
    let unit = match meter.lower() {
        1 => ValueKind::Whole,
        2 => ValueKind::Half,
        4 => ValueKind::Quarter,
        8 => ValueKind::Eighth,
        16 => ValueKind::Sixteenth,
        _ => ValueKind::ThirtySecond,
    };
    let kind = if compound { twice(unit) } else { unit };
    NoteValue {
        kind,
        dots: u8::from(compound),
        tuplet: None,
    }
}

fn twice(value: ValueKind) -> ValueKind {
    match value {
        ValueKind::SixtyFourth => ValueKind::ThirtySecond,
        ValueKind::ThirtySecond => ValueKind::Sixteenth,
        ValueKind::Sixteenth => ValueKind::Eighth,
        ValueKind::Eighth => ValueKind::Quarter,
        ValueKind::Quarter => ValueKind::Half,
        ValueKind::Half => ValueKind::Whole,
        ValueKind::Whole | ValueKind::Breve => ValueKind::Breve,
    }
}

/// The signature and the meter in force at the end of a sheet so far.
fn shown(sheet: &[Measure]) -> (Option<KeySignature>, Option<Meter>) {
    let mut before = sheet.iter().rev();
    let key = before.clone().find_map(|measure| measure.key);
    let meter = before.find_map(|measure| measure.meter.clone());
    (key, meter)
}
