//! The band: who plays when, and what.

use std::collections::BTreeMap;

use rhythm::Fraction;
use score::Score;

use super::{STYLES, grounded, onsets, played, quarters, sheet, swinging};
use crate::{Click, Levels, Performance, Role, Style, Take, Tracks, perform};

fn over_changes(swings: bool, meter: &str, bars: &[&str], chorus: u32) -> Score {
    let mut score = if swings {
        swinging(2, meter, bars)
    } else {
        sheet(2, meter, bars)
    };
    grounded(&mut score, Some(chorus));
    score
}

fn take(style: Option<Style>) -> Take {
    Take {
        count_in: 0,
        style,
        ..Take::default()
    }
}

const CADENCE: [&str; 4] = ["Dm7@r/8", "G7@r/8", "CM7@r/4 A7@r/4", "Dm7@r/8"];

/// What is heard of each drum in a bar, in quarters.
fn drums(performance: &Performance, bar: i64) -> String {
    let mut by_key: BTreeMap<u8, Vec<String>> = BTreeMap::new();
    for strike in performance.strikes(Role::Drums) {
        let at = quarters(performance, strike.onset) - 4 * bar;
        if at >= Fraction::ZERO && at < Fraction::from_integer(4) {
            by_key.entry(strike.key).or_default().push(at.to_string());
        }
    }
    let rows: Vec<String> = by_key
        .into_iter()
        .map(|(key, at)| format!("{key}: {}", at.join(" ")))
        .collect();
    rows.join(", ")
}

#[test]
fn drums_by_their_patterns() {
    let check = |style, swings, bar, expected: &str| {
        let score = over_changes(swings, "4/4", &CADENCE, 4);
        let performance = perform(&[&score], &take(Some(style))).unwrap();
        assert_eq!(drums(&performance, bar), expected, "{style:?}");
    };
    // ride on 1, 2, 2&, 3, 4, 4&; foot on 2 and 4; bass drum feathered
    let swing = "36: 0 1 2 3, 44: 1 3, 51: 0 1 5/3 2 3 11/3";
    check(Style::Swing, true, 0, swing);
    // asked for over even eighths it swings two to one
    check(Style::Swing, false, 0, swing);
    check(
        Style::TwoBeat,
        true,
        0,
        "36: 0 2, 38: 1 3, 44: 1 3, 51: 0 1 2 3",
    );
    check(
        Style::Shuffle,
        true,
        0,
        "36: 0 1 2 3, 38: 1 3, 51: 0 2/3 1 5/3 2 8/3 3 11/3",
    );
    // the clave over two bars
    check(
        Style::Bossa,
        true,
        0,
        "36: 0 3/2 2 7/2, 37: 0 3/2 3, 42: 0 1/2 1 3/2 2 5/2 3 7/2",
    );
    check(
        Style::Bossa,
        false,
        1,
        "36: 0 3/2 2 7/2, 37: 1 5/2, 42: 0 1/2 1 3/2 2 5/2 3 7/2",
    );
    check(
        Style::Funk,
        false,
        0,
        "36: 0 3/2 5/2, 38: 1 7/4 9/4 3, 42: 0 1/2 1 3/2 2 5/2 3 7/2",
    );
    check(Style::Ballad, true, 0, "36: 0, 44: 1 3, 51: 0 1 2 3 11/3");
    check(
        Style::EvenEighths,
        false,
        0,
        "36: 0 3/2, 37: 3, 44: 1 3, 51: 0 1/2 1 3/2 2 5/2 3 7/2",
    );
    check(Style::Plain, false, 0, "");
    check(Style::Drone, false, 0, "");
}

#[test]
fn a_section_ends_with_a_fill_and_the_track_with_a_stroke() {
    let bars: Vec<&str> = CADENCE.into_iter().chain(CADENCE).collect();
    let score = over_changes(true, "4/4", &bars, 4);
    let performance = perform(&[&score], &take(Some(Style::Swing))).unwrap();
    assert_eq!(
        drums(&performance, 3),
        "36: 0 1 2 3, 38: 3 11/3, 44: 1 3, 45: 15/4, 50: 11/3, 51: 0 1 5/3 2 3 11/3"
    );
    assert!(drums(&performance, 4).contains("49: 0"));
    assert_eq!(drums(&performance, 7), "36: 0, 49: 0");
    let last = performance.strikes(Role::Bass).last().unwrap();
    let (from, to) = (
        quarters(&performance, last.onset),
        quarters(&performance, last.end),
    );
    assert_eq!((from, to, last.key % 12), (28.into(), 32.into(), 2));
}

