//! Variants of a figure, and studies of the scale.

use etude::Composer;
use rhythm::Fraction;
use score::sounding_notes;

use crate::support::{check, lesson, missing, sheet};

fn with(figure: &str, exercise: &str) -> String {
    format!(
        "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\n{figure}\n[[exercise]]\n{exercise}\n"
    )
}

fn check_variant(variant: &str, expected: &str) {
    let text = with(
        "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"",
        &format!("kind = \"figure\"\nvariant = \"{variant}\""),
    );
    check(&text, expected);
}

#[test]
fn one_variant() {
    check_variant("as it is", "C5/2 D5/2 E5/2 G5/2");
    check_variant("flipped", "C5/2 B4/2 A4/2 F4/2");
    check_variant("Reversed", "G5/2 E5/2 D5/2 C5/2");
    check_variant("flipped and reversed", "F4/2 A4/2 B4/2 C5/2");
    check_variant("begun on note 3", "E5/2 G5/2 C5/2 D5/2");
    check_variant("order 2 4 1 3", "D5/2 G5/2 C5/2 E5/2");
    check_variant("3 eighths later", "r/2 r C5~ C5 D5/2 E5~ | E5 G5/2 r r/4");
    check_variant("half values", "C5 D5 E5 G5 r/4");
    check_variant("double values", "C5/4 D5/4 | E5/4 G5/4");
    check_variant("in 3/4", "C5/2 D5/2 E5/2 | G5/6");
    check_variant("in 2/4", "C5/2 D5/2 | E5/2 G5/2");
    check_variant("from below on 2", "C5/2 C#5 D5 E5/2 G5/2");
    check_variant("from above on 1 4", "Db5 C5 D5/2 E5/2 Ab5 G5");
    check_variant("enclosed on 3", "C5/2 D5/2 F5/1/2 D#5/1/2 E5 G5/2");
}

/// Notes that are held stay held, whatever is done with their figure.
#[test]
fn variants_of_a_held_figure() {
    let check_held = |variant: &str, expected: &str| {
        let figure = "degrees = \"1 2 3 5\"\ncount = \"1-2 & 4 | -1 3-4\"";
        let exercise = format!("kind = \"figure\"\nvariant = \"{variant}\"");
        check(&with(figure, &exercise), expected);
    };
    check_held("as it is", "C5/3 D5~ D5/2 E5/2~ | E5/4 G5/4");
    check_held("reversed", "G5/3 E5~ E5/2 D5/2~ | D5/4 C5/4");
    check_held(
        "2 eighths later",
        "r/2 C5/2~ C5 D5/3 | E5/6 G5/2~ | G5/2 r/2 r/4",
    );
    check_held("half values", "C5/3/2 D5/1/2~ D5 E5~ E5/2 G5/2");
    check_held("double values", "C5/6 D5/2~ | D5/4 E5/4~ | E5/8 | G5/8");
    check_held("in 3/4", "C5/3 D5/3 | E5/6 | G5/6");
    check_held("enclosed on 3", "C5/3 D5~ D5/2 F5 D#5 | E5/4 G5/4");
}

/// How many exercises a lesson comes to, and what is said of those left out.
fn check_series(figure: &str, variants: &str, expected: usize, remark: &str) {
    let lesson = lesson(&with(
        figure,
        &format!("kind = \"figure\"\nvariants = {variants}"),
    ));
    assert_eq!(lesson.exercises.len(), expected, "{figure} {variants}");
    assert_eq!(lesson.remarks.join("; "), remark, "{figure} {variants}");
}

#[test]
fn orders_are_counted_without_what_is_the_same_again() {
    // 4! orders; 4!/2! where a note comes twice (permutations of a multiset,
    // common practice).
    check_series("degrees = \"1 2 3 5\"", "\"every order\"", 24, "");
    check_series(
        "degrees = \"1 2 1 5\"",
        "\"every order\"",
        12,
        "exercise 1 (figure): 12 variants left out, the same again: order 2 3 1 4, order 2 3 4 1, order 2 4 3 1, order 3 1 2 4, order 3 1 4 2, order 3 2 1 4, order 3 2 4 1, order 3 4 1 2 and 4 more",
    );
    check_series(
        "degrees = \"1 2 3\"",
        "[\"begun on each note\", \"every order\"]",
        6,
        "exercise 1 (figure): 3 variants left out, the same again: order 1 2 3, order 2 3 1, order 3 1 2",
    );
    check_series(
        "degrees = \"1 1\"",
        "[\"reversed\", \"as it is\"]",
        1,
        "exercise 1 (figure): 1 variant left out, the same again: as it is",
    );
}

