//! What changes mean.

use super::*;

/// Chords with the scale each takes and why.
fn check_scales(bars: &str, choose: &str, expected: &[&str]) {
    let lesson = lesson(&format!(
        "title = \"A\"\n[changes]\nkey = \"C\"\nbars = \"{bars}\"\n[figure]\nmoves = \"start\"\n[choose]\n{choose}\n[[exercise]]\nkind = \"changes\""
    ));
    let Some(over) = lesson.exercises[0].kind.over() else {
        unreachable!("an exercise over changes has them");
    };
    let found: Vec<String> = over
        .chords
        .iter()
        .map(|chord| {
            let scale = chord
                .scale
                .map(|at| lesson.scales[at].scale.name.to_lowercase());
            format!(
                "{} {}: {}",
                chord.symbol,
                scale.unwrap_or_default(),
                chord.rule.words()
            )
        })
        .collect();
    assert_eq!(found, expected, "{bars}: {choose}");
}

#[test]
fn scales_are_chosen_from_the_most_particular() {
    check_scales(
        "| Dm7 | Db7 | Cmaj7 | G7 |",
        "",
        &[
            "Dm7 dorian: usual",
            "Db7 lydian dominant: goes down a half step",
            "Cmaj7 major: usual",
            "G7 mixolydian: usual", // Dm7 comes next, but a fourth lower
        ],
    );
    check_scales(
        "| G7 | Cm7 |",
        "",
        &[
            "G7 phrygian dominant: goes down a fifth to minor",
            "Cm7 dorian: usual",
        ],
    );
    let all = "\"7\" = \"mixolydian\"\n\"7 down a half step\" = \"altered\"\n\"Db7\" = \"whole tone\"\n\"bar 2\" = \"tritone\"";
    let second = |choose: &str, rule: &str| {
        let first = if choose.contains("\"7\"") {
            "C7 mixolydian: said for chords of this kind"
        } else {
            "C7 mixolydian: usual"
        };
        check_scales(
            "| C7 | Db7 | C6 |",
            choose,
            &[first, rule, "C6 major: usual"],
        );
    };
    let without = |lines: usize| {
        let kept = all.lines().count() - lines;
        all.lines().take(kept).collect::<Vec<_>>().join("\n")
    };
    second(&without(0), "Db7 tritone scale: said for this bar");
    second(&without(1), "Db7 whole tone: said for this chord");
    second(
        &without(2),
        "Db7 altered: said for a chord that goes down a half step",
    );
    second(&without(3), "Db7 mixolydian: said for chords of this kind");
    second(&without(4), "Db7 lydian dominant: goes down a half step");
}

#[test]
fn a_chord_by_name_is_any_over_the_same_root() {
    check_scales(
        "| C7/E | C7 | F6 |",
        "\"C7\" = \"altered\"",
        &[
            "C7/E altered: said for this chord",
            "C7 altered: said for this chord",
            "F6 major: usual",
        ],
    );
    check_scales(
        "| C7/E | C7 | F6 |",
        "\"C7/E\" = \"altered\"",
        &[
            "C7/E altered: said for this chord",
            "C7 mixolydian: usual",
            "F6 major: usual",
        ],
    );
}

#[test]
fn a_form_plays_sections_in_order() {
    let check = |form: &str| {
        let lesson = lesson(&format!(
            "title = \"A\"\n[changes]\nkey = \"C\"\nform = {form}\n[[section]]\nname = \"A\"\nbars = \"| C6 | Dm7 |\"\n[[section]]\nname = \"B\"\nbars = \"| F6 |\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"changes\""
        ));
        let over = lesson.exercises[0].kind.over().unwrap();
        let bars: Vec<&str> = over
            .bars
            .iter()
            .map(|bar| bar.section.as_deref().unwrap_or("-"))
            .collect();
        assert_eq!(bars.join(" "), "A - A - B A -", "{form}");
        let chords: Vec<String> = over
            .chords
            .iter()
            .map(|chord| chord.symbol.to_string())
            .collect();
        assert_eq!(chords.join(" "), "C6 Dm7 C6 Dm7 F6 C6 Dm7", "{form}");
    };
    check("[\"A\", \"A\", \"B\", \"A\"]");
    check("\"A A B A\"");
    check("\"a a b a\"");
}

#[test]
fn several_figures_to_choose_from_and_where_they_begin() {
    let lesson = lesson(
        r#"
title = "A"
[changes]
bars = "| Dm7 | G7 |"
[[figure]]
name = "cell"
moves = "start, step up"
[[figure]]
name = "hop"
moves = "start, skip up, step down"
[[exercise]]
kind = "changes"
figures = ["hop", "cell"]
variants = ["as it is", "flipped"]
begins = "1 b7"
"#,
    );
    let ExerciseKind::Changes(over, phrasing) = &lesson.exercises[0].kind else {
        panic!("{:?}", lesson.exercises[0].kind);
    };
    let begins: Vec<String> = phrasing.begins.iter().map(ToString::to_string).collect();
    assert_eq!(begins, ["1", "b7"]);
    for (_, figures) in &over.choruses[0].figures {
        let names: Vec<_> = figures
            .iter()
            .map(|at| lesson.figures[*at].name.as_deref().unwrap())
            .collect();
        assert_eq!(names, ["hop", "hop", "cell", "cell"]);
    }
}

#[test]
fn connections_weigh_where_they_are_said() {
    let check = |said: &str, connect: Connect, shift: Shift, weights: [u8; 3]| {
        let lesson = lesson(&format!(
            "title = \"A\"\n[figure]\nmoves = \"start, step up\"\n[changes]\nbars = \"| C7 | F7 |\"\n[[exercise]]\nkind = \"changes\"\n{said}\n"
        ));
        let ExerciseKind::Changes(_, phrasing) = &lesson.exercises[0].kind else {
            panic!("{:?}", lesson.exercises[0].kind);
        };
        let found = (phrasing.connect, phrasing.shift);
        assert_eq!(found, (connect, shift), "{said}");
        let found = &phrasing.weights;
        let found = [found.phrase, found.high_point, found.connect];
        assert_eq!(found, weights, "{said}");
    };
    check("", Connect::None, Shift::None, [0, 0, 0]);
    check("connect = \"run\"", Connect::Run, Shift::None, [0, 0, 2]);
    check(
        "connect = \"approach\"\nweights = { phrase = 4, high_point = 5, connect = 1 }",
        Connect::Approach,
        Shift::None,
        [4, 5, 1],
    );
    check(
        "shift = \"Over the bar\"",
        Connect::None,
        Shift::OverTheBar,
        [0, 0, 0],
    );
}
