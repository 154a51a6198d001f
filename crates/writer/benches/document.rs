//! Score to bytes, beside a bare quick-xml writer that is handed the very same
//! events, ready made, and only has to put them down: once with its own
//! indentation, once with the white space as events too. All three must give
//! the same bytes.

use std::borrow::Cow;
use std::hint::black_box;

use divan::Bencher;
use divan::counter::{BytesCount, ItemsCount};
use quick_xml::events::{BytesText, Event};
use quick_xml::{Reader, Writer};
use rhythm::{Beam, NoteValue, TupletEdge, ValueKind};
use score::{
    About, Accidental, Barline, Break, Direction, Element, HeadLine, Marks, Measure, Note, Origin,
    Page, Part, Rest, Score, TempoMark, Transposition, Written,
};
use theory::{ChordSymbol, Clef, ClefSign, Degree, KeySignature, Letter, Mode, Pitch, Signature};

fn main() {
    divan::main();
}

#[divan::bench]
fn score_to_bytes(bencher: Bencher<'_, '_>) {
    let score = sheet();
    let mut out = document(&score);
    rated(bencher, out.len()).bench_local(move || {
        out.clear();
        writer::musicxml(black_box(&score), &mut out);
        black_box(&out);
    });
}

#[divan::bench]
fn bare_writer_indenting(bencher: Bencher<'_, '_>) {
    let document = document(&sheet());
    let events = events(&document, true);
    let push = |out: &mut Vec<u8>| {
        let mut writer = Writer::new_with_indent(out, b' ', 2);
        push_events(&mut writer, &events);
    };
    bare(bencher, &document, push);
}

#[divan::bench]
fn bare_writer_plain(bencher: Bencher<'_, '_>) {
    let document = document(&sheet());
    let events = events(&document, false);
    bare(bencher, &document, |out| {
        push_events(&mut Writer::new(out), &events)
    });
}

fn bare(bencher: Bencher<'_, '_>, document: &[u8], push: impl Fn(&mut Vec<u8>)) {
    let mut out = Vec::with_capacity(document.len());
    push(&mut out);
    assert!(
        out.trim_ascii_end() == document.trim_ascii_end(),
        "the bare writer gives the same bytes"
    );
    rated(bencher, document.len()).bench_local(move || {
        out.clear();
        push(&mut out);
        black_box(&out);
    });
}

fn rated<'a, 'b>(bencher: Bencher<'a, 'b>, bytes: usize) -> Bencher<'a, 'b> {
    bencher
        .counter(BytesCount::new(bytes))
        .counter(ItemsCount::new(1usize))
}

fn push_events(writer: &mut Writer<&mut Vec<u8>>, events: &[Event<'static>]) {
    for event in events {
        // Into a vector, which takes everything.
        let _ = writer.write_event(black_box(event).borrow());
    }
}

/// The document's events, with or without the white space between them.
fn events(document: &[u8], trimmed: bool) -> Vec<Event<'static>> {
    let text = String::from_utf8_lossy(document);
    let mut reader = Reader::from_str(&text);
    let mut events = Vec::new();
    while let Ok(event) = reader.read_event() {
        match event {
            Event::Eof => break,
            Event::Text(text) if trimmed && text.trim_ascii().is_empty() => {}
            // Text too, or the indenting writer would break the line after it.
            Event::GeneralRef(name) => events.push(Event::Text(BytesText::from_escaped(format!(
                "&{};",
                &*name
            )))),
            event => events.push(event.into_owned()),
        }
    }
    events
}

fn document(score: &Score) -> Vec<u8> {
    let mut out = Vec::new();
    writer::musicxml(score, &mut out);
    out
}

const DIVISIONS: u32 = 12;
const BARS: u32 = 24;

