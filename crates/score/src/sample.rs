//! Small scores for this crate's tests.

use rhythm::{NoteValue, ValueKind};
use theory::{Clef, Degree, Family, Instrument, Interval, PitchName, Range};

use crate::{
    Chords, Element, Exercise, Imprint, Marks, Measure, Note, Origin, Page, Part, Rest, Score,
    Transposition, Written,
};

/// A part for an instrument that sounds as written.
pub(crate) fn score(divisions: u32, measures: impl IntoIterator<Item = Vec<Element>>) -> Score {
    let range = Range {
        low: "C4".parse().unwrap(),
        high: "D6".parse().unwrap(),
    };
    let recorder = Instrument {
        id: "tenor-recorder".into(),
        name: "Tenor Recorder".into(),
        abbreviation: "T. Rec.".into(),
        family: Family::Woodwind,
        clef: Clef::TREBLE,
        written_to_sounding: Interval::UNISON,
        ranges: [range; 3],
        extreme: range,
        register_break: None,
        tube: None,
        midi_program: 75,
        sound_id: "wind.flutes.recorder.tenor".into(),
    };
    let mut part = Part::of(&recorder, Transposition::of(recorder.written_to_sounding));
    part.measures = measures
        .into_iter()
        .map(|elements| Measure {
            elements,
            ..Measure::default()
        })
        .collect();
    Score {
        title: String::new(),
        subtitle: None,
        head: Vec::new(),
        page: Page {
            staff_height: 70,
            width: 2_100,
            height: 2_970,
        },
        divisions,
        chords: Chords::default(),
        exercises: Vec::new(),
        imprint: Imprint::default(),
        part,
    }
}

pub(crate) fn note(pitch: &str, length: u32) -> Element {
    Element::Note(tied(pitch, length, false, false))
}

pub(crate) fn rest(length: u32) -> Element {
    Element::Rest(Rest {
        written: written(length),
        whole_bar: false,
        hidden: false,
    })
}

pub(crate) fn tied(pitch: &str, length: u32, tied_from: bool, tied_to: bool) -> Note {
    Note {
        written: written(length),
        pitch: pitch.parse().unwrap(),
        accidental: None,
        tied_from,
        tied_to,
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

pub(crate) fn written(length: u32) -> Written {
    let value = NoteValue {
        kind: ValueKind::Quarter,
        dots: 0,
        tuplet: None,
    };
    Written {
        length,
        value,
        edge: None,
        chord: None,
    }
}

/// An exercise at a place in the lesson that begins with a measure.
pub(crate) fn exercise(place: usize, first: usize) -> Exercise {
    Exercise {
        place,
        first,
        letter: None,
        heading: String::new(),
        tonic: PitchName::from_fifths(0),
        scale: Vec::new(),
        chorus: None,
    }
}
