//! Files that musicians had, each once wrong: what a musician expects of the
//! lesson, as lines of its text.

use std::fs;

use lift::{LiftedLesson, lift};
use reader::Selection;

use crate::made::{fixture, gives_back};

/// A file of `fixtures/notation` lifted, and proven; or why not.
fn lifted(name: &str, bars: &str) -> Result<LiftedLesson, String> {
    let bytes = fs::read(fixture("notation").join(format!("{name}.musicxml"))).unwrap();
    let phrase = reader::phrase(&bytes, &Selection::default(), bars.parse().ok()).unwrap();
    let lifted = lift(&phrase.value, None).map_err(|error| error.to_string())?;
    let _ = gives_back(&phrase.value, &lifted);
    let renamed = |remark: &String| remark.contains("named otherwise");
    assert!(!lifted.remarks.iter().any(renamed), "{name}");
    Ok(lifted)
}

fn check(name: &str, bars: &str, expected: &[&str]) {
    let lesson = lifted(name, bars).unwrap();
    for line in expected {
        assert!(
            lesson.text.lines().any(|own| own == *line),
            "{name}: no line {line}\n{}",
            lesson.text
        );
    }
}

#[test]
fn a_bar_in_two_pieces_is_one() {
    let all = "count = \"1 2 3 4 | 1 2 3 4 | 1 2 3 4\"";
    for name in ["bar_cut_in_two", "bar_cut_unnumbered"] {
        check(name, "", &["from = \"C\"", "name = \"major\"", all]);
        check(name, "2", &["count = \"1 2 3 4\""]);
    }
}

#[test]
fn keys_as_a_musician_hears_them() {
    check(
        "mode_dorian",
        "",
        &[
            "from = \"D\"",
            "name = \"dorian\"",
            "moves = \"start on 5, step down, step down, step down, step down\"",
        ],
    );
    check(
        "neighbour_note",
        "",
        &[
            "from = \"C\"",
            "name = \"major\"",
            "moves = \"start on 5, from below, repeat, skip down, skip down\"",
        ],
    );
    // F natural and F sharp, both as they are called.
    check(
        "borrowed_by_name",
        "",
        &[
            "from = \"G\"",
            "degrees = \"1 2 3 4 5 6 b7 7\"",
            "# Major with b7 borrowed into it.",
        ],
    );
}

#[test]
fn a_detail_costs_only_itself() {
    check("meter_beyond_reading", "1", &["count = \"1 2 3 4\""]);
    check("bar_too_long", "3", &["count = \"1 2 3 4\""]);
    check("slashed_heads", "", &["count = \"1 2 3 4\""]);
    check("bare_ampersand", "", &["title = \"Lifted phrase\""]);
    check("steering_title", "", &["title = \"Waltz fdp.exe\""]);
    check("unprintable_title", "", &["title = \"Lifted phrase\""]);
    check("two_staves", "", &["moves = \"start on 3, skip up\""]);
}

#[test]
fn too_many_rests_are_told() {
    assert_eq!(
        lifted("rests_between", "").unwrap_err(),
        "the phrase has 132 notes and 131 rests among them, but a figure has 256 moves at most: \
         ask for fewer bars"
    );
    let _ = lifted("rests_between", "1-8").unwrap();
}

/// Chords of several roots go along, note for note; on a scale that is asked
/// for they stay above the figure, and no one of them stands for all.
#[test]
fn chords_over_a_phrase_are_kept() {
    check(
        "dal_segno_al_coda",
        "1-3",
        &["literal = true", "chords = \"| C | Dm | Em |\""],
    );
}
