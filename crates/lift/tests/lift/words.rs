//! What a lifted lesson says: its scale, moves and count.

use lesson::Phrase;
use lift::{LiftScale, lift};
use theory::{Mode, Scale};

use crate::made::{C, gives_back, phrase};

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
    let degrees: Vec<String> = lifted
        .scale
        .degrees
        .iter()
        .map(ToString::to_string)
        .collect();
    let degrees = degrees.join(" ");
    let found = format!(
        "{} {}",
        lifted.root,
        lifted.scale.id.as_deref().unwrap_or(&degrees)
    );
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
            lifted.fit.unwrap().to_string().as_str()
        ),
        (scale, moves, count, fit)
    );
    gives_back(phrase, &lifted);
}

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
        "3 of 4 notes are the scale's own, 1 leads to the next",
    );
    check(
        &phrase("4/4", C, 0, "E5 1, B4 1/2, Db5 1/2, C5 2", ""),
        None,
        "C major",
        "start on 3, from below, from above, skip down",
        "1 2 & 3",
        "3 of 4 notes are the scale's own, 1 leads to the next",
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
        "A minor-pentatonic",
        "start, step up, step up, step up, step up, step down, skip down, step down",
        "1 & 2 & 3 & 4 &",
        "all 8 notes are the scale's own",
    );
    check(
        &phrase(
            "4/4",
            Some((-3, Some(Mode::Minor))),
            0,
            "G4 1/2, Bb4 1/2, C5 1, Eb5 1/2, F5 1/2, F#5 1/2, G5 3/2, - 2, C5 1",
            "Cm7",
        ),
        None,
        "C blues",
        "start on 5, step up, step up, step up, step up, step up, step up, rest, down 4 steps",
        "1 & 2 3 & 4 & | -1 (2) 4",
        "all 8 notes are the scale's own",
    );
    // Without its fifth still the blues, and no stranger scale.
    check(
        &phrase(
            "4/4",
            Some((-3, Some(Mode::Minor))),
            0,
            "C5 1/2, Eb5 1/2, F5 1/2, Gb5 1/2, F5 1/2, Eb5 1/2, C5 1",
            "",
        ),
        None,
        "C blues",
        "start, step up, step up, step up, step down, step down, step down",
        "1 & 2 & 3 & 4",
        "all 7 notes are the scale's own",
    );
    // The dominant of a minor key: the key knows what the chord doesn't.
    check(
        &phrase(
            "4/4",
            Some((0, Some(Mode::Minor))),
            0,
            "E5 1/2, F5 1/2, G#5 1/2, B5 1/2, D6 1/2, C6 1/2, B5 1",
            "E7",
        ),
        None,
        "E phrygian-dominant",
        "start, step up, step up, skip up, skip up, step down, step down",
        "1 & 2 & 3 & 4",
        "all 7 notes are the scale's own",
    );
    // Around F, after an E that is itself.
    check(
        &phrase(
            "4/4",
            C,
            0,
            "A4 1/2, C5 1/2, E5 1/2, Gb5 1/2, E5 1/2, F5 1, D5 1/2",
            "Dm7",
        ),
        None,
        "D dorian",
        "start on 5, skip up, skip up, enclose, step up, skip down",
        "1 & 2 & 3 &-4 &",
        "6 of 7 notes are the scale's own, 1 leads to the next",
    );
    // Half steps are led to from below; where they turn back, each is a rung.
    check(
        &phrase("4/4", C, 0, "C5 1, C#5 1, D5 1, D#5 1/2, E5 1/2", ""),
        None,
        "C major",
        "start, from below, step up, from below, step up",
        "1 2 3 4 &",
        "3 of 5 notes are the scale's own, 2 lead to the next",
    );
    // What is named otherwise than an ornament keeps its name.
    check(
        &phrase("4/4", C, 0, "C5 1, D5 1, Eb5 1, E5 1/2, G5 1/2", ""),
        None,
        "C 1 2 b3 3 4 5 6 7",
        "start, step up, step up, step up, skip up",
        "1 2 3 4 &",
        "all 5 notes are the scale's own",
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
        "C 1 2 3 4 b5 5 6 b7",
        "start, from above, repeat, from above, step up, skip up, step down, skip up, skip down",
        "1 & 2 & 3 & 4 & | 1",
        "7 of 9 notes are the scale's own, 2 lead to the next",
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
    for beyond in ["D9", "Cb0"] {
        assert_eq!(
            error(&phrase("4/4", C, 0, &format!("C5 1, {beyond} 3"), "")),
            format!("the phrase has {beyond}, but a player's range lies within C0 and C9")
        );
    }
    let long = vec!["C5 1/2"; 300].join(",");
    assert_eq!(
        error(&phrase("4/4", C, 0, &long, "")),
        "the phrase has 300 notes, but a figure has 256 moves at most: ask for fewer bars"
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
