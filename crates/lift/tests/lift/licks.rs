//! Phrases over several chords, which move note for note.

use lesson::{Phrase, PlacedChord};
use lift::{LiftScale, lift};
use rhythm::Fraction;
use theory::ChordSymbol;

use crate::made::{C, gives_back, phrase};

/// A ii–V–I lick of our own in C, with an approach note in each bar.
const LICK: &str = "F5 1/2, E5 1/2, D5 1/2, A4 1/2, C5 1/2, B4 1/2, Bb4 1/2, A4 1/2, \
                    G4 1/2, B4 1/2, D5 1/2, F5 1/2, Ab5 1/2, F5 1/2, D#5 1/2, F5 1/2, E5 4";

fn over(mut phrase: Phrase, chords: &[(i64, i64, &str)]) -> Phrase {
    let placed = chords
        .iter()
        .map(|(numerator, denominator, symbol)| PlacedChord {
            at: Fraction::new(*numerator, *denominator),
            symbol: symbol.parse().unwrap(),
        });
    phrase.chords = placed.collect();
    phrase
}

fn moved(phrase: &Phrase, by: i16) -> Phrase {
    let by = theory::Interval::from_coordinates(by, 0);
    let near = |pitch: theory::Pitch| {
        let moved = pitch + by;
        let octaves = (moved.midi() - pitch.midi()).div_euclid(12);
        moved - theory::Interval::from_coordinates(0, octaves)
    };
    let mut phrase = phrase.clone();
    for note in &mut phrase.notes {
        note.pitch = note.pitch.map(near);
    }
    for chord in &mut phrase.chords {
        chord.symbol = chord.symbol.transposed(by);
    }
    phrase.home = phrase.home.map(|home| lesson::Home {
        tonic: home.tonic + by,
        ..home
    });
    phrase.key = None;
    phrase
}

/// The symbols of a sheet with where they stand, in quarters.
fn symbols(score: &score::Score) -> Vec<(Fraction, ChordSymbol)> {
    let mut at = 0;
    let mut found = Vec::new();
    for element in score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements)
    {
        let written = element.written();
        if let Some(chord) = written.chord {
            let at = Fraction::new(at.into(), score.divisions.into());
            found.push((at, score.chords.symbol(chord).unwrap().clone()));
        }
        at += written.length;
    }
    found
}

#[test]
fn a_lick_over_two_five_one_keeps_its_chords_in_its_own_key() {
    let chords = [(0, 1, "Dm7"), (4, 1, "G7"), (8, 1, "Cmaj7")];
    let in_c = over(phrase("4/4", C, 0, LICK, ""), &chords);
    for fifths in -5..=5 {
        let lick = moved(&in_c, fifths);
        let lifted = lift(&lick, None).unwrap();
        for said in [
            "literal = true",
            "chords = \"| Dm7 | G7 | Cmaj7 |\"",
            "As a figure of a scale it goes on",
        ] {
            assert!(lifted.text.contains(said), "{said} in\n{}", lifted.text);
        }
        assert!(!lifted.text.contains("[scale]"), "{}", lifted.text);
        let degrees = lifted.text.lines().find(|line| line.starts_with("degrees"));
        let degrees = degrees.unwrap().replace("low ", "").replace("high ", "");
        let expected = "degrees = \"4 3 2 6 1 7 b7 6 5 7 2 4 b6 4 #2 4 3\"";
        assert_eq!(degrees, expected, "{}", lifted.text);
        let score = gives_back(&lick, &lifted);
        let asked = lick
            .chords
            .iter()
            .map(|chord| (chord.at, chord.symbol.clone()));
        assert_eq!(symbols(&score), asked.collect::<Vec<_>>());
        // The names, too, but for one that readable names don't have.
        let named = score::sounding_notes(&score).into_iter();
        let named = named.map(|note| note.sounding.name());
        let asked = lick.notes.iter().filter_map(|note| note.pitch);
        let other = named
            .zip(asked)
            .filter(|(ours, theirs)| *ours != theirs.name());
        assert!(other.count() <= 2, "{}", lifted.text);
        assert_eq!(lifted.fit, None);
        assert!(!lifted.text.contains("show_moves"), "{}", lifted.text);
    }
}

#[test]
fn the_degrees_of_a_long_phrase_are_left_off_its_head() {
    let long = ["C5 1", "E5 1", "D5 1", "B4 1"].repeat(7).join(", ");
    let long = over(phrase("4/4", C, 0, &long, ""), &[(0, 1, "C"), (4, 1, "G7")]);
    let lifted = lift(&long, None).unwrap();
    assert!(
        lifted.text.contains("show_moves = false"),
        "{}",
        lifted.text
    );
    gives_back(&long, &lifted);
}

#[test]
fn off_the_beat_with_a_pickup_and_in_minor() {
    let notes = "D5 1, Eb5 1/2, C5 1/2, Ab4 1, F4 2, D5 1/2, B4 1/2, G4 2, C5 4";
    let chords = [
        (-1, 1, "G7"),
        (0, 1, "Cm"),
        (3, 2, "Fm6"),
        (4, 1, "G7(b9)"),
        (7, 1, "Cm6"),
    ];
    let lick = over(phrase("4/4", None, 1, notes, ""), &chords);
    let lifted = lift(&lick, None).unwrap();
    for said in [
        "key = \"C minor\"",
        "chords = \"| pickup (4) G7 | Cm (2&) Fm6 | G7(b9) (4) Cm6 | Cm6 |",
        "from = \"C\"",
    ] {
        assert!(lifted.text.contains(said), "{said} in\n{}", lifted.text);
    }
    let score = gives_back(&lick, &lifted);
    let late = Fraction::from(1);
    let asked = lick
        .chords
        .iter()
        .map(|chord| (chord.at + late, chord.symbol.clone()));
    assert_eq!(symbols(&score), asked.collect::<Vec<_>>());
}

#[test]
fn on_a_scale_where_that_is_asked_for_or_one_root_sounds() {
    let chords = [(0, 1, "Dm7"), (4, 1, "G7")];
    let line = "D5 1, E5 1, F5 1, A5 1, G5 1, F5 1, D5 1, B4 1";
    let lick = over(phrase("4/4", C, 0, line, ""), &chords);
    let asked: LiftScale = "D dorian".parse().unwrap();
    let lifted = lift(&lick, Some(&asked)).unwrap();
    for said in [
        "chord_symbols = false",
        "# The chords over it: | Dm7 | G7 |",
        "name = \"dorian\"",
    ] {
        assert!(lifted.text.contains(said), "{said} in\n{}", lifted.text);
    }
    let same_root = over(lick.clone(), &[(0, 1, "D7sus4"), (4, 1, "D7")]);
    let lifted = lift(&same_root, None).unwrap();
    assert!(lifted.text.contains("[scale]"), "{}", lifted.text);
    assert!(lifted.fit.is_some());
}

#[test]
fn what_no_scale_holds() {
    let line = "C5 1, Db5 1, E5 1, F#5 1, G5 1, Ab5 1, Bb5 1, Eb5 1, A5 2, D5 2";
    let line = phrase("4/4", C, 0, line, "");
    let lifted = lift(&line, None).unwrap();
    assert!(lifted.text.contains("literal = true"), "{}", lifted.text);
    assert!(
        lifted.text.contains("# No scale holds it"),
        "{}",
        lifted.text
    );
    assert!(!lifted.text.contains("chords ="), "{}", lifted.text);
    gives_back(&line, &lifted);
}
