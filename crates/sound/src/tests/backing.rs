//! Chords and bass: when they are struck, and what is silent.

use super::{onsets, played, sheet, swinging};
use crate::{Role, Take, perform};

fn check(bars: &[&str], chords: &str, bass: &str) {
    let take = Take {
        count_in: 0,
        ..Take::default()
    };
    let performance = perform(&[&sheet(2, "4/4", bars)], &take).unwrap();
    assert_eq!(played(&performance, Role::Chords), chords, "{bars:?}");
    assert_eq!(played(&performance, Role::Bass), bass, "{bars:?}");
}

#[test]
fn struck_where_they_stand_and_on_bar_lines() {
    check(
        &["C@C5/8", "C5/8"],
        "60 0 4, 64 0 4, 67 0 4, 60 4 8, 64 4 8, 67 4 8",
        "48 0 4, 48 4 8",
    );
    check(
        &["r/4 C@C5/2 r/2", "F/A@C5/8"],
        "60 2 4, 64 2 4, 67 2 4, 60 4 8, 65 4 8, 69 4 8",
        "48 2 4, 45 4 8",
    );
    // one that comes an eighth early is not struck again
    check(
        &["r/7 C@C5/1", "r/8"],
        "60 7/2 8, 64 7/2 8, 67 7/2 8",
        "48 7/2 8",
    );
}

#[test]
fn no_chord_is_silent() {
    check(&["C5/8"], "", "");
    check(
        &["C@C5/4 N.C.@C5/4", "C5/8"],
        "60 0 2, 64 0 2, 67 0 2",
        "48 0 2",
    );
}

#[test]
fn chords_sound_where_the_part_sounds() {
    let mut score = sheet(1, "4/4", &["D7@D5/4"]);
    score.part.transposition = theory_transposition();
    let performance = perform(&[&score], &Take::default()).unwrap();
    let classes: Vec<u8> = performance
        .strikes(Role::Chords)
        .iter()
        .map(|strike| strike.key % 12)
        .collect();
    // written D7 on the alto saxophone is F7: A C E♭ F in some order
    assert_eq!(performance.strikes(Role::Bass)[0].key % 12, 5);
    assert!(
        [5, 9, 0, 3].iter().all(|class| classes.contains(class)),
        "{classes:?}"
    );
}

fn theory_transposition() -> Option<score::Transposition> {
    score::Transposition::of(theory::Interval::from_steps(-5, -9))
}

#[test]
fn chords_swing_with_the_line() {
    let score = swinging(2, "4/4", &["C@C5/3 G@D5/5"]);
    let take = Take {
        count_in: 0,
        ..Take::default()
    };
    let performance = perform(&[&score], &take).unwrap();
    assert_eq!(onsets(&performance, Role::Bass), "0 5/3");
    assert_eq!(onsets(&performance, Role::Line), "0 5/3");
}
