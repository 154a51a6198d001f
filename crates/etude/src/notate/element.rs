//! The notes, rests and slashes of a bar.

use lesson::Hide;
use rhythm::{BarPieces, Meter, Piece, PieceKind, Ticks};
use score::{Element, Marks, Note, Origin, Rest, Slash, Written};
use theory::Tone;

use crate::compose::writing::Sound;
use crate::notate::accidental::Accidentals;
use crate::notate::blank;
use crate::notate::input::{NotationInput, NotePlace};
use crate::notate::lyrics::{led_to, lyrics};
use crate::notate::marks::marks;

pub(crate) fn elements(
    input: &NotationInput,
    bar: &BarPieces,
    accidentals: &mut Accidentals,
    mut empty: Vec<Element>,
) -> Vec<Element> {
    let pieces = bar.pieces.iter();
    empty.extend(pieces.map(|piece| element(input, bar, piece, accidentals)));
    empty
}

/// A blank bar: what a given note sounds of it, and room for the rest.
pub(crate) fn blanked(
    input: &NotationInput,
    bar: &BarPieces,
    meter: &Meter,
    accidentals: &mut Accidentals,
    mut empty: Vec<Element>,
) -> Vec<Element> {
    let from = input
        .given
        .map_or(0, |given| blank::from(given, input.timing));
    let held = |piece: &&Piece| match piece.kind {
        PieceKind::Note {
            event,
            tied_from: true,
            ..
        } => input
            .note(event)
            .is_some_and(|note| input.timing.events[note].onset < from),
        _ => false,
    };
    let pieces = bar.pieces.iter().take_while(held);
    let until = pieces.clone().map(|piece| piece.length).sum();
    empty.extend(pieces.map(|piece| element(input, bar, piece, accidentals)));
    let chords = symbols(input, bar);
    let per_quarter = input.print.per_quarter;
    empty.extend(blank::bar(bar, until, &chords, meter, per_quarter));
    empty
}

fn element(
    input: &NotationInput,
    bar: &BarPieces,
    piece: &Piece,
    accidentals: &mut Accidentals,
) -> Element {
    let written = Written {
        length: u32::try_from(piece.length).unwrap_or(0),
        value: piece.value,
        edge: piece.edge,
        chord: input.symbol(bar.start + piece.at),
    };
    let rest = |whole_bar| {
        Element::Rest(Rest {
            written,
            whole_bar,
            hidden: false,
        })
    };
    let (event, tied_from, tied_to) = match piece.kind {
        PieceKind::Rest => return rest(false),
        PieceKind::BarRest => return rest(true),
        PieceKind::Note {
            event,
            tied_from,
            tied_to,
        } => (event, tied_from, tied_to),
    };
    let (event, slash) = match input.timing.sounds[event] {
        Sound::Note(note) => (note, None),
        Sound::Slash { after, parted } => (after, Some(parted)),
        Sound::Silence => return rest(false),
    };
    let place = input.at(event);
    let note = Note {
        written,
        pitch: input.middle_line,
        accidental: None,
        tied_from,
        tied_to,
        beams: piece.beams,
        lyrics: [const { None }; 4],
        marks: Marks::default(),
        origin: origin(input, event, place, slash.map(|_| bar.start + piece.at)),
    };
    match slash {
        // Only stems show when the chord within a beat comes.
        Some(rhythmic) => Element::Slash(Slash { note, rhythmic }),
        None => sounded(input, event, note, accidentals),
    }
}

/// A note of the line, or the slash that stands where a student is to write
/// it.
fn sounded(
    input: &NotationInput,
    event: usize,
    mut note: Note,
    accidentals: &mut Accidentals,
) -> Element {
    let place = input.at(event);
    if !note.tied_from && !input.print.rows.is_empty() {
        note.lyrics = lyrics(input, event, place);
    }
    if let Some(figure) = input.marks {
        note.marks = marks(
            figure,
            input.position(event, !note.tied_from, !note.tied_to),
        );
    }
    note.marks.breath = !note.tied_to && input.timing.breaths.contains(&event);
    if input.hide == Some(Hide::Notes) {
        return Element::Slash(Slash {
            note,
            rhythmic: true,
        });
    }
    note.pitch = place.pitch;
    note.accidental = accidentals.before(place.pitch, note.tied_from);
    Element::Note(note)
}

/// Where a note comes from; a slash is under the chord that sounds at its
/// time.
fn origin(input: &NotationInput, event: usize, place: NotePlace, slash: Option<Ticks>) -> Origin {
    Origin {
        exercise: input.number,
        statement: input.timing.statements[event],
        degree: led_to(place),
        chord: match slash {
            Some(time) => input.sounding(time),
            None if input.literal.is_some() => {
                let begins = input.timing.events[event].onset;
                input.sounding(begins).or(place.passage.chord)
            }
            None => place.passage.chord,
        },
        ornament: !matches!(place.tone.tone, Tone::Rung(_)),
    }
}

/// The chord symbols that are printed in a bar, by their ticks from its bar
/// line.
fn symbols(input: &NotationInput, bar: &BarPieces) -> Vec<(Ticks, u16)> {
    let times = input.symbols.iter().map(|(at, _)| *at);
    let here = times.filter(|at| (bar.start..bar.start + bar.length).contains(at));
    let shown = here.filter_map(|at| Some((at - bar.start, input.symbol(at)?)));
    shown.collect()
}
