//! Phrases lifted into lessons: what the lesson says, and that its sheets
//! give the phrase back, note for note.
#![cfg(test)]

use std::fs;
use std::path::Path;

use etude::Composer;
use lesson::{Lesson, Named, Phrase, PhraseNote, PlacedChord};
use proptest::prelude::*;
use reader::{Asked, LiftScale, Lifted, lift};
use rhythm::Fraction;
use score::sounding_notes;
use theory::{Interval, KeySignature, Mode, Scale, Signature};

/// Notes as `C5 1/2`, `- 1`; the first bar line after the pickup.
fn phrase(
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
        part: None,
        named: Named::Concert,
        written_to_sounding: Interval::UNISON,
        key: key.map(|(fifths, mode)| KeySignature {
            signature: Signature::new(fifths).unwrap(),
            mode,
        }),
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

fn lesson(lifted: &Lifted) -> Lesson {
    let read = lesson_text::read(&lifted.text, "lifted");
    read.unwrap_or_else(|mistakes| panic!("{}\n{mistakes:?}", lifted.text))
        .lesson
}

/// The sheet's first exercise in its first key gives the phrase's notes, in
/// whatever octave suits the horn.
fn gives_back(phrase: &Phrase, lifted: &Lifted) {
    let lesson = lesson(lifted);
    let composer = Composer::new(&lesson).unwrap();
    let sheet = composer
        .compose(&composer.plans()[0])
        .unwrap_or_else(|left_out| panic!("{}\n{left_out:?}", lifted.text));
    assert_eq!(composer.plans()[0].concert.class(), lifted.root.class());
    let played = sounding_notes(&sheet.score)
        .into_iter()
        .filter(|note| note.origin.exercise == 0);
    let played: Vec<(Fraction, Fraction, i16)> = played
        .map(|note| (note.onset, note.length, note.sounding.midi()))
        .collect();
    let asked: Vec<(Fraction, Fraction, i16)> = phrase
        .notes
        .iter()
        .filter_map(|note| Some((note.onset, note.length, note.pitch?.midi())))
        .collect();
    assert_eq!(played.len(), asked.len(), "{}", lifted.text);
    let shift = played[0].2 - asked[0].2;
    let late = played[0].0 - asked[0].0;
    assert_eq!(shift % 12, 0, "{}", lifted.text);
    for (played, asked) in played.iter().zip(&asked) {
        let expected = (asked.0 + late, asked.1, asked.2 + shift);
        assert_eq!(*played, expected, "{}", lifted.text);
    }
}

/// Scale, moves, count, and how well the scale fits.
fn check(phrase: &Phrase, asked: Option<&str>, scale: &str, moves: &str, count: &str, fit: &str) {
    let asked = asked.map(|text| match Scale::with_root(text) {
        Ok((root, scale)) => LiftScale {
            scale,
            root: Some(root),
        },
        Err(_) => LiftScale {
            scale: Scale::named(text).unwrap(),
            root: None,
        },
    });
    let lifted = lift(phrase, asked.as_ref()).unwrap();
    let found = format!("{} {}", lifted.root, lifted.scale.id.as_deref().unwrap());
    let says = |key: &str| {
        let line = lifted.text.lines().find_map(|line| line.strip_prefix(key));
        line.map_or("", |line| line.trim_start_matches(" = ").trim_matches('"'))
            .to_owned()
    };
    assert_eq!(
        (
            found.as_str(),
            says("moves").as_str(),
            says("count").as_str(),
            lifted.fit.to_string().as_str()
        ),
        (scale, moves, count, fit)
    );
    gives_back(phrase, &lifted);
}

const C: Option<(i16, Option<Mode>)> = Some((0, Some(Mode::Major)));

#[test]
fn scales_moves_and_counts() {
    // 1 2 3 5 in even quarters.
    check(
        &phrase("4/4", C, 0, "C5 1, D5 1, E5 1, G5 1", ""),
        None,
        "C major",
        "start, step up, step up, skip up",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    // The same under a dominant, a lydian dominant, a minor seventh.
    check(
        &phrase("4/4", C, 0, "C5 1, D5 1, E5 1, G5 1", "C7"),
        None,
        "C mixolydian",
        "start, step up, step up, skip up",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    check(
        &phrase("4/4", C, 0, "C5 1, D5 1, E5 1, G5 1", "C7(#11)"),
        None,
        "C lydian-dominant",
        "start, step up, step up, skip up",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    check(
        &phrase("4/4", C, 0, "A4 1, C5 1, D5 1, E5 1", "Dm7"),
        None,
        "D dorian",
        "start on 5, skip up, step up, step up",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    // Borrowed once is from below; twice it is the scale's own.
    check(
        &phrase("4/4", C, 0, "C5 1, E5 1, F#5 1, G5 1", ""),
        None,
        "C major",
        "start, skip up, from below, skip up",
        "1 2 3 4",
        "3 of 4 notes are the scale's own, 1 leads to the next",
    );
    check(
        &phrase("4/4", C, 0, "C5 1, F#5 1, G5 1, F#5 1/2, G5 1/2", "C7"),
        None,
        "C lydian-dominant",
        "start, up 3 steps, step up, step down, step up",
        "1 2 3 4 &",
        "all 5 notes are the scale's own",
    );
    // Around a note: above and below, below and above.
    check(
        &phrase("4/4", C, 0, "E5 1, Db5 1/2, B4 1/2, C5 2", ""),
        None,
        "C major",
        "start on 3, enclose, skip down",
        "1 2 & 3",
        "2 of 4 notes are the scale's own, 2 lead to the next",
    );
    check(
        &phrase("4/4", C, 0, "E5 1, B4 1/2, Db5 1/2, C5 2", ""),
        None,
        "C major",
        "start on 3, from below, from above, skip down",
        "1 2 & 3",
        "2 of 4 notes are the scale's own, 2 lead to the next",
    );
    // Rests, repeats, octaves, a pickup, triplets.
    check(
        &phrase("4/4", C, 0, "C5 1/2, C5 1/2, - 1, C6 1/2, C5 3/2", ""),
        None,
        "C major",
        "start, repeat, rest, octave up, octave down",
        "1 & (2) 3 &",
        "all 5 notes are the scale's own".replace('5', "4").as_str(),
    );
    check(
        &phrase(
            "4/4",
            Some((-3, Some(Mode::Minor))),
            1,
            "G4 1/2, Bb4 1/2, C5 1, Eb5 1, D5 1",
            "",
        ),
        None,
        "C natural-minor",
        "start on 5, skip up, step up, skip up, step down",
        "4 & | 1 2 3 (4)",
        "all 5 notes are the scale's own",
    );
    check(
        &phrase("4/4", C, 0, "C5 1/3, D5 1/3, E5 1/3, F5 3", ""),
        None,
        "C major",
        "start, step up, step up, step up",
        "1 trip let 2",
        "all 4 notes are the scale's own",
    );
    // A dorian line that says so by its ends.
    check(
        &phrase("4/4", Some((0, None)), 0, "D5 1, F5 1, B5 1, D5 1", ""),
        None,
        "D dorian",
        "start, skip up, up 3 steps, down 5 steps",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    // All five of a pentatonic; the blues.
    check(
        &phrase(
            "4/4",
            Some((0, None)),
            0,
            "A4 1/2, C5 1/2, D5 1/2, E5 1/2, G5 1/2, E5 1/2, C5 1/2, A4 1/2",
            "Am7",
        ),
        None,
        "A dorian",
        "start, skip up, step up, step up, skip up, skip down, skip down, skip down",
        "1 & 2 & 3 & 4 &",
        "all 8 notes are the scale's own",
    );
    // Half steps are led to from below; where they turn back, each is a rung.
    check(
        &phrase("4/4", C, 0, "C5 1, Db5 1, D5 1, Eb5 1/2, E5 1/2", ""),
        None,
        "C major",
        "start, from below, step up, from below, step up",
        "1 2 3 4 &",
        "3 of 5 notes are the scale's own, 2 lead to the next",
    );
    check(
        &phrase(
            "4/4",
            C,
            0,
            "C5 1/2, Db5 1/2, C5 1/2, Eb5 1/2, D5 1/2, F5 1/2, E5 1/2, Gb5 1/2, E5 4",
            "C7",
        ),
        None,
        "C chromatic",
        "start, step up, step down, up 3 steps, step down, up 3 steps, step down, skip up, skip down",
        "1 & 2 & 3 & 4 & | 1",
        "all 9 notes are the scale's own",
    );
}

#[test]
fn a_scale_that_is_asked_for() {
    let line = phrase("4/4", C, 0, "G4 1, B4 1, D5 1, F5 1", "");
    check(
        &line,
        Some("mixolydian"),
        "G mixolydian",
        "start, skip up, skip up, skip up",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    check(
        &line,
        Some("C major"),
        "C major",
        "start on 5, skip up, skip up, skip up",
        "1 2 3 4",
        "all 4 notes are the scale's own",
    );
    let error = |asked: &str| {
        let scale = LiftScale {
            scale: Scale::named(asked).unwrap(),
            root: Some("C".parse().unwrap()),
        };
        lift(&line, Some(&scale)).unwrap_err().to_string()
    };
    assert_eq!(
        error("minor pentatonic"),
        "the phrase doesn't go on Minor pentatonic: some notes are neither the scale's own nor lead to one by a half step"
    );
}

#[test]
fn what_cannot_be_a_figure() {
    let error = |phrase: &Phrase| lift(phrase, None).unwrap_err().to_string();
    assert_eq!(
        error(&phrase("4/4", C, 0, "- 4", "")),
        "the phrase has no notes"
    );
    let long = vec!["C5 1/2"; 300].join(",");
    assert_eq!(
        error(&phrase("4/4", C, 0, &long, "")),
        "the phrase has 300 notes, but a figure has 256 at most: ask for fewer bars"
    );
    let bars = vec!["C5 4"; 65].join(",");
    assert_eq!(
        error(&phrase("4/4", C, 0, &bars, "")),
        "the phrase is longer than a figure's 64 bars: ask for fewer"
    );
    let fine = phrase("4/4", C, 0, "C5 1/5, D5 4/5, C5 3", "");
    assert_eq!(
        error(&fine),
        "the count has no word for bar 1, beat 1 1/5 of the phrase: it knows halves, quarters and thirds of a beat"
    );
}

/// The whole text of a lifted lesson, as a teacher would find it.
#[test]
fn the_lesson_file() {
    let mut line = phrase("4/4", C, 0, "E4 3/2, G4 1/2, Bb4 1, C5 1, D5 4", "C13");
    line.title = Some("A \"quoted\" name".to_owned());
    line.part = Some("Tenor Saxophone".to_owned());
    line.written_to_sounding = Interval::from_steps(-8, -14);
    let lifted = lift(&line, None).unwrap();
    assert_eq!(
        lifted.text,
        r#"title = "A \"quoted\" name"
instruments = ["tenor-saxophone"]

[keys]
order = "fourths"
from = "C"

[scale]
name = "mixolydian"
chord = "13"

[figure]
meter = "4/4"
moves = "start on 3, skip up, skip up, step up, step up"
count = "1-2 & 3 4 | 1"

[[exercise]]
kind = "figure"

[[exercise]]
kind = "sequence"
"#
    );
    assert_eq!(lifted.remarks, [] as [String; 0]);
    gives_back(&line, &lifted);
}

fn fixture(name: &str) -> std::path::PathBuf {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures")).join(name)
}

/// Every notated line of the fixtures that is one phrase comes back.
#[test]
fn fixtures_come_back() {
    let asked = Asked::default();
    let mut lifted = 0;
    for (name, bars) in [
        ("01_alto_harmony.musicxml", "1-2"),
        ("01_alto_harmony.musicxml", "3-4"),
        ("02_pickup.musicxml", "0-3"),
        ("03_triplets.musicxml", "1-3"),
        ("04_ties.musicxml", "4"),
        ("05_five_four.musicxml", "1-2"),
        ("06_repeat_endings.musicxml", "1-3"),
        ("07_key_change.musicxml", "1-2"),
        ("07_key_change.musicxml", "3-4"),
        ("08_lyrics_accidentals.musicxml", "1-3"),
        ("09_trumpet.mxl", "1-2"),
        ("10_tenor_swing.musicxml", "1"),
        ("13_trip_mixed_nonormaltype.musicxml", "1"),
        ("20_pickup_0_implicit.musicxml", "0-1"),
        ("50_lyrics.musicxml", "1"),
    ] {
        let bytes = fs::read(fixture("notation").join(name)).unwrap();
        let phrase = reader::phrase(&bytes, &asked, bars.parse().ok())
            .unwrap()
            .value;
        match lift(&phrase, None) {
            Ok(lesson) => {
                gives_back(&phrase, &lesson);
                lifted += 1;
            }
            Err(error) => assert!(
                error.to_string().starts_with("the count has no word"),
                "{name}: {error}"
            ),
        }
    }
    assert!(lifted >= 13, "{lifted}");
}

/// Whole sheets of the shipped lessons, written as files and read back: the
/// same notes, written and sounding.
#[test]
fn sheets_are_read_back() {
    let mut sheets = 0;
    let mut files: Vec<_> = fs::read_dir(fixture("lessons"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    for file in files
        .iter()
        .filter(|file| file.extension().is_some_and(|ending| ending == "toml"))
    {
        let text = fs::read_to_string(file).unwrap();
        let lesson = lesson_text::read(&text, "shipped").unwrap().lesson;
        let composer = Composer::new(&lesson).unwrap();
        for plan in composer.plans().iter().step_by(5) {
            let Ok(sheet) = composer.compose(plan) else {
                continue;
            };
            let mut bytes = Vec::new();
            writer::musicxml(&sheet.score, &mut bytes);
            let packed = writer::mxl(&bytes, "sheet.musicxml").unwrap();
            let expected = sounding_notes(&sheet.score);
            for named in [Named::Concert, Named::Written] {
                let asked = Asked { part: None, named };
                let reading = match reader::phrase(&packed, &asked, None) {
                    Ok(reading) => reading,
                    Err(error) => {
                        assert!(error.reason.starts_with("the meter changes"), "{error}");
                        continue;
                    }
                };
                // Answering bars are slashes on the sheet: no notes of anyone's.
                let slashes = "slashes were taken as silence";
                let guessed = reading
                    .warnings
                    .iter()
                    .find(|warning| warning.message != slashes);
                assert_eq!(guessed, None, "{}", file.display());
                let first = reading.value.pickup;
                let found: Vec<_> = reading
                    .value
                    .notes
                    .iter()
                    .filter_map(|note| Some((note.onset + first, note.length, note.pitch?)))
                    .collect();
                let expected: Vec<_> = expected
                    .iter()
                    .map(|note| {
                        let pitch = if named == Named::Concert {
                            note.sounding
                        } else {
                            note.written
                        };
                        (note.onset, note.length, pitch)
                    })
                    .collect();
                assert_eq!(found, expected, "{} {}", file.display(), plan.number);
                sheets += 1;
            }
        }
    }
    assert!(sheets > 40, "{sheets}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any line of scale notes and what leads to them comes back from its
    /// lesson's sheet.
    #[test]
    fn any_phrase_comes_back(
        steps in prop::collection::vec((-4i32..5, 0usize..6, any::<bool>()), 1..24),
        root in 0i16..12,
        scale in 0usize..1000,
        fifths in -7i16..8,
        told in 0u8..3,
    ) {
        let lengths = [(1, 1), (1, 2), (2, 1), (3, 2), (1, 4), (1, 3)].map(|(upper, lower)| Fraction::new(upper, lower));
        let scales = Scale::catalogue();
        let scale = &scales[scale % scales.len()];
        let ladder = theory::Ladder::new(scale);
        let zero = theory::PitchName::from_fifths(root - 5).at(4);
        let mut rung = 0;
        let mut onset = Fraction::ZERO;
        let mut notes = Vec::new();
        for (step, length, silent) in steps {
            rung = (rung + step).clamp(0, ladder.size() + 2);
            let pitch = zero + ladder.interval(theory::Rung(rung), theory::Form::Rising);
            let silent = silent && step == 0 && !notes.is_empty();
            // Short values come in whole beats.
            let values = match length { 4 => 4, 5 => 3, _ => 1 };
            for _ in 0..values {
                let pitch = (!silent).then_some(pitch);
                notes.push(PhraseNote { onset, length: lengths[length], pitch });
                onset += lengths[length];
            }
        }
        let key = match told {
            0 => None,
            1 => Some((fifths, None)),
            _ => Some((fifths, Some(Mode::Minor))),
        };
        let mut phrase = phrase("4/4", key, 0, "C5 1", "");
        // Silences that meet are one.
        let mut joined: Vec<PhraseNote> = Vec::new();
        for note in notes {
            match joined.last_mut().filter(|last| last.pitch.is_none() && note.pitch.is_none()) {
                Some(last) => last.length += note.length,
                None => joined.push(note),
            }
        }
        phrase.notes = joined;
        match lift(&phrase, None) {
            Ok(lifted) => gives_back(&phrase, &lifted),
            Err(error) => prop_assert!(error.to_string().starts_with("the count has no word"), "{}", error),
        }
    }
}
