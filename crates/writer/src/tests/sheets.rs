//! Small sheets built by hand that together hold everything the writer writes.

use std::borrow::Cow;

use rhythm::Beam::{BackwardHook, Begin, Continue, End, ForwardHook};
use rhythm::Tuplet;
use rhythm::ValueKind::{Eighth, Half, Quarter, Sixteenth, Whole};
use score::{
    About, Barline, Break, Chords, Direction, HeadLine, Measure, Page, Part, Score, TempoMark,
    Transposition,
};
use theory::{ChordSymbol, Clef, ClefSign, KeySignature, Mode, Signature};

use super::building::{DIVISIONS, n, r, value, whole_bar};

/// Every sheet by name.
pub(crate) fn all() -> [(&'static str, Score); 4] {
    [
        ("alto", alto()),
        ("trombone", trombone()),
        ("octave_treble", octave_treble()),
        ("empty", bare()),
    ]
}

/// The score written.
pub(crate) fn document(score: &Score) -> String {
    let mut out = Vec::new();
    crate::musicxml(score, &mut out);
    String::from_utf8(out).unwrap()
}

/// A score without a note.
pub(crate) fn bare() -> Score {
    Score {
        title: "Empty Landing".to_owned(),
        subtitle: None,
        head: Vec::new(),
        page: Page {
            staff_height: 70,
            width: 2_100,
            height: 2_970,
        },
        divisions: DIVISIONS,
        exercises: Vec::new(),
        imprint: score::Imprint::default(),
        chords: Chords::default(),
        part: Part {
            name: "Flute".to_owned(),
            abbreviation: "Fl.".to_owned(),
            sound_id: String::new(),
            midi_program: 74,
            clef: TREBLE,
            transposition: None,
            measures: vec![Measure {
                number: 1,
                ..Measure::default()
            }],
        },
    }
}

/// Pickups, chords, ties, courtesies, labels, swing, a new key.
pub(crate) fn alto() -> Score {
    let measures = vec![
        Measure {
            number: 0,
            implicit: true,
            key: key(3, Some(Mode::Major)),
            meter: Some("4/4".parse().unwrap()),
            directions: vec![
                Direction::Rehearsal("A".to_owned()),
                Direction::Words(Cow::Borrowed("Sequence, up & down")),
                Direction::Tempo(TempoMark {
                    beat: value(Quarter, 0),
                    per_minute: 96,
                }),
                Direction::Swing,
            ],
            elements: vec![
                n("E4", Eighth).beam(Begin).label("5").done(),
                n("G#4", Eighth).beam(End).label("7").done(),
            ],
            ..Measure::default()
        },
        Measure {
            number: 1,
            elements: vec![
                n("A4", Eighth)
                    .chord(0)
                    .beam(Begin)
                    .label("1")
                    .label("1")
                    .done(),
                n("B4", Eighth).beam(Continue).label("2").label("&").done(),
                n("C5", Eighth)
                    .sign()
                    .beam(Continue)
                    .label("♭3")
                    .label("2")
                    .done(),
                n("C#5", Eighth)
                    .sign()
                    .beam(End)
                    .label("3")
                    .label("&")
                    .done(),
                n("D#5", Quarter).chord(1).sign().label("♯4").done(),
                n("E5", Quarter).tie().label("5").label("4").done(),
            ],
            ..Measure::default()
        },
        Measure {
            number: 2,
            begins: Some(Break::System),
            elements: vec![
                n("E5", Eighth).tied().tie().done(),
                n("E5", Quarter).tied().done(),
                n("D5", Eighth).courtesy().chord(2).done(),
                r(Quarter).chord(3).done(),
                r(Eighth).done(),
                n("A4", Eighth).label("1").done(),
            ],
            barline: Some(Barline::Double),
            ..Measure::default()
        },
        Measure {
            number: 1,
            extra: true,
            implicit: true,
            key: key(-2, None),
            directions: vec![Direction::Rehearsal("B".to_owned()), Direction::Straight],
            elements: vec![n("F4", Quarter).dot().done()],
            ..Measure::default()
        },
        Measure {
            number: 3,
            elements: vec![whole_bar(48, Some(4))],
            ..Measure::default()
        },
        Measure {
            number: 4,
            elements: vec![
                n("B##4", Half).chord(5).sign().done(),
                n("Cbb5", Half).sign().done(),
            ],
            barline: Some(Barline::Final),
            ..Measure::default()
        },
    ];
    Score {
        title: "Lantern & Stairs <swing>".to_owned(),
        subtitle: Some("A climbing figure on the \"lydian dominant\" sound".to_owned()),
        head: [
            "Tuesday reeds",
            "intermediate",
            "Written A · concert C",
            &"start, step up, ".repeat(6),
        ]
        .map(|text| HeadLine::new(About::Player, text))
        .to_vec(),
        exercises: Vec::new(),
        imprint: score::Imprint::default(),
        chords: ["A7(#11)", "Ebmaj7/Bb", "E7sus4", "N.C.", "Bb", "F#m7b5"]
            .into_iter()
            .map(|text| text.parse::<ChordSymbol>().unwrap().into())
            .collect(),
        part: Part {
            name: "Alto Saxophone in E♭".to_owned(),
            abbreviation: "A. Sax.".to_owned(),
            sound_id: "wind.reed.saxophone.alto".to_owned(),
            midi_program: 66,
            transposition: Some(Transposition {
                diatonic: -5,
                chromatic: -9,
                octave_change: 0,
            }),
            measures,
            ..bare().part
        },
        ..bare()
    }
}

/// Tuplets of every shape, hooks, a compound and an odd meter, a new page.
fn trombone() -> Score {
    let triplet = Tuplet {
        actual: 3,
        normal: 2,
        unit: Eighth,
    };
    let measures = vec![
        Measure {
            number: 1,
            key: key(-3, Some(Mode::Minor)),
            meter: Some("6/8".parse().unwrap()),
            directions: vec![Direction::Tempo(TempoMark {
                beat: value(Quarter, 1),
                per_minute: 63,
            })],
            elements: vec![
                n("C3", Eighth).dot().beam(Begin).done(),
                n("D3", Sixteenth).beam(Continue).under(BackwardHook).done(),
                n("Eb3", Eighth).beam(End).done(),
                n("F3", Sixteenth).beam(Begin).under(ForwardHook).done(),
                n("G3", Eighth).beam(Continue).done(),
                n("Ab3", Sixteenth).beam(Continue).under(Begin).done(),
                n("Bb3", Sixteenth).beam(Continue).under(Continue).done(),
                n("B3", Sixteenth).sign().beam(End).under(End).done(),
            ],
            ..Measure::default()
        },
        Measure {
            number: 2,
            begins: Some(Break::Page),
            meter: Some("5/4 = 3+2".parse().unwrap()),
            elements: vec![
                n("C4", Eighth)
                    .in_tuplet(triplet)
                    .starts(false)
                    .beam(Begin)
                    .label("♭7")
                    .done(),
                n("Bb3", Eighth).in_tuplet(triplet).beam(Continue).done(),
                n("C4", Eighth).in_tuplet(triplet).stops().beam(End).done(),
                n("B3", Quarter)
                    .in_tuplet(triplet)
                    .sign()
                    .starts(true)
                    .done(),
                r(Eighth).in_tuplet(triplet).stops().done(),
                r(Eighth).in_tuplet(triplet).starts(true).done(),
                n("C4", Eighth).in_tuplet(triplet).dot().done(),
                n("D4", Sixteenth).in_tuplet(triplet).stops().done(),
                r(Half).done(),
            ],
            barline: Some(Barline::Final),
            ..Measure::default()
        },
    ];
    Score {
        title: "Harbour Turns".to_owned(),
        page: Page {
            staff_height: 85,
            width: 2_159,
            height: 2_794,
        },
        divisions: DIVISIONS,
        part: Part {
            name: "Trombone".to_owned(),
            abbreviation: "Tbn.".to_owned(),
            sound_id: "brass.trombone.tenor".to_owned(),
            midi_program: 58,
            clef: Clef {
                sign: ClefSign::F,
                line: 4,
                octave_change: 0,
            },
            transposition: None,
            measures,
        },
        ..bare()
    }
}

/// The treble clef with an 8 and a part an octave and a tone down.
fn octave_treble() -> Score {
    let measures = vec![Measure {
        number: 1,
        key: key(0, None),
        meter: Some("2/2".parse().unwrap()),
        directions: vec![Direction::Tempo(TempoMark {
            beat: value(Half, 0),
            per_minute: 50,
        })],
        elements: vec![n("D5", Whole).label("&").done()],
        barline: Some(Barline::Final),
        ..Measure::default()
    }];
    Score {
        title: "One Stair".to_owned(),
        head: vec![HeadLine::new(About::Key, "Written D · concert C")],
        part: Part {
            clef: Clef {
                octave_change: -1,
                ..TREBLE
            },
            transposition: Some(Transposition {
                diatonic: -1,
                chromatic: -2,
                octave_change: -1,
            }),
            measures,
            ..bare().part
        },
        ..bare()
    }
}

const TREBLE: Clef = Clef {
    sign: ClefSign::G,
    line: 2,
    octave_change: 0,
};

fn key(fifths: i16, mode: Option<Mode>) -> Option<KeySignature> {
    Some(KeySignature {
        signature: Signature::new(fifths).unwrap(),
        mode,
    })
}
