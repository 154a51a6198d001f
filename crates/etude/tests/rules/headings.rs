//! What is said over exercises: sentences a teacher would say, true of the
//! sheet they stand on.

use score::Direction;

use crate::support::sheet;

const FIGURE: &str = "[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n";

/// The words over the exercises of a lesson's first sheet, in a range.
fn headings(range: (&str, &str), text: &str) -> Vec<String> {
    let (low, high) = range;
    let text = format!(
        "{text}\n[[player]]\ninstrument = \"piano right hand\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
    );
    let keys = if text.contains("[keys]") {
        ""
    } else {
        "[keys]\nonly = [\"C\"]\n"
    };
    let sheet = sheet(&format!("{keys}{text}"), 0).unwrap();
    let over = sheet.score.part.measures.iter();
    over.flat_map(|measure| &measure.directions)
        .filter_map(|direction| match direction {
            Direction::Heading(words) => Some(words.to_string()),
            _ => None,
        })
        .collect()
}

const WIDE: (&str, &str) = ("F3", "C7");

/// One exercise of a lesson on lydian dominant.
fn check_in(range: (&str, &str), exercise: &str, expected: &str) {
    let text = format!("[scale]\nname = \"lydian dominant\"\n{FIGURE}[[exercise]]\n{exercise}");
    assert_eq!(headings(range, &text), [expected], "{exercise}");
}

fn check(exercise: &str, expected: &str) {
    check_in(WIDE, exercise, expected);
}

#[test]
fn scales() {
    check("kind = \"scale\"", "Lydian dominant over the whole horn");
    check(
        "kind = \"scale\"\ndirection = \"up\"",
        "Lydian dominant up the whole horn",
    );
    check(
        "kind = \"scale\"\nspan = \"two octaves\"",
        "Lydian dominant, two octaves up and down",
    );
    check(
        "kind = \"scale\"\nspan = \"one octave\"\ndirection = \"down\"",
        "Lydian dominant, one octave down",
    );
    // What was asked and doesn't fit isn't named.
    check_in(
        ("C4", "B5"),
        "kind = \"scale\"\nspan = \"two octaves\"",
        "Lydian dominant, one octave up and down",
    );
    check_in(
        ("D4", "D5"),
        "kind = \"scale\"\nspan = \"one octave\"",
        "Lydian dominant over the whole horn",
    );
}

#[test]
fn figures() {
    check("kind = \"figure\"", "Lydian dominant: the figure");
    check(
        "kind = \"figure\"\ndirection = \"up and down\"",
        "Lydian dominant: the figure, and flipped from the root above",
    );
    check(
        "kind = \"figure\"\ndirection = \"down\"\ncoming_down = \"reversed\"",
        "Lydian dominant: the figure reversed from the root above",
    );
    check(
        "kind = \"figure\"\ndirection = \"up and down\"\ncoming_down = \"as it is\"",
        "Lydian dominant: the figure, and again from the root above",
    );
    // The form coming down would go under C4.
    check_in(
        ("C4", "B4"),
        "kind = \"figure\"\ndirection = \"up and down\"",
        "Lydian dominant: the figure",
    );
}

#[test]
fn sequences() {
    check(
        "kind = \"sequence\"",
        "Lydian dominant: the figure on every degree, and flipped coming down",
    );
    check(
        "kind = \"sequence\"\nspan = \"two octaves\"\ncoming_down = \"reversed\"",
        "Lydian dominant: the figure on every degree of two octaves, and reversed coming down",
    );
    check(
        "kind = \"sequence\"\nspan = \"whole horn\"\ncoming_down = \"as it is\"",
        "Lydian dominant: the figure on every degree over the whole horn, up and down",
    );
    check(
        "kind = \"sequence\"\ndirection = \"up\"",
        "Lydian dominant: the figure on every degree, going up",
    );
    check(
        "kind = \"sequence\"\ndirection = \"down\"",
        "Lydian dominant: the figure flipped on every degree, coming down",
    );
    check(
        "kind = \"sequence\"\nvariant = \"begun on note 3\"",
        "Lydian dominant: the figure, begun on note 3, on every degree, and flipped coming down",
    );
    for (variant, said) in [
        ("as it is", ""),
        ("order 4 3 1 2", ", its notes in the order 4 3 1 2"),
        ("1 eighth later", ", an eighth later"),
        ("half values", ", twice as fast"),
        ("from below on 2", ", with note 2 led up to from below"),
        ("enclosed on 1 3", ", with notes 1 and 3 enclosed"),
    ] {
        check(
            &format!("kind = \"figure\"\nvariant = \"{variant}\""),
            &format!("Lydian dominant: the figure{said}"),
        );
    }
    check(
        "kind = \"trade\"\nwritten = 2\nslashes = 2",
        "Lydian dominant: the figure on every degree, and flipped coming down, with 2 bars to answer in",
    );
}

