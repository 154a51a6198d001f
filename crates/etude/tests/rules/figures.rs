//! What is counted of a sheet, against values worked out by hand.

use etude::{Composer, Outcome, Report, Surprise, Surprising, hardest, surprises};
use theory::{Degree, Range};

use crate::support::{lesson, line_of, sheet};

const ONE_TWO_THREE_FIVE: &str = "[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n[[exercise]]\nkind = \"sequence\"\n";

/// A flute of a range, in one key.
fn flute(low: &str, high: &str, key: &str, rest: &str) -> String {
    format!(
        "[keys]\nonly = [\"{key}\"]\n{rest}[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
    )
}

/// What is counted, in one line.
fn counted(report: &Report) -> String {
    let Report {
        bars,
        lowest,
        highest,
        turns,
        jumps,
        register_crossings,
        respellings,
        accidentals,
        doubles,
        white_twins,
        signature,
        ..
    } = report;
    format!(
        "{bars} bars {lowest} to {highest}, {turns} turns, {jumps} jumps, {register_crossings} crossings, \
         {respellings} respelled, {accidentals} signs and {signature}, {doubles} double, {white_twins} white"
    )
}

fn chart(report: &Report, low: &str, high: &str) -> (i32, i32, i32) {
    let range = Range {
        low: low.parse().unwrap(),
        high: high.parse().unwrap(),
    };
    report.reach_in(range, 24)
}

#[test]
fn a_sequence_that_turns_early() {
    let made = sheet(&flute("C4", "D5", "C", ONE_TWO_THREE_FIVE), 0).unwrap();
    // … F G A C | G A B D5 | G F E C | C: it crosses C sharp 5, the flute's
    // break, to D5 and back.
    assert_eq!(
        counted(&made.report),
        "7 bars C4 to D5, 1 turns, 0 jumps, 2 crossings, 0 respelled, 0 signs and 0, 0 double, 0 white"
    );
    // Fifteen half steps, the sheet from the first to the last.
    assert_eq!(chart(&made.report, "C4", "D5"), (15, 0, 14));
}

#[test]
fn a_sequence_that_jumps() {
    let text = flute("C4", "F5", "C", ONE_TWO_THREE_FIVE).replace(
        "kind = \"sequence\"",
        "kind = \"sequence\"\ndirection = \"up\"\nwhen_too_wide = \"jump\"",
    );
    let made = sheet(&text, 0).unwrap();
    // Only the last statement, C D E G5, is too high: it is played an octave
    // lower. B–D5–A, C5–E5–B, C5–D5 F5–C4: six times over the break.
    assert!(line_of(&made).ends_with("B4/2 C5/2 D5/2 F5/2 | C4/2 D4/2 E4/2 G4/2 | C4/8"));
    assert_eq!(
        counted(&made.report),
        "9 bars C4 to F5, 0 turns, 1 jumps, 6 crossings, 0 respelled, 0 signs and 0, 0 double, 0 white"
    );
}

#[test]
fn an_altered_scale() {
    let up = "[scale]\nname = \"altered\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\ndirection = \"up\"\n";
    let made = sheet(&flute("C4", "C6", "C", up), 0).unwrap();
    // F flat is written E; D flat, E flat, E natural, G flat, A flat, B flat
    // have signs.
    assert_eq!(line_of(&made), "C4 Db4 Eb4 E4 Gb4 Ab4 Bb4/2 | C5/8");
    assert_eq!(
        counted(&made.report),
        "2 bars C4 to C5, 0 turns, 0 jumps, 0 crossings, 1 respelled, 6 signs and 0, 0 double, 0 white"
    );
    // 25 half steps in 24 cells: the thirteenth lies in the twelfth cell.
    assert_eq!(chart(&made.report, "C4", "C6"), (24, 0, 11));
    assert_eq!(chart(&made.report, "G3", "B5"), (24, 4, 14));
}

#[test]
fn a_strict_diminished_scale() {
    let up = "[scale]\nname = \"diminished whole-half\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\ndirection = \"up\"\n";
    let text = format!("spelling = \"strict\"\n{}", flute("C4", "C6", "G#", up));
    let made = sheet(&text, 0).unwrap();
    // Signs before G, A, C, the second E and F, and G in the next bar. The
    // break lies between C sharp and D.
    assert_eq!(line_of(&made), "G#4 A#4 B4 C#5 D5 E5 E#5 F##5 | G#5/8");
    assert_eq!(
        counted(&made.report),
        "2 bars G#4 to G#5, 0 turns, 0 jumps, 1 crossings, 0 respelled, 6 signs and 0, 1 double, 1 white"
    );
}

