//! When statements over changes come: how a chord's time is parted, what comes
//! before it, where nothing is played.

use score::Element;

use crate::over::over;
use crate::support::{check, line, sheet};

const STEPS: &str = "moves = \"start, repeat, repeat, repeat\"\ncount = \"1 2 3 4\"";
const WHOLE: &str = "moves = \"start\"\ncount = \"1\"";

/// When the notes and rests of a line come: `n` and `r` with their eighths.
fn rhythm(text: &str) -> String {
    let score = sheet(text, 0).unwrap().score;
    let bars = score.part.measures.iter().map(|measure| {
        let elements = measure.elements.iter().map(|element| {
            let eighths = element.written().length * 2 / score.divisions;
            match element {
                Element::Note(note) => format!("n{eighths}{}", if note.tied_to { "~" } else { "" }),
                Element::Slash(_) => format!("/{eighths}"),
                Element::Rest(_) => format!("r{eighths}"),
            }
        });
        elements.collect::<Vec<_>>().join(" ")
    });
    bars.collect::<Vec<_>>().join(" | ")
}

fn check_rhythm(text: &str, expected: &str) {
    assert_eq!(rhythm(text), expected, "\n{text}");
}

/// A statement of a bar takes a bar of whatever meter; one of half a bar comes
/// twice.
#[test]
fn a_chord_s_time_is_parted_into_statements() {
    check_rhythm(
        &over(
            "bars = \"| C6 | in 3/4 same | same | same |\"",
            STEPS,
            "kind = \"changes\"",
        ),
        "n2 n2 n2 n2 | n2 n2 n2 | n2 n2 n2 | n2 n2 n2",
    );
    let half = "moves = \"start, step up, step up\"\ncount = \"1 & 2\"\nlength = \"2 beats\"";
    check_rhythm(
        &over("bars = \"| C6 | same |\"", half, "kind = \"changes\""),
        "n1 n1 n2 n1 n1 n2 | n1 n1 n2 n1 n1 n2",
    );
}

/// A meter stands where it begins, and not again.
#[test]
fn a_meter_is_said_where_it_begins() {
    let text = over(
        "bars = \"| C6 | same | in 3/4 same | same | in 4/4 same |\"",
        STEPS,
        "kind = \"changes\"\nchoruses = [\"line\", \"line\"]",
    );
    let score = sheet(&text, 0).unwrap().score;
    let meters = score.part.measures.iter().map(|measure| {
        let meter = measure.meter.as_ref();
        meter.map_or("-".to_owned(), ToString::to_string)
    });
    let meters: Vec<String> = meters.collect();
    assert_eq!(meters.join(" "), "4/4 - 3/4 - 4/4 - - 3/4 - 4/4");
}

/// The rhythm plan counts bars; a statement ends where they rest.
#[test]
fn bars_of_rest() {
    let plan = |bars: &str, figure: &str, plan: &str| {
        over(
            &format!("bars = \"{bars}\""),
            figure,
            &format!("kind = \"changes\"\nplan = \"{plan}\""),
        )
    };
    let four = "| C6 | Dm7 | G7 | C6 |";
    check_rhythm(
        &plan(four, WHOLE, "1 bar play, 1 bar rest"),
        "n8 | r8 | n8 | r8",
    );
    check_rhythm(
        &plan(four, WHOLE, "2 bars play, 1 bar rest"),
        "n8 | n8 | r8 | n8",
    );
    let two_bars = "moves = \"start, step up\"\ncount = \"1 | 1\"";
    let held = "| C6 | same | same | same |";
    check_rhythm(
        &plan(held, two_bars, "1 bar play, 1 bar rest"),
        "n8 | r8 | n8 | r8",
    );
    check_rhythm(&plan(held, two_bars, "every bar"), "n8 | n8 | n8 | n8");
}

/// A rest is time for a pickup, however short what was played before it.
#[test]
fn a_pickup_sounds_in_a_rest() {
    let rhythm = rhythm(&over(
        "bars = \"| C6 (4) Dm7 | G7 | C6 |\"",
        "moves = \"start, step up, step up\"\ncount = \"3 4 | 1\"",
        "kind = \"changes\"\nplan = \"1 bar play, 1 bar rest\"",
    ));
    let expected = "n2 n2 | n2 n2 n2 n2 | r4 n2 n2 | n4";
    assert!(rhythm.starts_with(expected), "{rhythm}");
}