/// A labelled sheet of eighths and triplets in a key with sharps, a chord
/// every other bar, four bars to the line.
fn sheet() -> Score {
    let mut measures: Vec<_> = (0..BARS).map(bar).collect();
    if let Some(first) = measures.first_mut() {
        first.key = Signature::new(3).map(|signature| KeySignature {
            signature,
            mode: Some(Mode::Major),
        });
        first.meter = "4/4".parse().ok();
        first.directions = vec![
            Direction::Rehearsal("A".to_owned()),
            Direction::Words(Cow::Borrowed("Sequence, up and down, one octave")),
            Direction::Tempo(TempoMark {
                beat: value(ValueKind::Quarter),
                per_minute: 96,
            }),
            Direction::Swing,
        ];
    }
    if let Some(last) = measures.last_mut() {
        last.barline = Some(Barline::Final);
    }
    Score {
        title: "Lantern Stairs".to_owned(),
        subtitle: Some("A climbing figure on the lydian dominant sound".to_owned()),
        head: vec![
            HeadLine::new(About::Player, "Tuesday reeds"),
            HeadLine::new(About::Key, "Written A · concert C"),
        ],
        page: Page {
            staff_height: 70,
            width: 2_100,
            height: 2_970,
        },
        divisions: DIVISIONS,
        exercises: Vec::new(),
        imprint: score::Imprint::default(),
        chords: ["A7(#11)", "E7"]
            .iter()
            .filter_map(|symbol| symbol.parse::<ChordSymbol>().ok())
            .map(Into::into)
            .collect(),
        part: Part {
            name: "Alto Saxophone in E♭".to_owned(),
            abbreviation: "A. Sax.".to_owned(),
            sound_id: "wind.reed.saxophone.alto".to_owned(),
            midi_program: 66,
            clef: Clef {
                sign: ClefSign::G,
                line: 2,
                octave_change: 0,
            },
            transposition: Some(Transposition {
                diatonic: -5,
                chromatic: -9,
                octave_change: 0,
            }),
            measures,
        },
    }
}

/// Four beamed eighths (the last tied on), a triplet, an eighth rest and an
/// eighth.
fn bar(index: u32) -> Measure {
    let rung = |at: u32| {
        let steps = (index + at) as i16 % 14;
        let letter = Letter::from_steps(5 + steps);
        let alteration = i16::from(matches!(
            letter,
            Letter::C | Letter::D | Letter::F | Letter::G
        ));
        Pitch::new(letter, alteration, 4 + (5 + steps) / 7)
    };
    let triplet = rhythm::Tuplet {
        actual: 3,
        normal: 2,
        unit: ValueKind::Eighth,
    };
    let mut elements = Vec::new();
    for at in 0..8 {
        let mut note = eighth(rung(at));
        note.beams[0] = match at {
            0 | 4 => Some(Beam::Begin),
            1 | 2 | 5 => Some(Beam::Continue),
            3 | 6 => Some(Beam::End),
            _ => None,
        };
        (note.tied_to, note.tied_from) = (at == 3, at == 4);
        if at == 4 {
            note.pitch = rung(3);
        }
        if (4..7).contains(&at) {
            note.written.length = DIVISIONS / 3;
            note.written.value.tuplet = Some(triplet);
            note.written.edge = match at {
                4 => Some(TupletEdge::Start { bracket: false }),
                6 => Some(TupletEdge::Stop),
                _ => None,
            };
        }
        if at == 0 && index.is_multiple_of(2) {
            note.written.chord = Some((index / 2 % 2) as u16);
        }
        if note.pitch.letter() == Letter::D && note.pitch.alteration() == 1 {
            note.accidental = Some(Accidental { courtesy: at > 4 });
        }
        if !note.tied_from {
            const DEGREES: [&str; 8] = ["1", "2", "3", "♯4", "5", "6", "♭7", "1"];
            const COUNTS: [&str; 8] = ["1", "&", "2", "&", "3", "la", "li", "&"];
            note.lyrics[0] = Some(Cow::Borrowed(DEGREES[at as usize]));
            note.lyrics[1] = Some(Cow::Borrowed(COUNTS[at as usize]));
        }
        if at == 7 {
            elements.push(Element::Rest(Rest {
                written: note.written,
                whole_bar: false,
                hidden: false,
            }));
        }
        elements.push(Element::Note(note));
    }
    Measure {
        number: index + 1,
        begins: (index > 0 && index.is_multiple_of(4)).then_some(Break::System),
        elements,
        ..Measure::default()
    }
}

fn eighth(pitch: Pitch) -> Note {
    Note {
        written: Written {
            length: DIVISIONS / 2,
            value: value(ValueKind::Eighth),
            edge: None,
            chord: None,
        },
        pitch,
        accidental: None,
        tied_from: false,
        tied_to: false,
        beams: [None; 4],
        lyrics: [const { None }; 4],
        marks: Marks::default(),
        origin: Origin {
            exercise: 0,
            statement: 0,
            degree: Degree::ROOT,
            chord: None,
            ornament: false,
        },
    }
}

fn value(kind: ValueKind) -> NoteValue {
    NoteValue {
        kind,
        dots: 0,
        tuplet: None,
    }
}
