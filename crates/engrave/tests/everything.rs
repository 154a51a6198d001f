//! A score that says everything a score can say: no kind of it is left undrawn.
#![cfg(test)]

use std::collections::BTreeSet;

use engrave::{Paper, Role};
use etude::Composer;
use rhythm::{NoteValue, Tuplet, TupletEdge, ValueKind};
use score::{
    Accidental, Barline, Cue, Direction, Element, Imprint, Marks, Measure, Note, Rest, Score,
    Slash, TempoMark, Written,
};
use theory::{Clef, ClefSign, Instrument, KeySignature, Signature};

const LESSON: &str = "title = \"Everything\"\ninstruments = [\"alto saxophone\"]\ntempo = 96\n\
    labels = [\"degrees\"]\n[keys]\nonly = [\"A\"]\n[scale]\nname = \"major\"\n[figure]\n\
    moves = \"start, step up, skip up, step down\"\n[[exercise]]\nkind = \"scale\"\n\
    [[exercise]]\nkind = \"figure\"\n";

fn plain() -> Score {
    let lesson = lesson_text::read(LESSON, "everything").unwrap();
    let composer = Composer::new(&lesson).unwrap();
    composer.compose(&composer.plans()[0]).unwrap().score
}

fn roles(score: &Score) -> BTreeSet<Role> {
    let sheet = engrave::sheet(score, Paper::A4);
    let pages = sheet.pages.iter();
    pages
        .flat_map(|page| page.seen().map(|seen| seen.role))
        .collect()
}

fn first_note(score: &Score) -> Note {
    let elements = &score.part.measures[0].elements;
    let notes = elements.iter().filter_map(|element| match element {
        Element::Note(note) => Some(note.clone()),
        _ => None,
    });
    notes.into_iter().next().unwrap()
}

fn value(kind: ValueKind) -> NoteValue {
    NoteValue {
        kind,
        dots: 0,
        tuplet: None,
    }
}

/// A bar of one note, given what is special about it.
fn with(note: Note) -> BTreeSet<Role> {
    let mut score = plain();
    score.part.measures.truncate(1);
    score.part.measures[0].elements = vec![Element::Note(note)];
    roles(&score)
}

/// Every sign of a note is drawn; a new one doesn't compile here until it is
/// said which role it has.
#[test]
fn every_mark_of_a_note() {
    let Marks {
        slur_ends: _,
        slur_begins: _,
        accent: _,
        staccato: _,
        tenuto: _,
        breath: _,
        ghost: _,
        fall: _,
        scoop: _,
        doit: _,
    } = Marks::default();
    let check = |change: &dyn Fn(&mut Marks), role: Role| {
        let mut note = first_note(&plain());
        note.beams = [None; 4];
        assert!(!with(note.clone()).contains(&role), "{role:?}");
        change(&mut note.marks);
        assert!(with(note).contains(&role), "{role:?}");
    };
    check(&|marks| marks.accent = true, Role::Mark);
    check(&|marks| marks.staccato = true, Role::Mark);
    check(&|marks| marks.tenuto = true, Role::Mark);
    check(&|marks| marks.ghost = true, Role::Mark);
    check(&|marks| marks.fall = true, Role::Mark);
    check(&|marks| marks.scoop = true, Role::Mark);
    check(&|marks| marks.doit = true, Role::Mark);
    check(&|marks| marks.breath = true, Role::Breath);
    // A slur from a note to itself is none: two notes.
    let mut score = plain();
    assert!(!roles(&score).contains(&Role::Slur));
    let elements = &mut score.part.measures[0].elements;
    for (place, element) in elements.iter_mut().enumerate() {
        if let Element::Note(note) = element {
            note.marks.slur_begins = place == 0;
            note.marks.slur_ends = place == 2;
        }
    }
    assert!(roles(&score).contains(&Role::Slur));
}

#[test]
fn everything_about_a_note() {
    let note = || {
        let mut note = first_note(&plain());
        note.beams = [None; 4];
        note.lyrics = Default::default();
        note
    };
    assert!(!with(note()).contains(&Role::Label));
    let changed = |change: &dyn Fn(&mut Note)| {
        let mut note = note();
        change(&mut note);
        with(note)
    };
    let accidental = |courtesy| Some(Accidental { courtesy });
    assert!(changed(&|note| note.accidental = accidental(false)).contains(&Role::Accidental));
    assert!(changed(&|note| note.accidental = accidental(true)).contains(&Role::Accidental));
    assert!(changed(&|note| note.tied_to = true).contains(&Role::Tie));
    assert!(changed(&|note| note.tied_from = true).contains(&Role::Tie));
    assert!(changed(&|note| note.lyrics[3] = Some("1".into())).contains(&Role::Label));
    assert!(changed(&|note| note.written.value.dots = 2).contains(&Role::Dot));
    assert!(changed(&|note| note.written.chord = Some(0)).contains(&Role::Chord));
    assert!(changed(&|note| note.pitch = "C7".parse().unwrap()).contains(&Role::Ledger));
    let triplet = Some(Tuplet {
        actual: 3,
        normal: 2,
        unit: ValueKind::Eighth,
    });
    let mut score = plain();
    for (place, element) in score.part.measures[0]
        .elements
        .iter_mut()
        .enumerate()
        .take(3)
    {
        let Element::Note(note) = element else {
            continue;
        };
        note.written.value.tuplet = triplet;
        note.written.edge = match place {
            0 => Some(TupletEdge::Start { bracket: true }),
            2 => Some(TupletEdge::Stop),
            _ => None,
        };
    }
    assert!(roles(&score).contains(&Role::Tuplet));
}

