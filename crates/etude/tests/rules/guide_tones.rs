//! Guide tones and targets over changes.

use rhythm::Fraction;
use score::sounding_notes;

/// Lines of guide tones over changes in C, on a horn of its own range.
fn guides(bars: &str, kind: &str, range: (&str, &str), key: &str) -> etude::Sheet {
    let (low, high) = range;
    let text = format!(
        "[keys]\nonly = [\"{key}\"]\n[changes]\nkey = \"C\"\nbars = \"{bars}\"\n[[exercise]]\nkind = \"{kind}\"\n[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
    );
    crate::support::sheet(&text, 0).unwrap()
}

#[test]
fn guide_tones_of_plain_triads_are_their_thirds() {
    let sheet = guides(
        "| Dm7 | G7 | C | Am | F | G | C |",
        "guide tones",
        ("C4", "C6"),
        "C",
    );
    // The least way there is, 15 half steps: F F E C A B E.
    assert_eq!(
        crate::support::line_of(&sheet),
        "F5/8 | F5/8 | E5/8 | C5/8 | A4/8 | B4/8 | E5/8"
    );
}

#[test]
fn guide_tones_stay_near_the_middle_in_every_key() {
    for key in [
        "C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B",
    ] {
        let sheet = guides("| Dm7 | G7 | Cmaj7 |", "guide tones", ("C4", "C6"), key);
        let notes = sounding_notes(&sheet.score);
        let sum: i32 = notes
            .iter()
            .map(|note| i32::from(note.written.midi()) - 72)
            .sum();
        // An octave up or down would be no nearer the middle, C5.
        let three = notes.len() as i32;
        assert!(
            sum.abs() <= (sum - 12 * three).abs().min((sum + 12 * three).abs()),
            "{key}: {sum}"
        );
    }
}

#[test]
fn targets_take_an_eighth_from_a_chord_of_one_beat() {
    let sheet = guides("| C6 Am7 Dm7 G7 | C6 |", "targets", ("C4", "C6"), "C");
    let statements = &sheet.report.exercises[0].statements;
    let said: Vec<&str> = statements.iter().map(|one| one.variant.as_str()).collect();
    let notes = sounding_notes(&sheet.score);
    // What is said is what is printed: a note for each, and one or two before
    // it; an eighth is all there is within the first bar.
    let before = said.iter().map(|one| match *one {
        "not led up to" => 0,
        "enclosed" => 2,
        _ => 1,
    });
    assert_eq!(
        notes.len(),
        said.len() + before.clone().sum::<usize>(),
        "{said:?}"
    );
    assert_eq!(before.collect::<Vec<usize>>()[..4], [0, 1, 1, 1]);
    let eighth = Fraction::new(1, 2);
    let first: Vec<Fraction> = notes.iter().take(7).map(|note| note.length).collect();
    assert_eq!(first, [eighth; 7]);
    assert!(sheet.report.exercises[0].remarks.is_empty());
}

#[test]
fn targets_without_time_are_said_not_to_be_led_up_to() {
    let sheet = guides(
        "| C6 (1&) Am7 (2) Dm7 (2&) G7 (3) C6 |",
        "targets",
        ("C4", "C6"),
        "C",
    );
    let exercise = &sheet.report.exercises[0];
    let said: Vec<&str> = exercise
        .statements
        .iter()
        .map(|one| one.variant.as_str())
        .collect();
    assert_eq!(said, ["not led up to"; 5]);
    assert_eq!(sounding_notes(&sheet.score).len(), 5);
    let remarks: Vec<String> = exercise
        .remarks
        .iter()
        .map(etude::CountedRemark::to_string)
        .collect();
    assert_eq!(
        remarks,
        ["4 notes are not led up to: there is no time before them"]
    );
}