#[test]
fn begun_on_every_eighth() {
    for (meter, eighths) in [("4/4", 8), ("7/8", 7), ("3/4", 6)] {
        let text = with(
            &format!("meter = \"{meter}\"\ndegrees = \"1 2 3\"\ncount = \"1 & 2\""),
            "kind = \"sequence\"\nending = \"none\"\nvariants = \"begun on every eighth\"",
        );
        let sheet = sheet(&text, 0).unwrap();
        let notes = sounding_notes(&sheet.score);
        let onsets = |exercise: u16| -> Vec<Fraction> {
            let own = notes.iter().filter(|note| note.origin.exercise == exercise);
            own.map(|note| note.onset).collect()
        };
        let plain = onsets(0);
        let mut begins = Fraction::ZERO;
        let bar = plain[3] - plain[0];
        for later in 0..eighths {
            let here = onsets(later);
            let first = here[0] - Fraction::new(i64::from(later), 2);
            assert!((first / bar).is_integer(), "{meter} {later}");
            assert!(first >= begins);
            begins = first;
            let expected: Vec<Fraction> = plain
                .iter()
                .map(|onset| onset - plain[0] + here[0])
                .collect();
            assert_eq!(here, expected, "{meter} {later}");
        }
    }
}

#[test]
fn all_of_a_long_figure_leaves_out_its_orders() {
    let lesson = lesson(&with(
        "degrees = \"1 2 3 4 5 6\"",
        "kind = \"keys\"\nvariants = \"all\"",
    ));
    assert_eq!(
        lesson.remarks[0],
        "exercise 1 (keys): orders are left out: a figure of 6 notes has too many orders: at most 5 notes may be put in every order"
    );
    assert_eq!(lesson.exercises.len(), 4 + 6 - 1 + 7 + 2);
}

#[test]
fn a_flip_of_its_own_wording_turns_back() {
    let figure = "moves = \"start, step up, step up\"\nflipped = \"start, step down, repeat\"\ncount = \"1 2 3\"";
    check(
        &with(
            figure,
            "kind = \"figure\"\nvariant = \"flipped\"\ndirection = \"up and down\"",
        ),
        "C4/2 B3/2 B3/4 | C5/2 D5/2 E5/4",
    );
}

fn check_study(exercise: &str, expected: &str) {
    check(
        &format!("[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[[exercise]]\n{exercise}\n"),
        expected,
    );
}

#[test]
fn studies() {
    check_study(
        "kind = \"intervals\"\nof = \"thirds\"\ndirection = \"up\"",
        "C4 E4 D4 F4 E4 G4 F4 A4 | G4 B4 A4 C5 B4 D5 C5 E5 | C5/8",
    );
    check_study(
        "kind = \"intervals\"\nof = \"thirds\"\ndirection = \"down\"",
        "C5 A4 B4 G4 A4 F4 G4 E4 | F4 D4 E4 C4 D4 B3 C4 A3 | C4/8",
    );
    check_study(
        "kind = \"intervals\"\nof = \"fourths\"\npattern = \"broken\"\ndirection = \"up\"",
        "C4 F4 G4 D4 E4 A4 B4 F4 | G4 C5 D5 A4 B4 E5 F5 C5 | C5/8",
    );
    check_study(
        "kind = \"intervals\"\nof = \"octaves\"\ndirection = \"up\"",
        "C4 C5 D4 D5 E4 E5 F4 F5 | G4 G5 A4 A5 B4 B5 C5 C6 | C5/8",
    );
    check_study(
        "kind = \"runs\"\nof = \"three\"\ndirection = \"up\"\nending = \"none\"",
        "C4 D4 E4 D4 E4 F4 E4 F4 | G4 F4 G4 A4 G4 A4 B4 A4 | B4 C5 B4 C5 D5 C5 D5 E5",
    );
    check_study(
        "kind = \"runs\"\nof = \"four\"\npattern = \"broken\"\ndirection = \"up\"\nending = \"none\"",
        "C4 D4 E4 F4 G4 F4 E4 D4 | E4 F4 G4 A4 B4 A4 G4 F4 | G4 A4 B4 C5 D5 C5 B4 A4 | B4 C5 D5 E5 F5 E5 D5 C5",
    );
}

