//! What cannot be read or is not followed, and where it stands.

use crate::made::{check, chord, note, score};

#[test]
fn what_cannot_be_read_says_where() {
    let error = |xml: &str, asked: &str, expected: &str| {
        check(xml, asked, &[&format!("error = {expected}")])
    };
    let held = note("C5", 8);
    let xml = score(&[
        &note("C5", 16),
        &format!("{held}{}{held}", chord("H", "major", "")),
    ]);
    check(
        &xml,
        "changes written",
        &[
            "bar 1 4/4:",
            "bar 2 4/4:",
            "warning = measure 2, beat 3, <root-step>: a chord was left out: “H” is no letter from A to G",
        ],
    );
    check(
        &xml,
        "phrase written 2",
        &[
            "notes = 0+2 C5, 2+2 C5",
            "warning = measure 2, beat 3, <root-step>: a chord was left out: “H” is no letter from A to G",
        ],
    );
    let xml = score(&[&note("C5", 16), &format!("{held}{}", note("X5", 8))]);
    error(
        &xml,
        "phrase written",
        "measure 2, beat 3, <step>: “X” is no letter from A to G",
    );
    check(
        &xml,
        "changes written",
        &[
            "bar 1 4/4:",
            "bar 2 4/4:",
            "warning = there are no chord symbols",
        ],
    );
    check(&xml, "phrase written 1", &["notes = 0+4 C5"]);
    let duration = score(&[&note("C5", 16), &held.replace(">8<", ">eight<")]);
    error(
        &duration,
        "changes written",
        "measure 2, beat 1, <duration>: “eight” is no duration",
    );
    // Bars before it are read.
    check(&duration, "phrase written 1", &["notes = 0+4 C5"]);
    error(&score(&[]), "changes written", "the part has no measures");
    error(
        "<score-partwise/>",
        "changes written",
        "the score has no parts",
    );
    error(
        "<html></html>",
        "changes written",
        "line 1: this is no MusicXML score: its outermost element is “html”, not score-partwise or score-timewise",
    );
    error(
        "MThd",
        "changes written",
        "this is no MusicXML: it doesn't begin with <",
    );
    error(
        "",
        "changes written",
        "this is no MusicXML: it doesn't begin with <",
    );
    error(
        "<score-partwise>\n<part>\n</score-partwise>",
        "changes written",
        "line 3: </score-partwise> stands where </part> should",
    );
}

#[test]
fn jumps_and_marks() {
    let words = "<direction><direction-type><words>D.C. al Fine</words></direction-type><sound dacapo=\"yes\"/></direction>";
    check(
        &score(&[&format!(
            "{}{}{words}",
            chord("C", "major", ""),
            note("C5", 16)
        )]),
        "changes written",
        &[
            "section x1",
            "bar 1 4/4: 0 C",
            "section x1",
            "bar 1 4/4: 0 C",
        ],
    );
    let plain = "<direction><direction-type><words>fine tone, decrescendo</words></direction-type></direction>";
    check(
        &score(&[&format!(
            "{plain}{}{}",
            chord("C", "major", ""),
            note("C5", 16)
        )]),
        "changes written",
        &["bar 1 4/4: 0 C"],
    );
    let mark = |name: &str| {
        format!(
            "<direction><direction-type><rehearsal>{name}</rehearsal></direction-type></direction>"
        )
    };
    let bar = |mark: &str| format!("{mark}{}{}", chord("C", "major", ""), note("C5", 16));
    check(
        &score(&[&bar(&mark("A")), &bar(""), &bar(&mark("B"))]),
        "changes written",
        &[
            "section A x1",
            "bar 1 4/4: 0 C",
            "bar 2 4/4: 0 C",
            "section B x1",
            "bar 3 4/4: 0 C",
        ],
    );
}