#[test]
fn what_is_cut_short() {
    // Five statements up and one down.
    check_in(
        ("C4", "D5"),
        "kind = \"sequence\"",
        "Lydian dominant: the figure on each degree that fits, and flipped coming down",
    );
    // Three up, and none down.
    check_in(
        ("C4", "B4"),
        "kind = \"sequence\"",
        "Lydian dominant: the figure on each degree that fits, going up",
    );
    // One bar is no sequence.
    check_in(
        ("C4", "G4"),
        "kind = \"sequence\"",
        "Lydian dominant: the figure once",
    );
    check_in(
        ("C4", "G4"),
        "kind = \"sequence\"\nspan = \"whole horn\"\ndirection = \"up\"\nending = \"none\"",
        "Lydian dominant: the figure once",
    );
}

#[test]
fn studies() {
    check(
        "kind = \"intervals\"\nof = \"thirds\"",
        "Lydian dominant in thirds, up and down",
    );
    check(
        "kind = \"intervals\"\nof = \"sixths\"\npattern = \"broken\"\nspan = \"two octaves\"\ndirection = \"up\"",
        "Lydian dominant in broken sixths over two octaves, going up",
    );
    check(
        "kind = \"runs\"\nof = \"four\"\nspan = \"whole horn\"",
        "Lydian dominant in runs of four over the whole horn, up and down",
    );
    check_in(
        ("C4", "A4"),
        "kind = \"runs\"\nof = \"five\"",
        "Lydian dominant in runs of five as far as they fit, going up",
    );
}

#[test]
fn through_the_keys() {
    let check = |keys: &str, exercise: &str, expected: &str| {
        let text = format!(
            "[keys]\n{keys}\n[scale]\nname = \"mixolydian\"\n{FIGURE}[[exercise]]\nkind = \"keys\"\n{exercise}"
        );
        assert_eq!(headings(WIDE, &text), [expected]);
    };
    check(
        "",
        "",
        "Mixolydian: the figure through the keys in fourths from concert C",
    );
    check(
        "order = \"shuffled\"\nseed = 7\nnamed = \"written\"",
        "",
        "Mixolydian: the figure through the keys, shuffled from written C (seed 7)",
    );
    check(
        "only = [\"C\", \"F\", \"Bb\"]",
        "say = \"sequence\"",
        "Mixolydian: the figure on every degree, and flipped coming down, through concert C, F and B♭",
    );
    check(
        "only = [\"C\", \"F\"]",
        "",
        "Mixolydian: the figure through concert C and F",
    );
    check(
        "only = [\"F\"]",
        "",
        "Mixolydian: the figure through concert F",
    );
}

#[test]
fn over_changes() {
    let check = |exercise: &str, expected: &str| {
        let text = format!(
            "[changes]\nkey = \"C\"\nbars = \"| Dm7 | G7 | Cmaj7 | same |\"\n{FIGURE}[[exercise]]\n{exercise}"
        );
        assert_eq!(headings(WIDE, &text), [expected]);
    };
    check("kind = \"changes\"", "The figure over the changes");
    check(
        "kind = \"changes\"\nplan = \"3 bars play, 1 bar rest\"\nanticipate = true\nchoruses = [\"line\", \"elsewhere\", \"slashes\"]",
        "The figure over the changes, playing 3 bars and resting 1, each chord on a bar line an eighth early, then begun elsewhere, then slashes to improvise on",
    );
    check("kind = \"guide tones\"", "Guide tones over the changes");
    check(
        "kind = \"targets\"",
        "Guide tones over the changes, led up to",
    );
    // The first has nothing before it, and here there is no other.
    let alone = format!(
        "[changes]\nkey = \"C\"\nbars = \"| C6 |\"\n{FIGURE}[[exercise]]\nkind = \"targets\"\n"
    );
    assert_eq!(headings(WIDE, &alone), ["Guide tones over the changes"]);
}

