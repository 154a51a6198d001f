//! What lines over changes cost, counted by hand from `RULES.md`.

use etude::Statement;

use crate::support::sheet;

/// The statements of a line over changes in C, on a horn of its own range.
fn statements(range: (&str, &str), bars: &str, figure: &str, exercise: &str) -> Vec<Statement> {
    let (low, high) = range;
    let text = format!(
        "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\nbars = \"{bars}\"\n[figure]\n{figure}\n[[exercise]]\nkind = \"changes\"\n{exercise}\n[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
    );
    let report = sheet(&text, 0).unwrap().report;
    report.exercises.into_iter().next().unwrap().statements
}

const WHOLE: &str = "moves = \"start\"\ncount = \"1\"";

/// A sixth of thirteen half steps, two, lies outside the middle on both sides:
/// F is one half step outside, E two.
#[test]
fn going_further_out_costs_twice_the_range() {
    let weights =
        "begins = \"1\"\nweights = { smooth = 1, variety = 0, range = 3, strong_beats = 0 }";
    let join = |bars: &str| {
        let line = statements(("E4", "E5"), bars, WHOLE, weights);
        let join = line[1].join.unwrap();
        (join.semitones, join.cost)
    };
    // A half step costs nothing, going further out twice the range.
    assert_eq!(join("| F6 | E6 |"), (-1, 6));
    // Coming back costs nothing, nor does staying as far out.
    assert_eq!(join("| E6 | F6 |"), (1, 0));
    // From the middle out is no further out.
    assert_eq!(join("| F#6 | E6 |"), (-2, 0));
}

/// What the notes themselves cost: half steps outside the middle, its lowest
/// and its highest counted, and twice the strong beats for each that is on one
/// and no tone of the chord.
#[test]
fn a_statement_s_own_notes() {
    let own = |range: (&str, &str), bars: &str, figure: &str, weights: &str| {
        let exercise = format!("begins = \"1\"\nweights = {{ {weights} }}");
        statements(range, bars, figure, &exercise)[0].own
    };
    let none = "smooth = 1, variety = 0, range = 0";
    // D on beat 3 of C6 is a stranger, on beat 2 nobody minds.
    let check = |count: &str, expected: u32| {
        let figure = format!("moves = \"start, step up, step up\"\ncount = \"{count}\"");
        let weights = format!("{none}, strong_beats = 5");
        let cost = own(("C4", "C6"), "| C6 |", &figure, &weights);
        assert_eq!(cost, expected, "{count}");
    };
    check("1 3 4", 10);
    check("1 2 3", 0);
    check("1 (2) & 4", 0);
}

/// An end rests for half a bar or for all the time it has: a chord of one beat
/// is time enough.
#[test]
fn the_end_of_a_phrase() {
    let end = |bars: &str, figure: &str| {
        let weights = "begins = \"1\"\nweights = { smooth = 0, variety = 0, range = 0, strong_beats = 0, phrase = 4 }";
        let line = statements(("C4", "C6"), bars, figure, weights);
        let last = line.last().unwrap();
        assert_eq!(last.part, Some(etude::PhrasePart::End));
        last.own
    };
    assert_eq!(end("| C6 | G7 (4) C6 |", WHOLE), 0);
    assert_eq!(end("| C6 | G7 C6 |", WHOLE), 0);
    assert_eq!(end("| C6 | G7 | C6 |", WHOLE), 0);
    // The beat after a rest of two is all there is.
    assert_eq!(
        end(
            "| C6 | G7 (2) C6 |",
            "moves = \"start\"\ncount = \"(1 2) 3\""
        ),
        0
    );
    // A quarter before a rest is held.
    assert_eq!(
        end("| C6 | G7 | C6 |", "moves = \"start\"\ncount = \"1 (2)\""),
        0
    );
}

/// Who doesn't ask for phrases isn't told of them.
#[test]
fn without_phrases_no_statement_has_a_part() {
    let line = statements(("C4", "C6"), "| C6 | G7 | C6 | G7 |", WHOLE, "");
    assert!(line.iter().all(|one| one.part.is_none()));
    let line = statements(
        ("C4", "C6"),
        "| C6 | G7 | C6 | G7 |",
        WHOLE,
        "weights = { phrase = 1 }",
    );
    assert!(line.iter().all(|one| one.part.is_some()));
}

/// The degrees a half step above a tone of the chord (common practice).
#[test]
fn degrees_that_clash_with_their_chord() {
    let text = "[choose]\n\"maj7\" = \"major\"\n\"7\" = \"mixolydian\"\n\"m7\" = \"dorian\"\n";
    let line = statements(
        ("C4", "C6"),
        "| Cmaj7 | G7 | Dm7 |",
        &format!("{WHOLE}\n{text}"),
        "",
    );
    let said: Vec<String> = line
        .iter()
        .map(|one| {
            let degrees: Vec<String> = one.clashes.iter().map(ToString::to_string).collect();
            format!("{} {}", one.chord, degrees.join(" "))
        })
        .collect();
    assert_eq!(said, ["Cmaj7 4", "G7 4", "Dm7 "]);
}
