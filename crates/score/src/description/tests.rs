//! A small sheet told.

use rhythm::{NoteValue, ValueKind};
use theory::{ChordSymbol, Degree, Interval, KeySignature, Signature};

use super::*;
use crate::sample::{exercise, note, rest, score, tied};
use crate::{Cue, TempoMark};

fn sheet() -> Score {
    let piece = |from, to, marks| {
        Element::Note(crate::Note {
            marks,
            ..tied("E5", 3, from, to)
        })
    };
    let begins = Marks {
        slur_begins: true,
        ..Marks::default()
    };
    let ends = Marks {
        breath: true,
        ..Marks::default()
    };
    let mut hidden = rest(6);
    if let Element::Rest(rest) = &mut hidden {
        rest.hidden = true;
    }
    let slash = Element::Slash(crate::Slash {
        note: tied("B4", 6, false, false),
        rhythmic: true,
    });
    let mut sheet = score(
        3,
        [
            vec![note("G4", 2)],
            vec![piece(false, true, begins), piece(true, false, ends)],
            vec![hidden],
            vec![slash],
        ],
    );
    let measures = &mut sheet.part.measures;
    measures[0].implicit = true;
    measures[0].meter = "2/4".parse().ok();
    measures[1].number = 1;
    measures[1].key = Some(KeySignature {
        signature: Signature::new(-3).unwrap(),
        mode: Some(Mode::Minor),
    });
    measures[3].key = Some(KeySignature {
        signature: Signature::new(2).unwrap(),
        mode: Some(Mode::Major),
    });
    measures[1].cues.push(Cue {
        at: 3,
        words: "listen".to_owned(),
    });
    let place = sheet.chords.place_of(
        &"Am7/G".parse().unwrap(),
        &[Degree::ROOT, Degree::new(3, -1)],
    );
    if let Element::Note(note) = &mut sheet.part.measures[1].elements[1] {
        note.written.chord = Some(place);
    }
    if let Element::Note(note) = &mut sheet.part.measures[1].elements[0] {
        note.origin.chord = Some(place);
        note.origin.statement = 4;
        note.lyrics[1] = Some("5".into());
    }
    sheet.exercises = vec![exercise(0, 1)];
    sheet.exercises[0].chorus = Some(12);
    sheet.part.transposition = crate::Transposition::of(Interval::from_steps(-8, -14));
    sheet
}

#[test]
fn bars_have_their_times() {
    let bars = Description::of(&sheet()).measures;
    let said: Vec<String> = bars
        .iter()
        .map(|bar| {
            let signature = bar.signature.map(|fifths| (fifths, bar.mode.unwrap()));
            format!(
                "{} {} {} {} {:?} {:?} {}",
                bar.number, bar.onset, bar.length, bar.pickup, signature, bar.meter, bar.blank
            )
        })
        .collect();
    assert_eq!(
        said,
        [
            "0 0 2/3 true None Some(\"2/4\") false",
            "1 2/3 2 false Some((-3, \"minor\")) None false",
            "0 8/3 2 false None None true",
            "0 14/3 2 false Some((2, \"major\")) None false",
        ]
    );
}

#[test]
fn notes_are_joined_and_slashes_apart() {
    let described = Description::of(&sheet());
    let notes: Vec<String> = described
        .notes
        .iter()
        .map(|note| {
            format!(
                "{} {} {} {} {} {:?} {:?} {:?}",
                note.written,
                note.sounding,
                note.onset,
                note.length,
                note.statement,
                note.chord,
                note.labels,
                note.marks
            )
        })
        .collect();
    assert_eq!(
        notes,
        [
            "G4 F3 0 2/3 0 None [] []",
            "E5 D4 2/3 2 4 Some(\"Am7/G\") [None, Some(\"5\")] [\"slur start\", \"breath-mark\"]",
        ]
    );
    let slashes: Vec<String> = described
        .slashes
        .iter()
        .map(|slash| format!("{} {} {}", slash.onset, slash.length, slash.rhythmic))
        .collect();
    assert_eq!(slashes, ["14/3 2 true"]);
}

