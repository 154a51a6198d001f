//! Lessons with mistakes: told all at once, and nothing written.

use crate::support::{fresh, lesson, plain, run, tree};

#[test]
fn seven_mistakes_are_seven_messages() {
    let out = fresh("seven");
    let ran = run([
        "write",
        "fixtures/lessons/mistakes/seven.toml",
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert_eq!(ran.err.matches("mistake: ").count(), 7, "{}", ran.err);
    let places: Vec<&str> = ran
        .err
        .lines()
        .filter_map(|line| line.trim_start().strip_prefix("--> "))
        .collect();
    let expected = [(3, 16), (4, 9), (5, 1), (9, 8), (12, 8), (16, 17), (17, 14)];
    let expected: Vec<String> = expected
        .iter()
        .map(|(line, column)| format!("fixtures/lessons/mistakes/seven.toml:{line}:{column}"))
        .collect();
    assert_eq!(places, expected, "{}", ran.err);
    assert!(tree(&out).is_empty());
    insta::assert_snapshot!(ran.err);
}

#[test]
fn broken_syntax_is_one_message_without_echoes() {
    let ran = run(["check", "fixtures/lessons/mistakes/broken.toml"]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.err.matches("mistake: ").count(), 1, "{}", ran.err);
    assert!(ran.err.contains("broken.toml:2:9"), "{}", ran.err);
    insta::assert_snapshot!(ran.err);
}

#[test]
fn one_wrong_lesson_stops_the_right_one_too() {
    let out = fresh("one-wrong");
    let lessons = [
        "fixtures/lessons/smallest.toml",
        "fixtures/lessons/mistakes/broken.toml",
    ];
    let ran = run([
        "write",
        lessons[0],
        lessons[1],
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!(ran.code, 2);
    assert!(tree(&out).is_empty());
}

#[test]
fn lessons_that_would_share_a_folder_are_refused() {
    let folder = fresh("same-id");
    let first = lesson(&folder, "a.toml", &plain("id = \"plain-ground\""));
    let second = lesson(&folder, "b.toml", &plain("id = \"Plain Ground\""));
    let out = folder.join("out");
    let both = [first.to_str().unwrap(), second.to_str().unwrap()];
    let ran = run(["write", both[0], both[1], "--out", out.to_str().unwrap()]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("would share the folder plain-ground"),
        "{}",
        ran.err
    );
    assert!(!out.exists());
    let twice = run(["write", both[0], both[0], "--out", out.to_str().unwrap()]);
    assert_eq!((twice.code, twice.out.lines().count()), (0, 2));
}

/// A lead sheet that can't be had is a mistake of the line that names it.
#[test]
fn a_lead_sheet_that_can_t_be_read_is_told_where_it_is_named() {
    let folder = fresh("no-lead-sheet");
    let check = |name: &str, words: &str| {
        let text = format!(
            "title = \"A\"\n[changes]\nlead_sheet = \"{name}\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"changes\"\n"
        );
        let path = lesson(&folder, "lesson.toml", &text);
        let ran = run(["check", path.to_str().unwrap()]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.err);
        assert!(ran.err.contains("lesson.toml:3:14"), "{}", ran.err);
        assert!(ran.err.contains(words), "{}", ran.err);
        assert!(ran.err.contains("help: "), "{}", ran.err);
        assert!(ran.err.contains("1 mistake in"), "{}", ran.err);
    };
    check("tune.musicxml", "tune.musicxml: there is no such file");
    check("", "empty");
    check(".", "is a folder");
}
