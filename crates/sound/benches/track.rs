//! Score to the bytes of a practice track, and a track to samples and files.
// A bench whose own sheet can't be played has nothing to measure.
#![allow(clippy::unwrap_used)]

use std::hint::black_box;

use divan::Bencher;
use divan::counter::{BytesCount, ItemsCount};
use rhythm::{NoteValue, ValueKind};
use score::{Direction, Element, Measure, Note, Origin, Page, Part, Score, Written};
use std::io::Cursor;

use sound::{Balance, Performance, Recording, Tags, Take, Voice, midi, perform};
use theory::{ChordSymbol, Clef, ClefSign, Degree, Letter, Pitch};

fn main() {
    divan::main();
}

#[divan::bench]
fn score_to_midi(bencher: Bencher<'_, '_>) {
    let score = sheet();
    let bytes = midi(&played(&score)).len();
    bencher
        .counter(BytesCount::new(bytes))
        .counter(ItemsCount::new(1usize))
        .bench_local(|| midi(&played(black_box(&score))));
}

#[divan::bench]
fn track_to_recording(bencher: Bencher<'_, '_>) {
    let track = played(&sheet());
    bencher
        .counter(ItemsCount::new(1usize))
        .bench_local(|| recorded(black_box(&track)));
}

#[divan::bench]
fn recording_to_wav(bencher: Bencher<'_, '_>) {
    let (mut recording, balance) = recorded(&played(&sheet()));
    let mut out = Cursor::new(Vec::new());
    bencher.counter(ItemsCount::new(1usize)).bench_local(|| {
        out.set_position(0);
        recording.wav(|_| true, &balance, &Tags::default(), &mut out)
    });
}

#[divan::bench]
fn recording_to_flac(bencher: Bencher<'_, '_>) {
    let (mut recording, balance) = recorded(&played(&sheet()));
    let mut out = Cursor::new(Vec::new());
    bencher.counter(ItemsCount::new(1usize)).bench_local(|| {
        out.set_position(0);
        recording.flac(|_| true, &balance, &Tags::default(), &mut out)
    });
}

fn recorded(track: &Performance) -> (Recording, Balance) {
    let mut recording = Recording::new(track, Voice::Plain, Cursor::new(Vec::new())).unwrap();
    let balance = recording.balance().unwrap();
    (recording, balance)
}

fn played(score: &Score) -> Performance {
    perform(&[score], &Take::default()).unwrap()
}

/// Forty-eight bars of swing eighths with a chord in each.
fn sheet() -> Score {
    let chords = ["Dm7", "G7", "CM7", "A7(b9)"];
    let mut measures: Vec<Measure> = (0..48).map(bar).collect();
    measures[0].meter = "4/4".parse().ok();
    measures[0].directions.push(Direction::Swing);
    Score {
        title: "Forty-eight bars".into(),
        subtitle: None,
        head: Vec::new(),
        page: Page {
            staff_height: 70,
            width: 2_100,
            height: 2_970,
        },
        divisions: 2,
        exercises: vec![score::Exercise {
            first: 0,
            place: 0,
            letter: None,
            heading: String::new(),
            tonic: theory::PitchName::from_fifths(0),
            scale: Vec::new(),
            chorus: Some(12),
        }],
        imprint: score::Imprint::default(),
        chords: chords
            .iter()
            .map(|chord| chord.parse::<ChordSymbol>().unwrap().into())
            .collect(),
        part: Part {
            name: "Flute".into(),
            abbreviation: "Fl.".into(),
            sound_id: "wind.flutes.flute".into(),
            midi_program: 74,
            clef: Clef {
                sign: ClefSign::G,
                line: 2,
                octave_change: 0,
            },
            transposition: None,
            measures,
        },
    }
}

fn bar(number: u32) -> Measure {
    let note = |place: u32| {
        let letter = Letter::from_steps((number + place) as i16);
        Element::Note(Note {
            written: Written {
                length: 1,
                value: NoteValue {
                    kind: ValueKind::Eighth,
                    dots: 0,
                    tuplet: None,
                },
                edge: None,
                chord: (place == 0).then_some((number % 4) as u16),
            },
            pitch: Pitch::new(letter, 0, 5),
            accidental: None,
            tied_from: false,
            tied_to: false,
            beams: [None; 4],
            lyrics: [const { None }; 4],
            marks: score::Marks::default(),
            origin: Origin {
                exercise: 0,
                statement: number as u16,
                degree: Degree::ROOT,
                chord: None,
                ornament: false,
            },
        })
    };
    Measure {
        number: number + 1,
        elements: (0..8).map(note).collect(),
        ..Measure::default()
    }
}