/// Rhythms of every sort, each in its meter.
const FIGURES: [&str; 8] = [
    "degrees = \"1 2 3 5\"\ncount = \"1 & (2) & 3\"",
    "degrees = \"5 3 2 1\"\ncount = \"4 & | 1 & \"",
    "degrees = \"1 2 3\"\ncount = \"1 trip let\"",
    "degrees = \"1 2 3 5 4\"\ncount = \"& 4 & | -1 & 2 (3 4)\"",
    "meter = \"6/8\"\nmoves = \"start, from below, step up, skip up, rest, step down\"\ncount = \"1 2 3 4 (5) 6\"",
    "meter = \"7/8\"\nmoves = \"enclose, start, skip up, step down\"\ncount = \"1 2 3 4 5\"",
    "meter = \"5/4\"\ndegrees = \"1 5 8\"\ncount = \"1 2 3\"\nlength = \"3 beats\"",
    "meter = \"3/4\"\ndegrees = \"1 2 4 5 3\"\ncount = \"1 e & a 2\"",
];

#[test]
fn whatever_is_varied_every_bar_is_full_and_in_range() {
    for figure in FIGURES {
        for kind in ["figure", "sequence", "keys"] {
            let text = format!(
                "title = \"T\"\ninstruments = [\"alto saxophone\", \"trombone\", \"piccolo\"]\nlevel = \"advanced\"\n\
                 [keys]\nonly = [\"C\", \"F#\", \"Ab\"]\n[scale]\nname = \"lydian dominant\"\n\
                 [figure]\n{figure}\n[[exercise]]\nkind = \"{kind}\"\nwhen_too_wide = \"jump\"\nvariants = [\"all\", \"in 3/4\", \"in 9/8\"]\n"
            );
            let text = if figure.contains("trip") {
                // Thirds of a quarter lie across the beats of other bars.
                text.replace(", \"in 3/4\", \"in 9/8\"", "")
            } else {
                text
            };
            let lesson = lesson(&text);
            let composer = Composer::new(&lesson).unwrap();
            for plan in composer.plans() {
                let player = &lesson.players[plan.player];
                let range = player.range(player.level);
                let sheet = match composer.compose(plan) {
                    Ok(sheet) => sheet,
                    Err(left_out) => {
                        assert!(!range.holds(missing(&left_out).0), "{text} {left_out}");
                        continue;
                    }
                };
                assert!(range.holds(sheet.report.lowest) && range.holds(sheet.report.highest));
                let mut bar = 0;
                for measure in &sheet.score.part.measures {
                    if let Some(meter) = &measure.meter {
                        let ticks = meter.bar() * i64::from(sheet.score.divisions);
                        bar = ticks.to_integer();
                    }
                    let lengths = measure
                        .elements
                        .iter()
                        .map(|one| i64::from(one.written().length));
                    let length: i64 = lengths.sum();
                    assert!(length == bar || measure.implicit && length < bar, "{text}");
                }
            }
        }
    }
}

/// E G B A, rest, A G going up; from the E above E D A B, rest, B A, where the
/// plain flip ends on D.
#[test]
fn an_ending_may_stay_unflipped() {
    let of = |more: &str| {
        format!(
            "[keys]\nonly = [\"E\"]\n[scale]\nname = \"minor pentatonic\"\n[figure]\nmoves = \"start, step up, skip up, step down, rest, repeat, step down\"\ncount = \"1 & 2 & (3) & 4\"\n{more}\n[[exercise]]\nkind = \"figure\"\ndirection = \"up and down\"\n"
        )
    };
    let up = "E4 G4 B4 A4 r A4 G4/2";
    check(
        &of("unflipped = \"last\""),
        &format!("{up} | E5 D5 A4 B4 r B4 A4/2"),
    );
    check(&of(""), &format!("{up} | E5 D5 A4 B4 r B4 D5/2"));
}