/// On each chord's first beat its root, whatever the style, within E 1 and
/// D 3, and never a leap over an octave.
#[test]
fn the_bass_has_every_root() {
    let score = over_changes(
        false,
        "4/4",
        &[
            "Dm7@r/4 G7@r/4",
            "C/E@r/8",
            "r/7 F7@r/1",
            "r/8",
            "N.C.@r/8",
            "Bb7@r/8",
        ],
        6,
    );
    let roots = [(0, 2), (2, 7), (4, 4), (12, 5), (20, 10)];
    for style in STYLES.into_iter().filter(|style| style.has_drums()) {
        if style == Style::Waltz {
            continue;
        }
        let performance = perform(&[&score], &take(Some(style))).unwrap();
        let bass = performance.strikes(Role::Bass);
        for (beat, class) in roots {
            let here = bass
                .iter()
                .find(|strike| quarters(&performance, strike.onset) == beat.into());
            assert_eq!(
                here.map(|strike| strike.key % 12),
                Some(class),
                "{style:?} {beat}"
            );
        }
        assert!(bass.iter().all(|strike| (28..=50).contains(&strike.key)));
        assert!(
            bass.windows(2)
                .all(|pair| pair[0].key.abs_diff(pair[1].key) <= 12)
        );
        let silent = bass.iter().any(|strike| {
            let at = quarters(&performance, strike.onset);
            at >= 16.into() && at < 20.into()
        });
        assert!(!silent, "{style:?} over N.C.");
    }
}

#[test]
fn a_walk_goes_on_every_beat_and_leads_into_roots() {
    let score = over_changes(true, "4/4", &["Dm7@r/8", "G7@r/8", "CM7@r/8", "r/8"], 4);
    let performance = perform(&[&score], &take(None)).unwrap();
    assert_eq!(
        onsets(&performance, Role::Bass),
        "0 1 2 3 4 5 6 7 8 9 10 11 12"
    );
    let keys: Vec<u8> = performance
        .strikes(Role::Bass)
        .iter()
        .map(|s| s.key)
        .collect();
    for change in [4, 8] {
        assert!(
            matches!(keys[change - 1].abs_diff(keys[change]), 1 | 5 | 7),
            "{keys:?}"
        );
    }
}

#[test]
fn the_first_of_several_choruses_goes_in_two() {
    let score = over_changes(true, "4/4", &["C7@r/8", "F7@r/8", "C7@r/8", "F7@r/8"], 2);
    let performance = perform(&[&score], &take(None)).unwrap();
    assert_eq!(onsets(&performance, Role::Bass), "0 2 4 6 8 9 10 11 12");
    // a sheet that comes round is a chorus again
    let score = over_changes(true, "4/4", &["C7@r/8", "F7@r/8"], 2);
    let twice = Take {
        times: 2,
        ..take(None)
    };
    let performance = perform(&[&score], &twice).unwrap();
    assert_eq!(onsets(&performance, Role::Bass), "0 2 4 6 8 9 10 11 12");
}

#[test]
fn chords_lie_between_their_bounds_and_answer_pushes() {
    let score = over_changes(
        true,
        "4/4",
        &["Dm7@C5/3 D5/5", "G7@r/1 F5/7", "CM7@r/8", "r/8"],
        4,
    );
    let performance = perform(&[&score], &take(None)).unwrap();
    let chords = performance.strikes(Role::Chords);
    assert!(!chords.is_empty());
    assert!(chords.iter().all(|strike| (50..=72).contains(&strike.key)));
    let heard = onsets(&performance, Role::Chords);
    let heard: Vec<&str> = heard.split(' ').collect();
    assert!(
        heard.contains(&"5/3") && heard.contains(&"14/3"),
        "{heard:?}"
    );
    // no roots
    let before = |at: i64| chords.iter().filter(move |s| s.onset / 480 < at as u32);
    assert!(before(3).all(|strike| strike.key % 12 != 2));
}