/// Pickups move with a chord that is taken early; only the note on the bar line
/// is held over it, and none that ended there.
#[test]
fn a_chord_taken_early_takes_its_pickup_with_it() {
    let early = |count: &str| {
        over(
            "bars = \"| C6 | Dm7 |\"",
            &format!("moves = \"start, step up\"\ncount = \"{count}\""),
            "kind = \"changes\"\nanticipate = true",
        )
    };
    let check = |count: &str, expected: &str| {
        let rhythm = rhythm(&early(count));
        assert!(rhythm.starts_with(expected), "{count}: {rhythm}");
    };
    check("4 | 1", "n2 | n4~ n1 n2 n1~ | n6");
    check("4 | (1) 2", "n2 | r2 n2~ n1 n2 r1 | r2 n4");
}

/// A target that has time for both comes early and is led up to.
#[test]
fn a_target_that_has_an_eighth_is_led_up_to_and_early() {
    let text = over(
        "bars = \"| C6 (3&) G7 | Dm7 |\"",
        WHOLE,
        "kind = \"targets\"\nanticipate = true",
    );
    let rhythm = rhythm(&text);
    // G7 itself takes the eighth that is left of its time.
    assert!(rhythm.ends_with("n1 n1 n1~ | n8"), "{rhythm}");
}

/// Nothing is played while others improvise: no note rings over into their
/// slashes, comes early out of them, or leads to what follows.
#[test]
fn slashes_are_left_alone() {
    for seed in 1..=6 {
        let text = over(
            "bars = \"| C6 | Dm7 |\"",
            "moves = \"start, step up\"\ncount = \"1 3\"",
            &format!(
                "kind = \"changes\"\nchoruses = [\"line\", \"slashes\", \"line\"]\nconnect = \"run\"\nshift = \"over the bar\"\nseed = {seed}"
            ),
        );
        let line = line(&text);
        let bars: Vec<&str> = line.split(" | ").collect();
        assert_eq!(bars.len(), 6, "{line}");
        assert_eq!(bars[2..4], ["//2 //2 //2 //2"; 2], "{line}");
    }
}

/// A pickup comes before the first chorus only; where its chord goes on over
/// the bar line, later choruses begin with it there.
#[test]
fn a_pickup_is_said_once() {
    let symbols = |bars: &str| {
        let text = over(
            &format!("bars = \"{bars}\""),
            WHOLE,
            "kind = \"changes\"\nchoruses = [\"line\", \"line\"]",
        );
        let score = sheet(&text, 0).unwrap().score;
        let bars = score.part.measures.iter().map(|measure| {
            let chords = measure.elements.iter().filter_map(|element| {
                let chord = element.written().chord?;
                Some(score.chords.symbol(chord).unwrap().to_string())
            });
            chords.collect::<Vec<_>>().join(" ")
        });
        (bars.collect::<Vec<_>>().join(" | "), rhythm(&text))
    };
    assert_eq!(
        symbols("| pickup (4) G7 | C6 | Dm7 |"),
        (
            "G7 | C6 | Dm7 | C6 | Dm7".to_owned(),
            "n2 | n8 | n8 | n8 | n8".to_owned()
        )
    );
    // A chord that goes on is said again where a chorus begins, only there.
    assert_eq!(symbols("| C6 | same |").0, "C6 |  | C6 | ");
    assert_eq!(
        symbols("| pickup (4) C6 | C6 | Dm7 |").0,
        "C6 |  | Dm7 | C6 | Dm7"
    );
    check(
        &over(
            "bars = \"| pickup (4) C6 | C6 | Dm7 |\"",
            WHOLE,
            "kind = \"changes\"\nbegins = \"1\"\nchoruses = [\"line\", \"line\"]",
        ),
        "C5/2 | C5/8 | D5/8 | C5/8 | D5/8",
    );
}

/// A chord that has gone before the figure's first note: the sheet says so, and
/// asks for no highest note where there is none.
#[test]
fn what_has_no_time_to_sound_is_told() {
    let said = |exercise: &str| -> Vec<String> {
        let text = over(
            "bars = \"| C6 Dm7 | G7 C6 |\"",
            "moves = \"start, step up\"\ncount = \"(1 2) 3 4\"",
            exercise,
        );
        let remarks = sheet(&text, 0).unwrap().report.exercises[0].remarks.clone();
        remarks.iter().map(ToString::to_string).collect()
    };
    let silent = ["4 statements have no time to sound: their chords are too short"];
    assert_eq!(said("kind = \"changes\""), silent);
    let wishes = "kind = \"changes\"\nweights = { phrase = 4, high_point = 3 }";
    assert_eq!(said(wishes), silent);
}