#[test]
fn a_major_scale_that_clashes() {
    let scale = "[scale]\nname = \"major\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\nchord = \"m7(b5)\"\n";
    let made = sheet(&flute("C4", "C6", "D", scale), 0).unwrap();
    // Two sharps, and no signs; C sharp, the break itself, is crossed to D5
    // and back in both.
    assert_eq!(
        counted(&made.report),
        "6 bars D4 to D5, 0 turns, 0 jumps, 4 crossings, 0 respelled, 0 signs and 2, 0 double, 0 white"
    );
    let clashes = |at: usize| {
        let (chord, degrees) = made.report.exercises[at].clashes.clone().unwrap();
        let degrees: Vec<String> = degrees.iter().map(Degree::to_string).collect();
        format!("{chord}: {}", degrees.join(" "))
    };
    // A half step above a tone of the chord, and no tone of it: over D the
    // fourth, over D F A flat C the 3, 5 and 7 of the scale.
    assert_eq!(clashes(0), "D: 4");
    assert_eq!(clashes(1), "Dm7(b5): 3 5 7");
}

fn outcomes(text: &str) -> Vec<Outcome> {
    let lesson = lesson(text);
    let composer = Composer::new(&lesson).unwrap();
    let plans = composer.plans().iter();
    plans
        .map(|plan| (*plan, composer.compose(plan).map(|sheet| sheet.report)))
        .collect()
}

#[test]
fn the_hardest_key() {
    let found = |keys: &str, scale: &str| {
        let text = format!(
            "[keys]\nonly = [{keys}]\n[scale]\nname = \"{scale}\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\ndirection = \"up\"\n"
        );
        let outcomes = outcomes(&text);
        let sheets = outcomes
            .iter()
            .map(|(plan, report)| (plan, report.as_ref().unwrap()));
        let (plan, report) = hardest(sheets).unwrap();
        format!("{} with {}", plan.written, report.signs())
    };
    // Five flats, five sharps: the first of equals.
    assert_eq!(found("\"C\", \"Db\", \"B\", \"G\"", "major"), "Db with 5");
    // Altered has no signature. Signs in one octave up: C six (see above); D
    // has E flat, F sharp, A flat, B flat, since its F and C are plain.
    assert_eq!(found("\"D\", \"C\"", "altered"), "C with 6");
}

/// Surprises as `what player exercise sheets/of`.
fn said(surprises: &[Surprise]) -> Vec<String> {
    let row = |one: &Surprise| {
        let (player, exercise) = (one.player, one.exercise);
        format!(
            "{:?} {player} {exercise} {}/{}",
            one.what,
            one.sheets.len(),
            one.of
        )
    };
    surprises.iter().map(row).collect()
}

#[test]
fn the_most_surprising_comes_first() {
    // Low has eight half steps from C4: in C its octave turns early and comes
    // down not at all; in A flat and E there is no room. Wide has it all.
    let text = format!(
        "[keys]\nonly = [\"C\", \"Ab\", \"E\"]\n[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n[[exercise]]\nkind = \"scale\"\nspan = \"two octaves\"\nkeys = {{ only = [\"C\"] }}\n[[exercise]]\nkind = \"sequence\"\n{}{}",
        "[[player]]\nname = \"Low\"\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"G#4\"\n",
        "[[player]]\nname = \"Wide\"\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"C7\"\n",
    );
    let outcomes = outcomes(&text);
    let found = surprises(&outcomes);
    assert_eq!(
        said(&found),
        [
            "LeftOut 0 1 2/3",
            "NoWayDown 0 1 1/3",
            "Shorter 0 0 1/1",
            "Clashes 0 0 1/1",
            "Clashes 1 0 1/1",
            "Clashes 1 1 3/3",
        ]
    );
    assert_eq!(found[0].what, Surprising::LeftOut);
    assert_eq!(found[0].sheets[0].written.to_string(), "Ab");
    assert!(
        found[2]
            .heading
            .starts_with("A · Major over the whole horn"),
        "{}",
        found[2].heading
    );
}

/// The range of a sheet is from the lowest of all its notes to the highest.
#[test]
fn a_sheet_s_range_is_that_of_all_its_exercises() {
    let check = |instrument: &str, exercises: [&str; 2], expected: [&str; 2]| {
        let exercises = exercises.map(|one| format!("[[exercise]]\nkind = \"scale\"\n{one}\n"));
        let text = format!(
            "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n{}{instrument}",
            exercises.concat()
        );
        let report = sheet(&text, 0).unwrap().report;
        let found = [report.lowest, report.highest].map(|pitch| pitch.to_string());
        assert_eq!(found, expected, "{text}");
    };
    let (one, two) = ("span = \"one octave\"", "span = \"two octaves\"");
    let wide = "[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"C6\"\n";
    check(wide, [one, two], ["C4", "C6"]);
    check(wide, [two, one], ["C4", "C6"]);
    // The second lies lower and the first higher.
    let low = "[[player]]\ninstrument = \"tuba\"\nlow = \"C2\"\nhigh = \"C3\"\n";
    check(low, [one, one], ["C2", "C3"]);
}
