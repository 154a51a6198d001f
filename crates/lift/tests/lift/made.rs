//! Phrases made for a test, and what their lessons play.

use std::fs;
use std::path::{Path, PathBuf};

use etude::Composer;
use lesson::{Around, Home, Lesson, Named, Phrase, PhraseNote, PlacedChord, PlayedBy};
use lift::LiftedLesson;
use rhythm::Fraction;
use score::{Score, SoundingNote, sounding_notes};
use theory::{Interval, KeySignature, Mode, PitchName, Scale, Signature};

/// C major.
pub const C: Option<(i16, Option<Mode>)> = Some((0, Some(Mode::Major)));

/// Notes as `C5 1/2`, `- 1`; the first bar line after the pickup.
pub fn phrase(
    meter: &str,
    key: Option<(i16, Option<Mode>)>,
    pickup: i64,
    notes: &str,
    chord: &str,
) -> Phrase {
    let mut onset = Fraction::from(-pickup);
    let notes = notes.split(',').map(|note| {
        let (pitch, length) = note.trim().split_once(' ').unwrap();
        let length: Fraction = length.parse().unwrap();
        let note = PhraseNote {
            onset,
            length,
            pitch: pitch.parse().ok(),
        };
        onset += length;
        note
    });
    let notes: Vec<PhraseNote> = notes.collect();
    let chords = chord.parse().ok().filter(|_| !chord.is_empty());
    Phrase {
        title: None,
        played_by: PlayedBy::default(),
        named: Named::Concert,
        written_to_sounding: Interval::UNISON,
        key: key.map(|(fifths, mode)| KeySignature {
            signature: Signature::new(fifths).unwrap(),
            mode,
        }),
        home: key.and_then(|(fifths, mode)| home(fifths, mode?)),
        around: Around::default(),
        meter: meter.parse().unwrap(),
        pickup: Fraction::from(pickup),
        notes,
        chords: chords
            .into_iter()
            .map(|symbol| PlacedChord {
                at: Fraction::ZERO,
                symbol,
            })
            .collect(),
    }
}

/// What a sheet states that says major or minor.
fn home(fifths: i16, mode: Mode) -> Option<Home> {
    let (above, id) = match mode {
        Mode::Major => (0, "major"),
        Mode::Minor => (3, "natural-minor"),
    };
    Some(Home {
        tonic: PitchName::from_fifths(fifths + above),
        scale: Scale::named(id).ok()?,
    })
}

pub fn lesson(lifted: &LiftedLesson) -> Lesson {
    let read = lesson_text::read(&lifted.text, "lifted");
    read.unwrap_or_else(|mistakes| panic!("{}\n{mistakes:?}", lifted.text))
}

/// Onset, length and height of what a phrase sounds.
pub fn asked(phrase: &Phrase) -> Vec<(Fraction, Fraction, i16)> {
    let notes = phrase.notes.iter();
    notes
        .filter_map(|note| Some((note.onset, note.length, note.pitch?.midi())))
        .collect()
}

/// The notes of a sheet's first exercise.
pub fn first_exercise(score: &Score) -> Vec<SoundingNote> {
    let notes = sounding_notes(score).into_iter();
    notes.filter(|note| note.origin.exercise == 0).collect()
}

/// The sheet's first exercise in its first key gives the phrase's notes, in
/// whatever octave suits the horn.
pub fn gives_back(phrase: &Phrase, lifted: &LiftedLesson) -> Score {
    let lesson = lesson(lifted);
    let composer = Composer::new(&lesson).unwrap();
    let sheet = composer
        .compose(&composer.plans()[0])
        .unwrap_or_else(|left_out| panic!("{}\n{left_out:?}", lifted.text));
    assert_eq!(composer.plans()[0].concert.class(), lifted.root.class());
    let played = first_exercise(&sheet.score);
    let played: Vec<(Fraction, Fraction, i16)> = played
        .iter()
        .map(|note| (note.onset, note.length, note.sounding.midi()))
        .collect();
    let asked = asked(phrase);
    assert_eq!(played.len(), asked.len(), "{}", lifted.text);
    let shift = played[0].2 - asked[0].2;
    let late = played[0].0 - asked[0].0;
    assert_eq!(shift % 12, 0, "{}", lifted.text);
    for (played, asked) in played.iter().zip(&asked) {
        let expected = (asked.0 + late, asked.1, asked.2 + shift);
        assert_eq!(*played, expected, "{}", lifted.text);
    }
    sheet.score
}

pub fn fixture(name: &str) -> PathBuf {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures")).join(name)
}

/// The shipped lessons that can be read by themselves, with their files.
pub fn shipped() -> Vec<(PathBuf, Lesson)> {
    let mut files: Vec<_> = fs::read_dir(fixture("lessons"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|file| file.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    let read = |file: PathBuf| {
        let text = fs::read_to_string(&file).unwrap();
        let lesson = lesson_text::read(&text, "shipped").unwrap();
        (file, lesson)
    };
    files.into_iter().map(read).collect()
}
