//! The line: onsets, ends and pitches as written, ties joined, sounding.

use score::{Element, Transposition};

use super::{played, sheet};
use crate::{Role, SoundError, Take, Tracks, perform};

/// Plays with no count-in.
fn check(divisions: u32, bars: &[&str], expected: &str) {
    let take = Take {
        count_in: 0,
        ..Take::default()
    };
    let score = sheet(divisions, "4/4", bars);
    let performance = perform(&[&score], &take).unwrap();
    assert_eq!(played(&performance, Role::Line), expected, "{bars:?}");
}

#[test]
fn times_are_exact() {
    check(1, &["C5/1 D5/2 r/1", "E5/4"], "72 0 1, 74 1 3, 76 4 8");
    check(
        6,
        &["C4/2t C4/2t C4/2t D4/3 D4/3 r/6 E4/6"],
        "60 0 1/3, 60 1/3 2/3, 60 2/3 1, 62 1 3/2, 62 3/2 2, 64 3 4",
    );
    // five and seven in the time of a quarter, on one grid
    check(
        35,
        &["A4/7 A4/7 A4/21 B4/5 B4/5 B4/25 r/70"],
        "69 0 1/5, 69 1/5 2/5, 69 2/5 1, 71 1 8/7, 71 8/7 9/7, 71 9/7 2",
    );
    check(16_383, &["A4/1 r/65531"], "69 0 1/16383");
    check(0, &["A4/4"], "69 0 4");
    check(4, &[], "");
}

#[test]
fn tied_notes_are_one_and_repeated_notes_are_two() {
    check(2, &["r/5 G4/3", "~G4/2 G4/6"], "67 5/2 5, 67 5 8");
    check(2, &["G4/2 ~G4/2 ~G4/4", "r/8"], "67 0 4");
}

#[test]
fn transposed_parts_sound_where_they_sound() {
    let check = |diatonic, chromatic, octave_change, expected| {
        let mut score = sheet(1, "4/4", &["C5/4"]);
        score.part.transposition = Some(Transposition {
            diatonic,
            chromatic,
            octave_change,
        });
        let performance = perform(&[&score], &Take::default()).unwrap();
        assert_eq!(performance.strikes(Role::Line)[0].key, expected);
    };
    // MusicXML 4.0 `transpose`: what to add to the written pitch.
    check(-5, -9, 0, 63); // alto saxophone: E flat 4
    check(-1, -2, -1, 58); // tenor saxophone: B flat 3
    check(-1, -2, 0, 70); // B flat trumpet
    check(-4, -7, 0, 65); // horn in F
    check(0, 0, 1, 84); // piccolo
    check(0, 0, -1, 60); // double bass, guitar
}

#[test]
fn a_note_outside_midis_keys_is_said() {
    let score = sheet(1, "4/4", &["A9/4"]);
    let pitch = "A9".parse().unwrap();
    assert_eq!(
        perform(&[&score], &Take::default()),
        Err(SoundError::OutOfReach(pitch))
    );
    assert_eq!(perform(&[], &Take::default()), Err(SoundError::NoSheet));
}

#[test]
fn strong_beats_are_a_little_stronger() {
    let check = |meter, divisions, bars: &[&str], expected: &[u8]| {
        let score = sheet(divisions, meter, bars);
        let performance = perform(&[&score], &Take::default()).unwrap();
        let strikes = performance.strikes(Role::Line).iter();
        let velocities: Vec<u8> = strikes.map(|strike| strike.velocity).collect();
        assert_eq!(velocities, expected, "{bars:?}");
    };
    check(
        "4/4",
        2,
        &["C5/1 C5/1 C5/2 C5/2 C5/2"],
        &[92, 80, 80, 86, 80],
    );
    check("4/4", 2, &["^C5/4", "C5/8"], &[86, 92]);
    check("6/8", 2, &["C5/1 C5/1 C5/1 C5/3"], &[92, 80, 80, 86]);
}

#[test]
fn labels_are_said_at_their_notes() {
    let mut score = sheet(2, "4/4", &["C5/2 D5/6"]);
    for element in &mut score.part.measures[0].elements {
        if let Element::Note(note) = element {
            note.lyrics = [Some("♭7".into()), None, Some("&".into()), None];
        }
    }
    let take = Take {
        count_in: 1,
        ..Take::default()
    };
    let performance = perform(&[&score], &take).unwrap();
    let quarter = u32::from(performance.per_quarter);
    let said: Vec<(u32, &str)> = performance
        .lyrics
        .iter()
        .map(|(at, text)| (at / quarter, text.as_str()))
        .collect();
    assert_eq!(said, [(4, "♭7"), (4, "&"), (5, "♭7"), (5, "&")]);
    let silent = Take {
        tracks: Tracks::BACKING,
        ..take
    };
    assert_eq!(perform(&[&score], &silent).unwrap().lyrics, []);
}

#[test]
fn marks_shape_the_notes() {
    // Staccato halves a note, an accent strengthens it (common practice);
    // tenuto leaves it whole.
    let mut score = sheet(2, "4/4", &["C5/2 D5/2 E5/2 F5/2"]);
    for (at, element) in score.part.measures[0].elements.iter_mut().enumerate() {
        if let Element::Note(note) = element {
            note.marks.staccato = at == 1;
            note.marks.accent = at == 2;
            note.marks.tenuto = at == 3;
        }
    }
    let take = Take {
        count_in: 0,
        ..Take::default()
    };
    let performance = perform(&[&score], &take).unwrap();
    let line = played(&performance, Role::Line);
    assert_eq!(line, "72 0 1, 74 1 3/2, 76 2 3, 77 3 4");
    let strengths: Vec<u8> = performance
        .strikes(Role::Line)
        .iter()
        .map(|strike| strike.velocity)
        .collect();
    assert_eq!(strengths, [92, 80, 86 + 22, 80]);
}
