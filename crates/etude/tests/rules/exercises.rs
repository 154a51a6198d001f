//! Scale, figure and sequence: what each says, and how it closes.

use crate::support::{check, lesson, line, sheet};

const MAJOR: &str = "[scale]\nname = \"major\"\n";

fn with(exercise: &str, figure: &str) -> String {
    format!("{MAJOR}[figure]\n{figure}\n[[exercise]]\n{exercise}\n")
}

#[test]
fn the_smallest_lesson() {
    let text =
        "title = \"Small\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n";
    let small = lesson(text);
    let kinds: Vec<&str> = small
        .exercises
        .iter()
        .map(|exercise| exercise.kind.name().word())
        .collect();
    assert_eq!(kinds, ["scale", "figure", "sequence"]);
    assert_eq!(small.players.len(), 1);
    assert_eq!(small.keys.classes(), [0, 5, 10, 3, 8, 1, 6, 11, 4, 9, 2, 7]);
}

#[test]
fn a_scale_of_one_octave_lands_on_a_strong_beat() {
    // The top waits until the root can fall on 1 or 3, and fills its bar.
    check(
        &with(
            "kind = \"scale\"\nspan = \"one octave\"",
            "moves = \"start\"",
        ),
        "C4 D4 E4 F4 G4 A4 B4 C5~ | C5/2 B4 A4 G4 F4 E4 D4 | C4/8",
    );
    check(
        &with(
            "kind = \"scale\"\nspan = \"one octave\"\ndirection = \"up\"",
            "moves = \"start\"",
        ),
        "C4 D4 E4 F4 G4 A4 B4/2 | C5/8",
    );
    check(
        &with(
            "kind = \"scale\"\nspan = \"one octave\"\ndirection = \"down\"",
            "moves = \"start\"",
        ),
        "C5/2 B4 A4 G4 F4 E4 D4 | C4/8",
    );
}

#[test]
fn a_scale_over_the_whole_horn() {
    // From the lowest root in range (A3 to C6 here) up to the highest note,
    // down to the lowest, home.
    let text = with("kind = \"scale\"", "moves = \"start\"");
    let line = line(&text);
    assert!(line.starts_with("C4 D4 E4"), "{line}");
    assert!(line.contains("B5 C6"), "{line}");
    assert!(line.contains("C4 B3 A3 B3 | C4/8"), "{line}");
}

#[test]
fn a_figure_once_and_there_and_back() {
    check(
        &with("kind = \"figure\"", "degrees = \"1 2 3 5\""),
        "C5 D5 E5 G5~ G5/4",
    );
    check(
        &with(
            "kind = \"figure\"\ndirection = \"up and down\"",
            "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"",
        ),
        "C4/2 D4/2 E4/2 G4/2 | C5/2 B4/2 A4/2 F4/2",
    );
    check(
        &with(
            "kind = \"figure\"\ndirection = \"down\"\ncoming_down = \"reversed\"",
            "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"",
        ),
        "G5/2 E5/2 D5/2 C5/2",
    );
}

#[test]
fn a_sequence_on_each_degree_and_back() {
    // Worked examples of the reference table: 1 2 3 5 on each degree of C,
    // and C5 B4 A4 F4 coming down.
    check(
        &with("kind = \"sequence\"", "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\""),
        "C4/2 D4/2 E4/2 G4/2 | D4/2 E4/2 F4/2 A4/2 | E4/2 F4/2 G4/2 B4/2 | F4/2 G4/2 A4/2 C5/2 | \
         G4/2 A4/2 B4/2 D5/2 | A4/2 B4/2 C5/2 E5/2 | B4/2 C5/2 D5/2 F5/2 | C5/2 D5/2 E5/2 G5/2 | \
         C5/2 B4/2 A4/2 F4/2 | B4/2 A4/2 G4/2 E4/2 | A4/2 G4/2 F4/2 D4/2 | G4/2 F4/2 E4/2 C4/2 | \
         F4/2 E4/2 D4/2 B3/2 | E4/2 D4/2 C4/2 A3/2 | D4/2 C4/2 B3/2 G3/2 | C4/2 B3/2 A3/2 F3/2 | C4/8"
            .replace("D4/2 C4/2 B3/2 G3/2 | C4/2 B3/2 A3/2 F3/2 | ", "")
            .as_str(),
    );
    check(
        &with(
            "kind = \"sequence\"\ndirection = \"up\"\nending = \"none\"",
            "moves = \"start, step up\"\ncount = \"1 3\"",
        ),
        "C4/4 D4/4 | D4/4 E4/4 | E4/4 F4/4 | F4/4 G4/4 | G4/4 A4/4 | A4/4 B4/4 | B4/4 C5/4 | C5/4 D5/4",
    );
    // Going up it closes on the upper root, coming down on the lower.
    let up = line(&with(
        "kind = \"sequence\"\ndirection = \"up\"",
        "moves = \"start, step up\"\ncount = \"1 3\"",
    ));
    assert!(up.ends_with("C5/4 D5/4 | C5/8"), "{up}");
    let down = line(&with(
        "kind = \"sequence\"\ndirection = \"down\"",
        "moves = \"start, step up\"\ncount = \"1 3\"",
    ));
    assert!(
        down.starts_with("C5/4 B4/4 | B4/4 A4/4") && down.ends_with("C4/4 B3/4 | C4/8"),
        "{down}"
    );
}

