//! Lengths, ties, meters and pickups.

use crate::made::{check, chord, note, rest, score};

#[test]
fn lengths_of_notes() {
    let phrase =
        |measures: &[&str], expected: &[&str]| check(&score(measures), "phrase written", expected);
    let typed = |duration: &str, more: &str| {
        format!("<note><pitch><step>C</step><octave>5</octave></pitch>{duration}{more}</note>")
    };
    // Septuplets rounded to 480 parts.
    let seven = "<time-modification><actual-notes>7</actual-notes><normal-notes>4</normal-notes></time-modification>";
    let mut septuplet = "<attributes><divisions>480</divisions></attributes>".to_owned();
    for duration in [69, 68, 69, 68, 69, 68, 69] {
        septuplet += &typed(
            &format!("<duration>{duration}</duration>"),
            &format!("<type>16th</type>{seven}"),
        );
    }
    septuplet += &rest(1440);
    phrase(
        &[&septuplet],
        &[
            "notes = 0+1/7 C5, 1/7+1/7 C5, 2/7+1/7 C5, 3/7+1/7 C5, 4/7+1/7 C5, 5/7+1/7 C5, 6/7+1/7 C5, 1+3 -",
            "warning = measure 1, beat 1, <note>: the duration is rounded: the written value of 1/7 quarters was taken",
        ],
    );
    phrase(
        &[&format!(
            "{}{}",
            typed("<duration>6</duration>", "<type>quarter</type>"),
            rest(10)
        )],
        &[
            "notes = 0+3/2 C5, 3/2+5/2 -",
            "warning = measure 1, beat 1, <note>: the note lasts 3/2 quarters by its duration but 1 as it is written: the duration was taken",
        ],
    );
    phrase(
        &[&format!(
            "{}{}",
            typed("", "<type>quarter</type><dot/>"),
            rest(10)
        )],
        &[
            "notes = 0+3/2 C5, 3/2+5/2 -",
            "warning = measure 1, beat 1, <note>: the note has no duration: its written value was taken",
        ],
    );
    phrase(
        &[&format!(
            "{}{}",
            typed("<duration>2.5</duration>", ""),
            rest(0).replace('0', "13.5")
        )],
        &["notes = 0+5/8 C5, 5/8+27/8 -"],
    );
    phrase(
        &[&typed("", "")],
        &["error = measure 1, beat 1, <note>: the note says not how long it is"],
    );
    let no_divisions = score(&[&typed("<duration>1</duration>", "<type>whole</type>")])
        .replace("<divisions>4</divisions>", "");
    check(
        &no_divisions,
        "phrase written",
        &[
            "notes = 0+4 C5",
            "warning = measure 1, beat 1, <note>: no divisions are given: written values were taken, else quarters",
        ],
    );
    // A note that waits for the rest of its bar by going forward.
    phrase(
        &[
            &format!("{}<forward><duration>8</duration></forward>", note("C5", 8)),
            &note("D5", 16),
        ],
        &["notes = 0+2 C5, 2+2 -, 4+4 D5"],
    );
    phrase(
        &[&note("C5", 16), &note("D5", 8), &note("E5", 16)],
        &[
            "notes = 0+4 C5, 4+2 D5, 6+2 -, 8+4 E5",
            "warning = measure 2: the bar holds 2 of its 4 beats: the rest was taken as silence",
        ],
    );
    phrase(
        &[&note("C5", 16), &note("D5", 20)],
        &[
            "notes = 0+4 C5, 4+5 D5",
            "warning = measure 2: the bar holds 5 beats, more than its meter's 4",
        ],
    );
}