#[test]
fn every_value_of_notes_rests_and_slashes() {
    let kinds = [
        ValueKind::SixtyFourth,
        ValueKind::ThirtySecond,
        ValueKind::Sixteenth,
        ValueKind::Eighth,
        ValueKind::Quarter,
        ValueKind::Half,
        ValueKind::Whole,
        ValueKind::Breve,
    ];
    for kind in kinds {
        let mut note = first_note(&plain());
        note.beams = [None; 4];
        note.written.value = value(kind);
        let drawn = with(note.clone());
        assert!(drawn.contains(&Role::Notehead), "{kind:?}");
        assert_eq!(
            drawn.contains(&Role::Stem),
            kind <= ValueKind::Half,
            "{kind:?}"
        );
        assert_eq!(
            drawn.contains(&Role::Flag),
            kind <= ValueKind::Eighth,
            "{kind:?}"
        );
        for rhythmic in [true, false] {
            let mut score = plain();
            let slash = Slash {
                note: note.clone(),
                rhythmic,
            };
            score.part.measures[0].elements = vec![Element::Slash(slash)];
            score.part.measures.truncate(1);
            let drawn = roles(&score);
            assert!(drawn.contains(&Role::Slash), "{kind:?}");
            let stemmed = rhythmic && kind <= ValueKind::Half;
            assert_eq!(drawn.contains(&Role::Stem), stemmed, "{kind:?}");
        }
        for (whole_bar, hidden) in [(false, false), (true, false), (false, true)] {
            let mut score = plain();
            let written = Written {
                length: note.written.length,
                value: value(kind),
                edge: None,
                chord: None,
            };
            score.part.measures[0].elements = vec![Element::Rest(Rest {
                written,
                whole_bar,
                hidden,
            })];
            score.part.measures.truncate(1);
            assert_eq!(roles(&score).contains(&Role::Rest), !hidden, "{kind:?}");
        }
    }
}

/// Every word and sign over a measure, its key, meter and bar line.
#[test]
fn everything_about_a_measure() {
    let measure = |change: &dyn Fn(&mut Measure)| {
        let mut score = plain();
        score.part.measures.truncate(2);
        for measure in &mut score.part.measures {
            measure.directions.clear();
            measure.barline = None;
        }
        let before = roles(&score);
        change(&mut score.part.measures[1]);
        (before, roles(&score))
    };
    let said = |direction: Direction| {
        let role = match direction {
            Direction::Rehearsal(_) | Direction::Section(_) => Role::Letter,
            Direction::Heading(_) | Direction::Words(_) | Direction::Text(_) => Role::Text,
            Direction::Tempos(_) | Direction::Tempo(_) | Direction::Swing | Direction::Straight => {
                Role::Tempo
            }
            Direction::Dynamic(_) => Role::Dynamic,
        };
        let (before, after) = measure(&|measure| measure.directions.push(direction.clone()));
        // The sheet's head is text too.
        assert!(
            role == Role::Text || !before.contains(&role),
            "{direction:?}"
        );
        assert!(after.contains(&role), "{direction:?}");
    };
    said(Direction::Rehearsal("B".to_owned()));
    said(Direction::Section("Bridge".to_owned()));
    said(Direction::Heading("once more".into()));
    said(Direction::Words("listen".into()));
    said(Direction::Text("Slowly at first.".into()));
    said(Direction::Tempos(vec![60, 72]));
    said(Direction::Tempo(TempoMark {
        beat: value(ValueKind::Quarter),
        per_minute: 96,
    }));
    said(Direction::Swing);
    said(Direction::Straight);
    for loud in ["pp", "p", "mp", "mf", "f", "ff"] {
        said(Direction::Dynamic(loud));
    }
    let lines = |barline: Option<Barline>| {
        let mut score = plain();
        score.part.measures.truncate(1);
        score.part.measures[0].barline = barline;
        let sheet = engrave::sheet(&score, Paper::A4);
        let seen = sheet.pages[0].seen();
        seen.filter(|seen| seen.role == Role::Barline).count()
    };
    assert_eq!(lines(None), 1);
    assert_eq!(lines(Some(Barline::Double)), 2);
    assert_eq!(lines(Some(Barline::Final)), 2);
    // A key and a meter inside of a line, and a warning of both at its end.
    let signs = |begins: bool| {
        let mut score = plain();
        score.part.measures.truncate(2);
        let second = &mut score.part.measures[1];
        second.key = Some(KeySignature {
            signature: Signature::new(-3).unwrap(),
            mode: None,
        });
        second.meter = "3/4".parse().ok();
        second.begins = begins.then_some(score::Break::System);
        let sheet = engrave::sheet(&score, Paper::A4);
        let of = |role: Role| {
            sheet.pages[0]
                .seen()
                .filter(|seen| seen.role == role)
                .count()
        };
        (of(Role::Signature), of(Role::Meter))
    };
    let (inside, meters) = signs(false);
    assert_eq!((signs(true).0 - inside, signs(true).1 - meters), (3, 2));
}