#[test]
fn a_waltz_in_three_and_plain_where_there_is_no_pattern() {
    let score = over_changes(true, "3/4", &["C7@r/6", "F7@r/6", "C7@r/6"], 3);
    let performance = perform(&[&score], &take(None)).unwrap();
    assert_eq!(onsets(&performance, Role::Bass), "0 1 2 3 4 5 6");
    let score = over_changes(true, "5/4", &["C7@r/10", "F7@r/10"], 2);
    let performance = perform(&[&score], &take(None)).unwrap();
    assert_eq!(onsets(&performance, Role::Bass), "0 5");
    assert_eq!(performance.strikes(Role::Drums), []);
}

#[test]
fn a_drone_holds_the_tonic_and_a_perfect_fifth() {
    let check = |scale: &str, expected: &str| {
        let mut score = sheet(2, "4/4", &["C4/4 D4/4", "E4/8"]);
        grounded(&mut score, None);
        for note in &mut score.part.measures.iter_mut().flat_map(|m| &mut m.elements) {
            if let score::Element::Note(note) = note {
                let above = note.pitch.midi() - 60;
                let number = [1, 0, 2, 0, 3][above as usize];
                note.origin.degree = theory::Degree::new(number, 0);
            }
        }
        score.exercises[0].scale = scale.split(' ').map(|d| d.parse().unwrap()).collect();
        let performance = perform(&[&score], &take(None)).unwrap();
        assert_eq!(played(&performance, Role::Drone), expected, "{scale}");
        assert_eq!(performance.strikes(Role::Chords), []);
    };
    check("1 2 3 4 5 6 7", "36 0 8, 48 0 8, 55 0 8");
    check("1 2 3 #4 #5 b7", "36 0 8, 48 0 8");
}

#[test]
fn the_key_is_given_in_the_count_in() {
    let score = over_changes(true, "4/4", &CADENCE, 4);
    let counted = Take {
        count_in: 2,
        ..take(None)
    };
    let performance = perform(&[&score], &counted).unwrap();
    assert!(
        played(&performance, Role::Chords).starts_with("48 0 4, 52 0 4, 55 0 4, "),
        "{}",
        played(&performance, Role::Chords)
    );
    let alone = Take {
        tracks: Tracks::LINE_ALONE,
        ..counted
    };
    let performance = perform(&[&score], &alone).unwrap();
    assert_eq!(performance.strikes(Role::Chords), []);
}

#[test]
fn clicks_as_they_are_asked_for() {
    let check = |style, click, expected: &str| {
        let score = over_changes(true, "4/4", &["C7@r/8", "F7@r/8"], 2);
        let clicked = Take {
            click,
            ..take(style)
        };
        let performance = perform(&[&score], &clicked).unwrap();
        assert_eq!(
            onsets(&performance, Role::Click),
            expected,
            "{style:?} {click:?}"
        );
    };
    // unsaid, where there are no drums
    check(None, None, "");
    check(Some(Style::Plain), None, "0 1 2 3 4 5 6 7");
    check(None, Some(Click::AllBeats), "0 1 2 3 4 5 6 7");
    check(None, Some(Click::TwoAndFour), "1 3 5 7");
    check(None, Some(Click::BeatOne), "0 4");
    check(Some(Style::Plain), Some(Click::None), "");
}

#[test]
fn a_level_of_none_is_silence() {
    let score = over_changes(true, "4/4", &CADENCE, 4);
    let quiet = Take {
        levels: Levels {
            drums: 0,
            chords: 0,
            ..Levels::default()
        },
        ..take(None)
    };
    let roles: Vec<Role> = perform(&[&score], &quiet)
        .unwrap()
        .roles
        .iter()
        .map(|(role, _)| *role)
        .collect();
    assert_eq!(roles, [Role::Bass]);
}

/// What is played in an answer is what was played in its call.
#[test]
fn the_band_goes_on_under_an_answer() {
    let score = over_changes(true, "4/4", &["C7@C5/8", "F7@+F5/8"], 2);
    let answer = Take {
        answer: true,
        ..take(Some(Style::Swing))
    };
    let performance = perform(&[&score], &answer).unwrap();
    let bar = |number: u32| -> Vec<(u32, u8)> {
        let length = 4 * u32::from(performance.per_quarter);
        let here = |strike: &&crate::Strike| strike.onset / length == number;
        let strikes = performance.strikes(Role::Bass).iter().filter(here);
        strikes
            .map(|strike| (strike.onset - number * length, strike.key))
            .collect()
    };
    assert_eq!((bar(0), bar(2)), (bar(1), bar(3)));
}