#[test]
fn a_start_on_five_moves_the_root() {
    let up = line(&with(
        "kind = \"sequence\"\ndirection = \"up\"",
        "moves = \"start on 5, step up\"\ncount = \"1 3\"",
    ));
    assert!(up.starts_with("G4/4 A4/4 | A4/4 B4/4"), "{up}");
    assert!(up.ends_with("G5/4 A5/4 | C5/8"), "{up}");
}

#[test]
fn a_figure_of_beats_runs_across_bar_lines() {
    // Three beats in 4/4; the root closes where there is at least half a bar.
    let text = with(
        "kind = \"sequence\"\ndirection = \"up\"",
        "moves = \"start, step up, step up\"\ncount = \"1 2 3\"\nlength = \"3 beats\"",
    );
    check(
        &text,
        "C4/2 D4/2 E4/2 D4/2 | E4/2 F4/2 E4/2 F4/2 | G4/2 F4/2 G4/2 A4/2 | G4/2 A4/2 B4/2 A4/2 | \
         B4/2 C5/2 B4/2 C5/2 | D5/2 C5/2 D5/2 E5/2 | C5/8",
    );
}

#[test]
fn a_pickup_leans_into_every_bar() {
    let text = with(
        "kind = \"sequence\"\ndirection = \"up\"",
        "moves = \"start, step up, step up\"\ncount = \"4 & | 1\"",
    );
    let line = line(&text);
    assert!(
        line.starts_with("C4 D4 | E4/6 D4 E4 | F4/6 E4 F4"),
        "{line}"
    );
    // The last statement's note fills its bar, and the root starts the next.
    assert!(line.ends_with("C5 D5 | E5/8 | C5/8"), "{line}");
    // Unless silence is counted there, which takes no bar of its own.
    let rested = with(
        "kind = \"sequence\"\ndirection = \"up\"",
        "moves = \"start, step up, step up, rest\"\ncount = \"4 & | 1-3 (4)\"",
    );
    let rested = self::line(&rested);
    assert!(rested.starts_with("C4 D4 | E4/6 D4 E4 |"), "{rested}");
    assert!(rested.ends_with("C5 D5 | E5/6 r/2 | C5/8"), "{rested}");
    let sheet = sheet(&text, 0).unwrap();
    let first = &sheet.score.part.measures[0];
    assert!(first.implicit && first.number == 0);
    assert_eq!(sheet.report.bars, 9);
}

#[test]
fn ornaments_lead_to_what_is_sounded_next() {
    // Below D is C sharp, above it E flat; they lead across statements and to
    // the closing root, and turn over coming down.
    let text = with(
        "kind = \"sequence\"",
        "moves = \"start, enclose, step up, from below\"\ncount = \"1 & 2 & 3\"",
    );
    let line = line(&text);
    assert!(
        line.starts_with("C4 Eb4 C#4 D4 C#4/4 | D4 F4 D#4 E4 D#4/4 | E4 Gb4 E4 F4 E4/4"),
        "{line}"
    );
    assert!(line.ends_with("C4 A#3 C4 B3 Db4/4 | C4/8"), "{line}");
}

#[test]
fn a_scale_with_two_forms_comes_down_in_the_other() {
    let text = "[scale]\nname = \"melodic minor (classical)\"\n[keys]\nonly = [\"A\"]\n[figure]\nmoves = \"start, step up\"\ncount = \"1 3\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\n";
    check(
        text,
        "A4 B4 C5 D5 E5 F#5 G#5 A5~ | A5/2 G5 F5 E5 D5 C5 B4 | A4/8",
    );
}

#[test]
fn several_exercises_have_letters_and_double_bars() {
    use score::{Barline, Direction};
    let text = format!("{MAJOR}[figure]\nmoves = \"start, step up\"\n");
    let sheet = sheet(&text, 0).unwrap();
    let measures = &sheet.score.part.measures;
    let letters: Vec<&str> = measures
        .iter()
        .flat_map(|measure| &measure.directions)
        .filter_map(|direction| match direction {
            Direction::Rehearsal(letter) => Some(letter.as_str()),
            _ => None,
        })
        .collect();
    assert_eq!(letters, ["A", "B", "C"]);
    let bars: Vec<Barline> = measures
        .iter()
        .filter_map(|measure| measure.barline)
        .collect();
    assert_eq!(bars, [Barline::Double, Barline::Double, Barline::Final]);
    assert_eq!(
        measures
            .iter()
            .filter(|measure| measure.key.is_some())
            .count(),
        1
    );
    let numbers: Vec<u32> = measures.iter().map(|measure| measure.number).collect();
    assert_eq!(numbers, (1..=measures.len() as u32).collect::<Vec<_>>());
}

/// What a figure is silent for at its end is written too.
#[test]
fn a_bar_of_silence_at_the_end_is_a_bar() {
    let figure = |count: &str| {
        format!(
            "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, rest\"\ncount = \"{count}\"\n[[exercise]]\nkind = \"figure\"\n"
        )
    };
    check(&figure("1 | (1)"), "C5/8 | R");
    check(&figure("1 (3)"), "C5/4 r/4");
}

/// Down over the whole horn goes from its highest note to its lowest and back
/// up to the root.
#[test]
fn a_scale_down_the_whole_horn_ends_on_its_root() {
    check(
        "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"scale\"\nspan = \"whole horn\"\ndirection = \"down\"\n[[player]]\ninstrument = \"piano right hand\"\nlow = \"A3\"\nhigh = \"G4\"\n",
        "G4 F4 E4 D4 C4 B3 A3 B3 | C4/8",
    );
}