#[test]
fn every_clef() {
    let clefs: Vec<Clef> = Instrument::catalogue()
        .iter()
        .map(|instrument| instrument.clef)
        .collect();
    let wide = [ClefSign::G, ClefSign::F, ClefSign::C]
        .into_iter()
        .flat_map(|sign| {
            (-2..=2).map(move |octave_change| Clef {
                sign,
                line: 3,
                octave_change,
            })
        });
    for clef in clefs.into_iter().chain(wide) {
        let mut score = plain();
        score.part.clef = clef;
        assert!(roles(&score).contains(&Role::Clef), "{clef:?}");
    }
}

/// What a teacher says on a sheet: nothing of it is left out, whole pages apart.
#[test]
fn a_teacher_s_own_words() {
    let Imprint {
        author: _,
        rights: _,
        footer: _,
        text: _,
    } = Imprint::default();
    let mut score = plain();
    score.imprint = Imprint {
        author: Some("made by Ida".to_owned()),
        rights: Some("copy it freely".to_owned()),
        footer: Some("autumn term".to_owned()),
        text: vec!["Breathe before each line.".to_owned()],
    };
    score.part.measures[1].cues.push(Cue {
        at: 0,
        words: "listen here".into(),
    });
    let mut sheet = engrave::sheet(&score, Paper::A4);
    engrave::Foot::of(&score, "Flute", false).of_sheet(&mut sheet.pages);
    let texts: Vec<String> = sheet.pages[0].seen().filter_map(|seen| seen.text).collect();
    for words in [
        "made by Ida",
        "copy it freely",
        "autumn term",
        "Breathe before each line.",
        "listen here",
    ] {
        assert!(
            texts.iter().any(|text| text.contains(words)),
            "{words}: {texts:?}"
        );
    }
}

/// Names and brackets of a score with everyone in it.
#[test]
fn everyone() {
    let parts = vec![plain(), plain(), plain()];
    let sheet = engrave::room(&parts, "Score", Paper::Letter);
    let roles: BTreeSet<Role> = sheet.pages[0].seen().map(|seen| seen.role).collect();
    assert!(roles.contains(&Role::Name) && roles.contains(&Role::Bracket));
}

/// Whoever has no part in an exercise rests in it, not in the one before.
#[test]
fn silence_belongs_to_the_exercise_it_is_in() {
    let mut resting = plain();
    let first = resting.exercises[1].first;
    for measure in &mut resting.part.measures[first..] {
        let mut written = *measure.elements[0].written();
        written.length = measure.length();
        measure.elements = vec![Element::Rest(Rest {
            written,
            whole_bar: true,
            hidden: false,
        })];
    }
    let sheet = engrave::room(&[plain(), resting], "Score", Paper::A4);
    let pages = sheet.pages.iter();
    let notes = pages.flat_map(|page| page.seen().filter_map(|seen| seen.note.cloned()));
    let silences = notes.filter(|note| note.silence && note.part == Some(1));
    let exercises: BTreeSet<u16> = silences.map(|note| note.exercise).collect();
    assert_eq!(exercises, BTreeSet::from([1]));
}

/// A bar that no line holds is drawn smaller, and stays on the page.
#[test]
fn a_bar_too_full_for_a_line() {
    let mut score = plain();
    score.page.staff_height = 110;
    let mut note = first_note(&score);
    note.beams = [None; 4];
    note.lyrics[0] = Some("a rather long word".into());
    score.part.measures.truncate(1);
    score.part.measures[0].elements = vec![Element::Note(note); 32];
    let sheet = engrave::sheet(&score, Paper::A4);
    for seen in sheet.pages.iter().flat_map(|page| page.seen()) {
        assert!(seen.ink.right <= Paper::A4.width() - 14_000, "{seen:?}");
    }
}
