//! Mistakes in scales and figures.

use super::*;

#[test]
fn scales() {
    let rows = [
        "",
        "[scale]",
        "[scale]\nname = \"dorain\"",
        "[scale]\nname = \"no such thing at all\"",
        "[scale]\nname = \"dorian\"\ndegrees = \"1 2 3 4 5 6 7\"",
        "[scale]\ndegrees = \"1 x 3\"",
        "[scale]\ndegrees = \"2 3 4 5\"",
        "[scale]\ndegrees = \"1 3 2\"",
        "[scale]\ndegrees = \"\"",
        "[scale]\nname = \"dorian\"\nchord = \"Cm7\"",
        "[scale]\nname = \"dorian\"\nchord = \"m8\"",
        "[[scale]]\nname = \"dorian\"\n[[scale]]\nname = \"Dorian\"",
        "[[scale]]\nname = \"dorian\"\n[[scale]]\ndegrees = \"1 2 3\"",
        "[scale]\nmane = \"dorian\"",
        "[scale]\nname = [\"dorian\"]",
        "[scael]\nname = \"dorian\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", FIGURE));
}

#[test]
fn figures() {
    let rows = [
        "",
        "[figure]",
        "[figure]\nmoves = \"\"",
        "[figure]\nmoves = \"start,, step up\"",
        "[figure]\nmoves = \"start step up\"",
        "[figure]\nmoves = \"start, up 3, hop\"",
        "[figure]\nmoves = \"step up, start\"",
        "[figure]\nmoves = \"start, start\"",
        "[figure]\nmoves = \"from below\"",
        "[figure]\nmoves = \"start, from below, repeat\"",
        "[figure]\nmoves = \"start on 2 , step up\"\ndegrees = \"1 2\"",
        "[figure]\nmoves = \"start on 3, step up\"",
        "[figure]\nmoves = \"start on b9, step up\"",
        "[figure]\nmoves = \"start, up 99 steps, up 99 steps\"",
        "[figure]\nmoves = \"start, octave up, \\t hop\"",
        "[figure]\ndegrees = \"1 2 3\"",
        "[figure]\nmoves = \"start, step up\"\ncount = \"1 e\"\nnumbers = \"eighths\"",
        "[figure]\nmoves = \"start, step up\"\ncount = \"1 e\"\nnumbers = \"quarters\"",
        "[figure]\nmoves = \"start, step up\"\nnumbers = \"eighths\"",
        "[figure]\ndegrees = \"1 2 low\"",
        "[figure]\ndegrees = \"1 2 q\"",
        "[figure]\nrungs = \"1 b2\"",
        "[figure]\nrungs = \"1 high high high high high high high high high high high high high high high high high high 2\"",
        "[figure]\nmoves = 5",
        "[figure]\nmoves = \"start\"\nmeter = 4",
        "[figure]\nmoves = \"start, step up\"\ncount = \"1 2 3\"",
        "[figure]\nmoves = \"start, step up, step up\"\ncount = \"1 2 (3)\"",
        "[figure]\nmoves = \"start, rest, step up\"\ncount = \"1 2 3\"",
        "[figure]\nmoves = \"start, step up, rest\"\ncount = \"1 2\"",
        "[figure]\nmoves = \"start, enclose\"\ncount = \"1 2\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start, rest\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start, hop\"",
        "[figure]\nmoves = \"start, step up\"\nflipped = \"start, step down, step down\"\ncount = \"1 2\"",
        "[figure]\nmoves = \"start, step up\"\ncount = 12",
        "[[figure]]\nname = \"a\"\nmoves = \"start\"\n[[figure]]\nname = \"A\"\nmoves = \"start\"",
        "[[figure]]\nname = \"a\"\nmoves = \"start\"\n[[figure]]\nmoves = \"start\"",
        "[figure]\nmove = \"start, hop\"",
        "[figure]\nmoves = \"start\"\nkind = \"scale\"",
    ];
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", SCALE));
}

