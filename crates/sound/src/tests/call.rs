//! Calls and the silence after them.

use super::{onsets, quarters, sheet};
use crate::{Role, Take, perform};

/// Onsets of the line and of the bass, and the end.
fn check(bars: &[&str], line: &str, bass: &str, end: i64) {
    let take = Take {
        count_in: 0,
        answer: true,
        ..Take::default()
    };
    let performance = perform(&[&sheet(2, "4/4", bars)], &take).unwrap();
    assert_eq!(onsets(&performance, Role::Line), line, "{bars:?}");
    assert_eq!(onsets(&performance, Role::Bass), bass, "{bars:?}");
    assert_eq!(
        quarters(&performance, performance.end),
        end.into(),
        "{bars:?}"
    );
}

#[test]
fn a_statement_of_whole_bars_is_a_call() {
    check(&["C@C5/8", "+D5/8"], "0 8", "0 4 8 12", 16);
    // two bars each
    check(&["C5/8", "D5/8", "+E5/8", "F5/8"], "0 4 16 20", "", 32);
    // one that begins with a rest begins at its bar line
    check(&["r/1 C5/7", "r/1 +D5/7"], "1/2 17/2", "", 16);
}

#[test]
fn short_statements_are_called_together() {
    check(&["C5/4 +D5/4", "+E5/4 +F5/4"], "0 2 8 10", "", 16);
    // three beats each over three bars
    check(
        &["C5/6 +D5/2", "~D5/4 +E5/4", "~E5/2 +F5/6", "+G5/8", "A5/8"],
        "0 3 6 9 24 28",
        "",
        40,
    );
}

#[test]
fn a_closing_root_goes_with_the_statement_before() {
    check(&["C5/4 D5/4", "+D5/4 E5/4", "+C5/8"], "0 2 8 10 12", "", 24);
}

#[test]
fn exercises_end_a_call() {
    check(&["C5/4 +D5/4", "++E5/8"], "0 2 8", "", 16);
    // half a bar is left at the exercise's end
    check(&["C5/8", "+D5/4 r/4", "++E5/8"], "0 8 16", "", 24);
}

#[test]
fn pickups_belong_to_what_they_lead_to() {
    // each statement leads in with the last beat of the bar before
    check(&["^C5/2", "D5/6 +C5/2", "E5/8"], "0 1 8 9", "", 18);
}

#[test]
fn a_sheet_without_notes_is_one_call() {
    check(&["C@r/8", "r/8"], "", "0 4 8 12", 16);
}
