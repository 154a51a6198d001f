//! What lines over changes cost, counted by hand from `RULES.md`.

use etude::{Sheet, Statement};
use score::sounding_notes;

use crate::support::{line_of, sheet};

/// A line over changes in C, on a horn of its own range.
fn line_over(range: (&str, &str), bars: &str, figure: &str, exercise: &str) -> Sheet {
    let (low, high) = range;
    let text = format!(
        "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\nbars = \"{bars}\"\n[figure]\n{figure}\n[[exercise]]\nkind = \"changes\"\n{exercise}\n[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
    );
    sheet(&text, 0).unwrap()
}

/// Its statements.
fn statements(range: (&str, &str), bars: &str, figure: &str, exercise: &str) -> Vec<Statement> {
    let report = line_over(range, bars, figure, exercise).report;
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

/// A leap of more than an octave costs a thousand where a line is chosen as an
/// etude, beside what its half steps cost (all but four of them).
#[test]
fn leaps_of_etudes() {
    let join = |weights: &str| {
        // Up to the ninth, and back to the root: one octave is all there is.
        let line = statements(
            ("C4", "E5"),
            "| C6 | same |",
            "moves = \"start, octave up, step up\"\ncount = \"1 2 3\"",
            &format!(
                "begins = \"1\"\nweights = {{ smooth = 1, variety = 0, range = 0, strong_beats = 0{weights} }}"
            ),
        );
        let join = line[1].join.unwrap();
        (join.semitones, join.cost)
    };
    assert_eq!(join(""), (-14, 10));
    assert_eq!(join(", phrase = 1"), (-14, 1_010));
    assert_eq!(join(", high_point = 1"), (-14, 1_010));
}

/// What leads from C to the G above it: into another chord a half step from
/// below, since from above it would be further; by the scale's own notes, a run
/// of three from D, since one of four would repeat the C. They take eighths from
/// the second half of the note before.
#[test]
fn connections_from_c_up_to_g() {
    let line = |bars: &str, figure: &str, connect: &str| {
        line_of(&line_over(
            ("C4", "B4"),
            bars,
            figure,
            &format!(
                "{connect}weights = {{ smooth = 1, variety = 0, range = 0, strong_beats = 0, connect = 5 }}"
            ),
        ))
    };
    let from_the_root = |connect: &str| {
        line(
            "| C6 | G6 |",
            WHOLE,
            &format!("begins = \"1\"\nconnect = \"{connect}\"\n"),
        )
    };
    assert_eq!(from_the_root("approach"), "C4/4~ C4/3 F#4 | G4/8");
    assert_eq!(from_the_root("run"), "C4/4~ C4 D4 E4 F4 | G4/8");
    // They are eighths in a lesson of sixteenths too.
    let finer = line_over(
        ("C4", "B4"),
        "| C6 | G6 |",
        "moves = \"start, repeat\"\ncount = \"1 e\"",
        "begins = \"1\"\nconnect = \"run\"\nweights = { smooth = 1, variety = 0, range = 0, strong_beats = 0, connect = 5 }",
    );
    let sounds = sounding_notes(&finer.score);
    let first: Vec<String> = sounds[..6]
        .iter()
        .map(|note| format!("{} {}", note.written, note.onset))
        .collect();
    assert_eq!(
        first,
        ["C4 0", "C4 1/4", "D4 5/2", "E4 3", "F4 7/2", "G4 4"]
    );
}

/// All that a statement costs: its own notes, how it joins, its phrase, the
/// high point.
#[test]
fn a_statement_costs_the_sum_of_its_parts() {
    // One note is all there is: a repeated note costs 2, and an answer that is
    // what it answers twice the phrase. Nothing could be denser.
    let line = statements(
        ("C4", "B4"),
        "| C6 | same | same | same |",
        WHOLE,
        "begins = \"1\"\nweights = { smooth = 1, variety = 0, range = 1, strong_beats = 0, phrase = 3 }",
    );
    let outside = 2; // Once for the lowest note, once for the highest.
    let own: Vec<(u32, u32, u32)> = line
        .iter()
        .map(|one| (one.own, one.phrase, one.cost()))
        .collect();
    assert_eq!(
        own,
        [
            (outside, 0, outside),
            (outside, 6, outside + 2 + 6),
            (outside, 0, outside + 2),
            (outside, 0, outside + 2)
        ]
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

/// A phrase is four bars, or as many as its chorus has left; its quarters are a
/// statement, an answer and something denser, and its last is its end.
#[test]
fn a_chorus_begins_a_phrase() {
    let parts = |bars: usize, choruses: &str| {
        let same = vec!["same"; bars - 1].join(" | ");
        let line = statements(
            ("C4", "C6"),
            &format!("| C6 | {same} |"),
            WHOLE,
            &format!("choruses = [{choruses}]\nweights = {{ phrase = 1 }}"),
        );
        let words = line.iter().map(|one| one.part.unwrap().word());
        words.collect::<Vec<_>>()
    };
    let (four, two) = (
        ["statement", "answer", "denser", "end"],
        ["statement", "end"],
    );
    assert_eq!(parts(4, "\"line\""), four);
    let six = [&four[..], &two].concat();
    assert_eq!(parts(6, "\"line\""), six);
    assert_eq!(parts(6, "\"line\", \"line\""), six.repeat(2));
    assert_eq!(parts(2, "\"line\", \"line\""), two.repeat(2));
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

/// Exactly one statement reaches the highest pitch, past the middle; what it
/// lies under the top of the range's middle costs.
#[test]
fn one_high_point_past_the_middle() {
    let eight = ["C6", "F6", "Dm7", "G7", "C6", "Am7", "Dm7", "G7"].join(" | ");
    let top = 80; // Two octaves from C4, a sixth of them left out: A flat 5.
    for seed in 1..=4 {
        for weight in [1, 3, 5] {
            let (line, tops) = high_points(
                ("C4", "C6"),
                &format!("| {eight} |"),
                "moves = \"start, step up\"\ncount = \"1 3\"",
                &format!("weights = {{ high_point = {weight} }}\nseed = {seed}"),
            );
            let told: Vec<usize> = (0..line.len())
                .filter(|at| line[*at].high_point.is_some())
                .collect();
            let highest = tops.iter().copied().max().unwrap();
            let reach: Vec<usize> = (0..tops.len()).filter(|at| tops[*at] == highest).collect();
            assert_eq!(told, reach);
            assert_eq!(told.len(), 1);
            // Five or six of eight bars come before it.
            assert!([6, 7].contains(&line[told[0]].bar));
            let under = u32::try_from((top - highest).max(0)).unwrap();
            assert_eq!(line[told[0]].high_point, Some(weight * under));
        }
    }
    // Where all is on one pitch there is none.
    let (line, _) = high_points(
        ("C4", "B4"),
        "| C6 | same | same | same |",
        WHOLE,
        "begins = \"1\"\nweights = { high_point = 3 }",
    );
    assert!(line.iter().all(|one| one.high_point.is_none()));
}

/// A line's statements, and the highest MIDI number that each reaches.
fn high_points(
    range: (&str, &str),
    bars: &str,
    figure: &str,
    exercise: &str,
) -> (Vec<Statement>, Vec<i32>) {
    let sheet = line_over(range, bars, figure, exercise);
    let line = sheet.report.exercises[0].statements.clone();
    let mut tops = vec![i32::MIN; line.len()];
    for note in sounding_notes(&sheet.score) {
        let top = &mut tops[usize::from(note.origin.statement)];
        *top = (*top).max(i32::from(note.written.midi()));
    }
    (line, tops)
}

/// With another chorus begun elsewhere the plain one begins on the root, and
/// the other on some other tone of the chord.
#[test]
fn choruses_begin_on_the_root_and_elsewhere() {
    for seed in 1..=8 {
        let line = statements(
            ("C4", "C6"),
            "| C6 | same |",
            "moves = \"start, step up\"\ncount = \"1 3\"",
            &format!("choruses = [\"line\", \"elsewhere\"]\nseed = {seed}"),
        );
        let starts: Vec<String> = line.iter().map(|one| one.start.to_string()).collect();
        assert_eq!(starts[0], "1");
        assert!(["3", "5", "6"].contains(&&*starts[2]), "{starts:?}");
    }
}

/// An ornament must lie on the horn as what it leads to does.
#[test]
fn ornaments_count_in_the_range() {
    let line = |ornament: &str| {
        let figure = format!("moves = \"{ornament}, start\"\ncount = \"1 3\"");
        line_of(&line_over(
            ("C4", "C5"),
            "| C6 |",
            &figure,
            "begins = \"1\"",
        ))
    };
    assert_eq!(line("from below"), "B4/4 C5/4");
    assert_eq!(line("from above"), "Db4/4 C4/4");
}