#[test]
fn pickups_and_halves() {
    let hidden = rest(12).replace("<note>", "<note print-object=\"no\">");
    let xml = score(&[
        &format!("{hidden}{}{}", chord("G", "dominant", ""), note("G4", 4)),
        &note("C5", 16),
    ]);
    let warning = "warning = measure 1: the hidden rests before the first note were taken for the room before a pickup";
    check(
        &xml,
        "phrase written",
        &[
            "pickup = 1",
            "notes = -1+1 G4, 0+4 C5",
            "chords = -1 G7",
            warning,
        ],
    );
    check(
        &xml,
        "changes written",
        &["bar 1 4/4 from 3 length 1: 3 G7", "bar 2 4/4:", warning],
    );
    // A bar cut in two by a repeat: N and XN.
    let back = "<barline location=\"right\"><repeat direction=\"backward\"/></barline>";
    let xml = score(&[
        &note("C5", 16),
        &format!("2: {}{}{back}", chord("F", "major", ""), note("D5", 8)),
        &format!("X2: {}{}", chord("G", "major", ""), note("E5", 8)),
        &format!("3: {}", note("F5", 16)),
    ]);
    check(
        &xml,
        "changes written",
        &[
            "section x2",
            "bar 1 4/4:",
            "bar 2 4/4 from 0 length 2: 0 F",
            "section x1",
            "bar X2 4/4 from 2 length 2: 2 G",
            "bar 3 4/4:",
        ],
    );
    check(
        &xml,
        "phrase written 2",
        &["notes = 0+2 D5, 2+2 E5", "chords = 0 F, 2 G"],
    );
}

#[test]
fn ties() {
    let tied = |pitch: &str, sixteenths: u32, ties: &[&str]| {
        let ties: String = ties
            .iter()
            .map(|kind| format!("<tie type=\"{kind}\"/>"))
            .collect();
        note(pitch, sixteenths).replace("</note>", &format!("{ties}</note>"))
    };
    let phrase =
        |measures: &[&str], expected: &[&str]| check(&score(measures), "phrase written", expected);
    let one_end = "warning = measure 2, <note>: a tie has only one end: the two notes were joined";
    phrase(
        &[&tied("C5", 16, &["start"]), &note("C5", 16)],
        &["notes = 0+8 C5", one_end],
    );
    phrase(
        &[&note("C5", 16), &tied("C5", 16, &["stop"])],
        &["notes = 0+8 C5", one_end],
    );
    phrase(
        &[
            &tied("C5", 16, &["start"]),
            &tied("C5", 16, &["start", "stop"]),
            &tied("C5", 16, &["stop"]),
        ],
        &["notes = 0+12 C5"],
    );
    phrase(
        &[&tied("C5", 16, &["start"]), &note("D5", 16)],
        &[
            "notes = 0+4 C5, 4+4 D5",
            "warning = measure 2, <note>: a tie leads to no note of the same pitch: it was left out",
        ],
    );
    phrase(
        &[&note("D5", 16), &tied("C5", 16, &["stop"])],
        &[
            "notes = 0+4 D5, 4+4 C5",
            "warning = measure 2, <note>: a tie comes from no note of the same pitch: it was left out",
        ],
    );
}

#[test]
fn meters() {
    let time = |inside: &str| {
        score(&[&note("C5", 20)]).replace(
            "<time><beats>4</beats><beat-type>4</beat-type></time>",
            inside,
        )
    };
    let changes =
        |inside: &str, expected: &[&str]| check(&time(inside), "changes written", expected);
    let none = "warning = there are no chord symbols";
    changes(
        "<time><beats>2+3</beats><beat-type>4</beat-type></time>",
        &["bar 1 5/4:", none],
    );
    changes(
        "<time><beats>3+2</beats><beat-type>4</beat-type></time>",
        &["bar 1 5/4 = 3+2:", none],
    );
    changes(
        "<time><beats>2</beats><beat-type>4</beat-type><beats>6</beats><beat-type>8</beat-type></time>",
        &[
            "bar 1 10/8 = 4+6:",
            none,
            "warning = measure 1, beat 1, <time>: “2/4 + 6/8” was taken as 10/8",
        ],
    );
    changes(
        "",
        &[
            "bar 1 5/4:",
            none,
            "warning = measure 1: no meter is given: 5/4 was taken",
        ],
    );
    changes(
        "<time><beats>4</beats><beat-type>5</beat-type></time>",
        &[
            "bar 1 5/4:",
            "warning = there are no chord symbols",
            "warning = measure 1, beat 1, <time>: “4/5” is no meter: it was left out",
            "warning = measure 1: no meter is given: 5/4 was taken",
        ],
    );
}
