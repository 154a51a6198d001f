//! From a spelled line to measures: notes on their bars with accidentals,
//! labels, chord symbols, breaks and barlines decided.

use lesson::{FigureMarks, Given, Hide, Label, NoteNames};
use rhythm::{BarPieces, Meter, MeterKind, NoteValue, Piece, PieceKind, Ticks, ValueKind};
use score::{
    Barline, Break, Direction, Element, Lyrics, Marks, Measure, Note, Numbering, Origin, Rest,
    Slash, Written,
};
use theory::{Degree, Form, Instrument, KeySignature, Ladder, LineTone, Mode, Pitch, Rung, Tone};

use crate::buffers::SheetBuffers;
use crate::compose::timing::{Sound, Timing};
use crate::notate::accidental::Accidentals;
use crate::notate::blank;
use crate::notate::label::{LabelSubject, labels};
use crate::notate::marks::{NotePosition, marks};
use crate::print::Print;
use crate::spell::passage::Passage;

/// Everything that is known of an exercise on a sheet.
#[derive(Debug)]
pub(crate) struct NotationInput<'a> {
    /// Number on the sheet, from 0.
    pub number: u16,
    pub print: Print<'a>,
    /// Whether its last note is a root that closes it.
    pub closes: bool,
    /// The figure's signs, where it is said whole.
    pub marks: Option<&'a FigureMarks>,
    /// Names of sections by the times they begin at.
    pub sections: &'a [(Ticks, String)],
    /// Chord symbols by their times, where passages don't place them.
    pub symbols: Option<&'a [(Ticks, u16)]>,
    /// The mode of a literal phrase, whose chords come at their own times.
    pub literal: Option<Mode>,
    pub timing: &'a Timing,
    /// What is played in each key, in order.
    pub passages: &'a [Passage<'a>],
    pub key: KeySignature,
    /// What is given, the bars after it being blank; none: everything.
    pub given: Option<Given>,
    /// What is left out for the student to fill in.
    pub hide: Option<Hide>,
    /// Whether chord symbols are printed.
    pub chord_symbols: bool,
    pub names: NoteNames,
    pub instrument: &'a Instrument,
    /// Where slashes stand.
    pub middle_line: Pitch,
}

/// A note and the passage it stands in.
#[derive(Debug, Clone, Copy)]
struct Place<'a> {
    passage: &'a Passage<'a>,
    tone: LineTone,
    pitch: Pitch,
    /// Whether it is the passage's first.
    opens: bool,
    /// Whether it is its closing root.
    closes: bool,
}

impl<'a> NotationInput<'a> {
    /// The note that an event is.
    fn note(&self, event: usize) -> Option<usize> {
        match self.timing.sounds[event] {
            Sound::Note(note) => Some(note),
            Sound::Slash { .. } | Sound::Silence => None,
        }
    }

    /// The chord symbol that is printed at an event.
    fn symbol(&self, event: usize) -> Option<u16> {
        let sound = self.timing.sounds[event];
        match sound {
            Sound::Note(note) => self.shown(sound, self.at(note)),
            Sound::Slash { after, .. } => self.shown(sound, self.at(after)),
            Sound::Silence => None,
        }
    }

    /// The chord symbol that is printed over a sound at its place: where a
    /// passage opens, and where an answer begins.
    fn shown(&self, sound: Sound, place: Place) -> Option<u16> {
        let begins = match sound {
            Sound::Note(_) => place.opens,
            Sound::Slash { first, .. } => first,
            Sound::Silence => false,
        };
        place.passage.chord.filter(|_| begins && self.chord_symbols)
    }

    /// The chord that a slash stands under.
    fn slashed(&self, time: Ticks, place: Place) -> Option<u16> {
        let Some(symbols) = self.symbols else {
            return place.passage.chord;
        };
        let after = symbols.partition_point(|(at, _)| *at <= time);
        after.checked_sub(1).map(|place| symbols[place].1)
    }