/// A score says of its exercises what stands over their first bars: letters,
/// headings as printed, where they begin.
#[test]
fn a_score_knows_its_exercises_letters_and_headings() {
    let exercises = |text: &str| {
        let text = format!("[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n{FIGURE}{text}");
        let score = sheet(&text, 0).unwrap().score;
        let said = score.exercises.into_iter();
        said.map(|one| (one.letter, one.heading, one.first))
            .collect::<Vec<_>>()
    };
    let said = |letter: Option<&str>, heading: &str, first: usize| {
        (letter.map(str::to_owned), heading.to_owned(), first)
    };
    assert_eq!(
        exercises(
            "[[exercise]]\nkind = \"figure\"\n[[exercise]]\nkind = \"figure\"\nheading = \"Stairs\"\n[[exercise]]\nkind = \"figure\"\nheading = \"\"\n"
        ),
        [
            said(Some("A"), "Major: the figure", 0),
            said(Some("B"), "Stairs", 1),
            said(Some("C"), "", 2),
        ]
    );
    // One alone needs no letter.
    assert_eq!(
        exercises("[[exercise]]\nkind = \"figure\"\n"),
        [said(None, "Major: the figure", 0)]
    );
}

#[test]
fn what_a_student_is_asked_for() {
    check(
        "kind = \"write out\"\nline = \"sequence\"\ngiven = 2",
        "Lydian dominant: write out the figure on every degree, and flipped coming down",
    );
    check(
        "kind = \"write out\"\nline = \"scale\"\ngiven = 2",
        "Write out Lydian dominant over the whole horn",
    );
    check(
        "kind = \"scale\"\nhide = \"notes\"",
        "Lydian dominant over the whole horn; fill in the notes",
    );
}

#[test]
fn the_scale_is_named_where_nothing_else_names_it() {
    let text = format!("[scale]\nname = \"major\"\n{FIGURE}");
    assert_eq!(
        headings(WIDE, &text),
        [
            "Major over the whole horn",
            "The figure",
            "The figure on every degree, and flipped coming down",
        ]
    );
    let two = "[[scale]]\nname = \"major\"\n[[scale]]\nname = \"dorian\"\n[[figure]]\nname = \"hop\"\ndegrees = \"1 2 3 5\"\n[[figure]]\nname = \"skip\"\ndegrees = \"1 3 5 3\"\n[[exercise]]\nkind = \"scale\"\nscale = \"dorian\"\n[[exercise]]\nkind = \"sequence\"\nscale = \"dorian\"\nfigure = \"hop\"\n[[exercise]]\nkind = \"figure\"\nscale = \"major\"\nfigure = \"skip\"\n";
    assert_eq!(
        headings(WIDE, two),
        [
            "Dorian over the whole horn",
            "Dorian: Hop on every degree, and flipped coming down",
            "Major: Skip",
        ]
    );
}

/// The moves at a sheet's head are those of the figures that are on it.
#[test]
fn a_head_says_the_moves_of_its_own_sheet() {
    let text = "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\nbars = \"| C6 | same |\"\n\
        [[figure]]\nname = \"one\"\ndegrees = \"1 2 3\"\n\
        [[figure]]\nname = \"two\"\ndegrees = \"3 2 1\"\n\
        [[figure]]\nname = \"three\"\ndegrees = \"5 3 1\"\n\
        [[scale]]\nname = \"major\"\n\
        [[exercise]]\nkind = \"changes\"\nfigures = [\"one\", \"two\"]\n\
        variants = [\"as it is\", \"flipped\"]\n\
        [[exercise]]\nkind = \"keys\"\nfigure = \"three\"\nscale = \"major\"\n";
    let moves = |place: usize| {
        let sheet = sheet(text, place).unwrap();
        let lines = sheet.score.head.iter();
        let moves = lines.filter(|line| line.about == score::About::Figure);
        moves.map(|line| line.text.to_string()).collect::<Vec<_>>()
    };
    assert_eq!(moves(0), ["degrees 1 2 3", "degrees 3 2 1"]);
    assert_eq!(moves(1), ["degrees 5 3 1"]);
}

/// What is left out is named as it would have been: by the teacher's own words,
/// or where these are none, by ours.
#[test]
fn what_is_left_out_is_named() {
    let named = |heading: &str| {
        let text = format!(
            "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n{FIGURE}[[exercise]]\nkind = \"figure\"\n{heading}[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"D4\"\n"
        );
        match sheet(&text, 0).unwrap_err() {
            etude::LeftOut::OffTheHorn { heading, .. } => heading,
            other => panic!("{other}"),
        }
    };
    assert_eq!(named(""), "Major: the figure");
    assert_eq!(named("heading = \"\"\n"), "Major: the figure");
    assert_eq!(named("heading = \"Stairs\"\n"), "Stairs");
}