#[test]
fn chords_and_exercises_stand_where_they_begin() {
    let described = Description::of(&sheet());
    let chord = &described.chords[0];
    assert_eq!(described.chords.len(), 1);
    assert_eq!(
        (chord.onset.as_str(), chord.symbol.as_str()),
        ("5/3", "Am7/G")
    );
    assert_eq!(
        (chord.root.as_str(), chord.bass.as_deref()),
        ("A", Some("G"))
    );
    assert_eq!(chord.kind, "minor-seventh");
    assert_eq!(chord.scale, ["1", "b3"]);
    assert_eq!(chord.tones, ["A", "C", "E", "G"]);
    let begun: Vec<_> = described
        .exercises
        .iter()
        .map(|one| (one.onset.as_str(), one.tonic.as_str(), one.chorus))
        .collect();
    assert_eq!(begun, [("2/3", "C", Some(12))]);
    let by = described.transposition.unwrap();
    assert_eq!((by.diatonic, by.chromatic, by.octave_change), (-1, -2, -1));
}

#[test]
fn degrees_of_a_chord_are_said_as_the_standard_counts_them() {
    let degrees = |symbol: &str| {
        let symbol: ChordSymbol = symbol.parse().unwrap();
        chord(&symbol.into(), String::new()).degrees
    };
    // MusicXML 4.0 `degree-type`, `degree-alter`.
    assert_eq!(degrees("Ab7(b9)"), ["add 9 -1"]);
    assert_eq!(degrees("E7sus4"), ["subtract 3 0", "add 4 0"]);
    assert_eq!(degrees("C"), [""; 0]);
    let altered = degrees("C7b5");
    assert_eq!(altered, ["alter 5 -1"]);
}

#[test]
fn what_is_said_over_a_measure() {
    let mut sheet = sheet();
    sheet.part.measures[1].directions = vec![
        Direction::Rehearsal("A".to_owned()),
        Direction::Section("Bridge".to_owned()),
        Direction::Heading("The figure".into()),
        Direction::Words("on E♭".into()),
        Direction::Text("Slowly.".to_owned()),
        Direction::Tempos(vec![60, 72]),
        Direction::Tempo(TempoMark {
            beat: NoteValue {
                kind: ValueKind::Quarter,
                dots: 1,
                tuplet: None,
            },
            per_minute: 63,
        }),
        Direction::Dynamic("mf"),
        Direction::Swing,
        Direction::Straight,
    ];
    let said: Vec<String> = Description::of(&sheet)
        .directions
        .iter()
        .map(|one| match &one.what {
            What::Letter(text) => format!("{} letter {text}", one.onset),
            What::Words(text) => format!("{} words {text}", one.onset),
            What::Tempo(quarters) => format!("{} tempo {quarters}", one.onset),
            What::Dynamic(letters) => format!("{} dynamic {letters}", one.onset),
            What::Feel(feel) => format!("{} feel {feel}", one.onset),
        })
        .collect();
    assert_eq!(
        said,
        [
            "2/3 letter A",
            "2/3 letter Bridge",
            "2/3 words The figure",
            "2/3 words on E♭",
            "2/3 words Slowly.",
            "2/3 words □ 60   □ 72",
            "2/3 tempo 189/2",
            "2/3 dynamic mf",
            "2/3 feel swing",
            "2/3 feel straight",
            "5/3 words listen",
        ]
    );
}

#[test]
fn marks_in_the_standards_words() {
    let all = Marks {
        slur_ends: true,
        slur_begins: true,
        accent: true,
        staccato: true,
        tenuto: true,
        breath: true,
        ghost: true,
        fall: true,
        scoop: true,
        doit: true,
    };
    // MusicXML 4.0 `articulations`, `slur`; parentheses have none there.
    assert_eq!(
        marks(all),
        [
            "slur stop",
            "slur start",
            "accent",
            "staccato",
            "tenuto",
            "breath-mark",
            "ghost",
            "falloff",
            "scoop",
            "doit"
        ]
    );
    assert!(marks(Marks::default()).is_empty());
}