    /// Where a note stands among the others, and whether a piece of it is its
    /// first and its last.
    fn position(&self, event: usize, first: bool, last: bool) -> NotePosition {
        let Timing {
            events,
            statements,
            numbers,
            ..
        } = self.timing;
        // Whether one note goes over into the next, of another statement.
        let joins = |before: usize| {
            let (one, next) = (events[before], events.get(before + 1));
            next.is_some_and(|next| {
                next.onset == one.onset + one.length && statements[before] != statements[before + 1]
            })
        };
        let before = event.checked_sub(1).filter(|before| joins(*before));
        NotePosition {
            number: numbers[event],
            first,
            last,
            after: before.map(|before| numbers[before]),
            leads_on: joins(event),
        }
    }

    fn at(&self, event: usize) -> Place<'a> {
        let passages = &self.timing.passages;
        let number = passages.partition_point(|first| *first <= event) - 1;
        let (passage, within) = (&self.passages[number], event - passages[number]);
        Place {
            passage,
            tone: passage.placed.tones[within],
            pitch: passage.spelled.pitches[within],
            opens: within == 0,
            closes: self.closes && within + 1 == passage.placed.tones.len(),
        }
    }
}

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
    if input.symbols.is_some() || input.passages.len() < 2 {
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

fn elements(
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
fn blanked(
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
    empty.extend(blank::bar(
        bar,
        until,
        &chords(input, bar),
        meter,
        input.print.per_quarter,
    ));
    empty
}

fn element(
    input: &NotationInput,
    bar: &BarPieces,
    piece: &Piece,
    accidentals: &mut Accidentals,
) -> Element {
    let mut written = Written {
        length: u32::try_from(piece.length).unwrap_or(0),
        value: piece.value,
        edge: piece.edge,
        chord: None,
    };
    if let Some(symbols) = input.symbols.filter(|_| input.chord_symbols) {
        let here = bar.start + piece.at;
        let found = symbols.binary_search_by_key(&here, |(at, _)| *at);
        written.chord = found.ok().map(|place| symbols[place].1);
    }
    let (event, tied_from, tied_to) = match piece.kind {
        PieceKind::Rest => {
            return Element::Rest(Rest {
                written,
                whole_bar: false,
                hidden: false,
            });
        }
        PieceKind::BarRest => {
            return Element::Rest(Rest {
                written,
                whole_bar: true,
                hidden: false,
            });
        }
        PieceKind::Note {
            event,
            tied_from,
            tied_to,
        } => (event, tied_from, tied_to),
    };
    let sound = input.timing.sounds[event];
    let (event, slash) = match sound {
        Sound::Note(note) => (note, None),
        Sound::Slash { after, parted, .. } => (after, Some(parted)),
        Sound::Silence => {
            return Element::Rest(Rest {
                written,
                whole_bar: false,
                hidden: false,
            });
        }
    };
    let place = input.at(event);
    if !tied_from && input.symbols.is_none() {
        written.chord = input.shown(sound, place);
    }
    let Place { tone, pitch, .. } = place;
    let statement = input.timing.statements[event];
    let origin = Origin {
        exercise: input.number,
        statement,
        degree: led_to(place),
        chord: match slash {
            Some(_) => input.slashed(bar.start + piece.at, place),
            None if input.literal.is_some() => {
                let begins = input.timing.events[event].onset;
                input.slashed(begins, place).or(place.passage.chord)
            }
            None => place.passage.chord,
        },
        ornament: !matches!(tone.tone, Tone::Rung(_)),
    };
    let mut note = Note {
        written,
        pitch: input.middle_line,
        accidental: None,
        tied_from,
        tied_to,
        beams: piece.beams,
        lyrics: [const { None }; 4],
        marks: Marks::default(),
        origin,
    };
    if let Some(parted) = slash {
        // Only stems show when the chord within a beat comes.
        return Element::Slash(Slash {
            note,
            rhythmic: parted,
        });
    }
    if !tied_from && !input.print.rows.is_empty() {
        note.lyrics = lyrics(input, event, place);
    }
    if let Some(figure) = input.marks {
        note.marks = marks(figure, input.position(event, !tied_from, !tied_to));
    }
    note.marks.breath = !tied_to && input.timing.breaths.contains(&event);
    if input.hide == Some(Hide::Notes) {
        return Element::Slash(Slash {
            note,
            rhythmic: true,
        });
    }
    note.pitch = pitch;
    note.accidental = accidentals.before(pitch, tied_from);
    Element::Note(note)
}

/// The chord symbols of a bar, by their ticks from its bar line.
fn chords(input: &NotationInput, bar: &BarPieces) -> Vec<(Ticks, u16)> {
    let pieces = bar.pieces.iter().filter_map(|piece| match piece.kind {
        PieceKind::Note {
            event,
            tied_from: false,
            ..
        } => input.symbol(event).map(|chord| (piece.at, chord)),
        _ => None,
    });
    pieces.collect()
}

/// The rows under a note; one that is left out keeps its place.
fn lyrics(input: &NotationInput, event: usize, place: Place) -> Lyrics {
    let asks = |row| input.print.rows.contains(&row);
    let mut lyrics = labels(
        input.print.rows,
        LabelSubject {
            count: input.timing.counts.get(event).copied().flatten(),
            pitch: place.pitch,
            degree: sounded_degree(place),
            tone: place.tone,
            from: asks(Label::Moves)
                .then(|| rung_before(input, event, input.timing.statements[event]))
                .flatten(),
            closing: place.closes,
            size: place.passage.ladder.size(),
            minor: match input.literal {
                Some(mode) => mode == Mode::Minor,
                None => asks(Label::Solfege) && is_minor(place.passage.ladder),
            },
            literal: input.literal.is_some(),
            names: input.names,
            instrument: input.instrument,
        },
    );
    for (row, lyric) in input.print.rows.iter().zip(&mut lyrics) {
        if tells(*row, input.hide) {
            *lyric = None;
        }
    }
    lyrics
}

/// Whether a row would tell what the student is asked for.
fn tells(row: Label, hide: Option<Hide>) -> bool {
    match hide {
        Some(Hide::Notes) => {
            matches!(row, Label::NoteNames | Label::Valves | Label::Positions)
        }
        Some(Hide::Degrees) => row == Label::Degrees,
        Some(Hide::Chords) | None => false,
    }
}

/// Whether a scale has a minor third and no major one.
fn is_minor(ladder: &Ladder) -> bool {
    let has = |alteration| {
        let third = Degree::new(3, alteration);
        (0..ladder.size()).any(|rung| ladder.degree(Rung(rung), Form::Rising) == third)
    };
    has(-1) && !has(0)
}

/// The degree a tone is, or leads to.
fn led_to(place: Place) -> Degree {
    let Place { passage, tone, .. } = place;
    let (Tone::Rung(rung) | Tone::Above(rung) | Tone::Below(rung)) = tone.tone;
    passage.ladder.degree(rung, tone.form)
}

/// The degree that is printed: the scale's for a rung, what is sounded for an
/// ornament.
fn sounded_degree(place: Place) -> Degree {
    let Place { tone, pitch, .. } = place;
    if matches!(tone.tone, Tone::Rung(_)) {
        return led_to(place);
    }
    let above = pitch - place.passage.placed.root;
    let number = above.steps().rem_euclid(7) as u8 + 1;
    let natural = Degree::new(number, 0).interval().fifths();
    let alteration = (above.fifths() - natural) / 7;
    Degree::new(number, alteration as i8)
}

/// The rung sounded before a note in its own statement.
fn rung_before(input: &NotationInput, event: usize, statement: u16) -> Option<i32> {
    let before = (0..event)
        .rev()
        .take_while(|at| input.timing.statements[*at] == statement);
    before
        .into_iter()
        .find_map(|at| match input.at(at).tone.tone {
            Tone::Rung(rung) => Some(rung.0),
            Tone::Above(_) | Tone::Below(_) => None,
        })
}