/// The count's and the meter's own mistakes stand at their words; what is said
/// of them is the rhythm crate's to test.
#[test]
fn counts() {
    let rows = [
        "count = \"1 2 5\"",
        "count = \"3 1 2\"",
        "count = \"1 1 2\"",
        "count = \"1 und 2\"",
        "count = \"1 (2 3\"",
        "count = \"1 2) 3\"",
        "count = \"-1 2 3\"",
        "count = \"1 (2) -3 4\"",
        "count = \"1 (-2) 3 4\"",
        "count = \"1 2 3-\"",
        "count = \"1-2 3\"",
        "count = \"\"",
        "count = \"\\t1 \\u0032 five\"",
        "count = \"1 2 3\"\nlength = \"2 beats\"",
        "count = \"1 2 3\"\nlength = \"two\"",
        "count = \"1 2 3\"\nlength = 2",
        "length = \"1 beat\"",
        "length = \"0 bars\"",
        "meter = \"four\"",
        "meter = \"5/4 = 2+2\"\ncount = \"1 2 3\"",
        "meter = \"4/5\"\ncount = \"1 2 3\"",
        "count = \"1 2 9\"\nmeter = \"7/8\"\nflipped = \"start, down 4\"",
    ];
    let told = told(&rows, &format!("title = \"A\"\n{SCALE}{FIGURE}"), "");
    let places: Vec<&str> = told
        .lines()
        .map(|line| line.split(" — ").next().unwrap_or(line))
        .collect();
    insta::assert_snapshot!(places.join("\n"));
}

/// `unflipped`, slurs into the next statement, and what becomes of notes.
#[test]
fn notes_of_a_figure() {
    let figure = |more: &str| {
        format!(
            "[figure]\nmoves = \"start, step up, from below, skip up, step down\"\ncount = \"1 & 2 & 3\"\n{more}"
        )
    };
    let rows = [
        "unflipped = \"last\"",
        "unflipped = \"4-5, 2\"",
        "unflipped = \"1\"",
        "unflipped = \"3\"",
        "unflipped = \"6\"",
        "unflipped = \"5-4\"",
        "unflipped = \"final\"",
        "unflipped = \"\"",
        "unflipped = 5",
        "unflipped = \"last\"\nflipped = \"start, step down, from above, skip down, step up\"",
        "slur = \"1-2 5-next\"",
        "slur = \"5-next 1-2\"",
        "slur = \"next-2\"",
        "slur = \"6-next\"",
        "ghost = \"2\"\nfall = \"5\"\nscoop = \"1\"\ndoit = \"4\"",
        "fall = \"5\"\ndoit = \"5\"",
        "ghost = \"6\"",
    ]
    .map(figure);
    let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
    insta::assert_snapshot!(told(&rows, &format!("title = \"A\"\n{SCALE}"), ""));
}

/// Marks hold on to notes that are there.
#[test]
fn marks() {
    let rows = [
        "slur = \"2-3 4-5\"",
        "slur = \"3-2\"",
        "slur = \"1-3 2-3\"",
        "slur = \"1–2, 3\"",
        "slur = \"1-2\"\naccent = \"\"",
        "accent = 1",
        "accent = \"0 one 1 1\"",
        "staccato = \"1, 2, 3, 4\"",
        "tenuto = \"4\"",
        "acent = \"1\"",
    ];
    let figure = "title = \"A\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up, rest, step up\"\ncount = \"1 2 (3) 4\"\n";
    insta::assert_snapshot!(told(&rows, figure, ""));
}

/// An ornament at the end needs something to lead to.
#[test]
fn trailing_ornaments() {
    let rows = [
        "[[exercise]]\nkind = \"sequence\"",
        "[[exercise]]\nkind = \"sequence\"\nending = \"none\"",
        "[[exercise]]\nkind = \"figure\"",
        "[[exercise]]\nkind = \"figure\"\ncoming_down = \"reversed\"",
    ];
    let figure = "[figure]\nmoves = \"start, step up, from below\"\n";
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{figure}")));
    let figure = "[figure]\nmoves = \"enclose, start, step up\"\n";
    insta::assert_snapshot!(told(&rows, "title = \"A\"\n", &format!("{SCALE}{figure}")));
}

/// Degrees are looked for on the scale that an exercise plays.
#[test]
fn degrees_on_several_scales() {
    let text = "title = \"A\"\n[[scale]]\nname = \"dorian\"\n[[scale]]\nname = \"major pentatonic\"\n\
        [figure]\ndegrees = \"1 3 4\"\n[[exercise]]\nkind = \"sequence\"\n\
        [[exercise]]\nkind = \"sequence\"\nscale = \"major pentatonic\"\n";
    insta::assert_snapshot!(rendered(text));
}
