//! Courses at the terminal: what `check` says of them, where `write` puts
//! things, and mistakes in a course and its lessons, each in its own file.

use std::fs;
use std::path::{Path, PathBuf};

use crate::support::{Ran, fresh, lesson, run, tree};

const SHIPPED: &str = "fixtures/courses/lamplight-term.toml";

/// Two lessons, and a course of them over three weeks.
fn term(name: &str) -> (PathBuf, PathBuf) {
    let folder = fresh(name);
    for (name, moves) in [("stairs", "start, step up"), ("ladder", "start, skip up")] {
        let text = format!(
            "title = \"{name}\"\n[keys]\nonly = [\"C\", \"F\", \"G\"]\n[scale]\nname = \"major\"\n\
             [figure]\nmoves = \"{moves}\"\n[[exercise]]\nkind = \"sequence\"\n"
        );
        lesson(&folder, &format!("{name}.toml"), &text);
    }
    let text = "course = \"Short Term\"\ntempo = 60\n\
        [[player]]\nname = \"Ada\"\ninstrument = \"flute\"\n\
        [[player]]\nname = \"Ben\"\ninstrument = \"alto saxophone\"\n\
        [[week]]\ntitle = \"Up\"\nlessons = [\"stairs.toml\"]\nkeys = [\"C\", \"F\"]\n\
        [[week]]\nlessons = [\"ladder.toml\"]\n\
        [[week]]\nagain = 2\nkeys = [\"G\"]\n";
    (lesson(&folder, "term.toml", text), folder.join("out"))
}

fn write(course: &Path, out: &Path, more: &[&str]) -> Ran {
    let own = [
        "write",
        course.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
    ];
    run([&own as &[&str], more].concat())
}

#[test]
fn check_says_what_each_player_meets_each_week() {
    let (course, out) = term("course-check");
    let ran = run(["check", course.to_str().unwrap()]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let said = |line: &str| {
        let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            ran.out.lines().any(|one| words(one) == line),
            "{line}\n{}",
            ran.out
        );
    };
    said("Short Term (term): 2 lessons, 3 weeks, 2 players");
    said("Week 1, Up");
    said("Week 2");
    // Per key 8 statements up, 8 down and the closing root, a bar each: 17 bars; two keys at 60 take
    // 34 × 4 s.
    said("Ada stairs C, F 34 3");
    said("Ben stairs A, D 34 3");
    said("Ada stairs, again G 17 2");
    assert!(!out.exists());
    let json = run(["check", course.to_str().unwrap(), "--format", "json"]).json();
    let ada = &json[0]["weeks"][0]["players"][0];
    assert_eq!(ada["player"], "Ada");
    assert_eq!(
        (&ada["lessons"][0]["bars"], &ada["lessons"][0]["seconds"]),
        (&34.into(), &136.into())
    );
    assert_eq!(json[0]["lessons"].as_array().unwrap().len(), 2);
}

#[test]
fn the_shipped_course_surprises_nobody_unsaid() {
    let ran = run(["check", SHIPPED]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(
        ran.out
            .starts_with("Lamplight Term (lamplight-term): 6 lessons, 4 weeks, 3 players\n")
    );
    assert_eq!(
        ran.out
            .lines()
            .filter(|line| line.starts_with("Week "))
            .count(),
        4
    );
}

#[test]
fn what_a_week_leaves_out_is_told() {
    let (course, _) = term("course-left-out");
    let text = fs::read_to_string(&course).unwrap();
    let text = text.replace("\"flute\"\n", "\"flute\"\nlow = \"C4\"\nhigh = \"C5\"\n");
    fs::write(&course, text).unwrap();
    for name in ["stairs", "ladder"] {
        let path = course.with_file_name(format!("{name}.toml"));
        let text = fs::read_to_string(&path).unwrap() + "when_too_wide = \"leave out\"\n";
        fs::write(&path, text).unwrap();
    }
    let ran = run(["check", course.to_str().unwrap()]);
    assert_eq!(ran.code, 3, "{}", ran.out);
    assert!(ran.out.contains("left out: Ada, stairs: "), "{}", ran.out);
    assert!(!ran.out.contains("left out: Ben"), "{}", ran.out);
}

#[test]
fn a_course_is_written_whole_by_any_number_of_cores_or_parts() {
    let (course, out) = term("course-write");
    let formats = ["--format", "musicxml,midi"];
    let ran = write(
        &course,
        &out,
        &[&formats as &[&str], &["--jobs", "1"]].concat(),
    );
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let whole = tree(&out);
    for file in [
        "term/ada/book.musicxml",
        "term/ben/book.musicxml",
        "term/contents.json",
        "term/lessons/stairs/ada/01-c.musicxml",
        "term/lessons/ladder/contents.json",
    ] {
        assert!(whole.contains_key(file), "{file}: {:?}", whole.keys());
    }
    let tracks = |week: &str| whole.keys().filter(|file| file.contains(week)).count();
    assert_eq!(
        ["ada/week-01/", "ben/week-02/", "ada/week-03/"].map(tracks),
        [2, 3, 1]
    );
    let again = write(&course, &out, &formats);
    assert_eq!((again.code, tree(&out) == whole), (0, true));
    let parts = out.with_file_name("parts");
    for part in ["2/3", "1/3", "3/3"] {
        let ran = write(
            &course,
            &parts,
            &[&formats as &[&str], &["--part", part]].concat(),
        );
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{part}");
    }
    let names = |tree: &std::collections::BTreeMap<String, Vec<u8>>| {
        tree.keys().cloned().collect::<Vec<_>>()
    };
    assert_eq!(names(&tree(&parts)), names(&whole));
    assert!(tree(&parts) == whole);
}

#[test]
fn an_edited_sheet_of_a_course_stays_and_the_run_says_what_its_book_holds() {
    let (course, out) = term("course-edit");
    assert_eq!(write(&course, &out, &[]).code, 0);
    let sheet = out.join("term/lessons/stairs/ada/01-c.musicxml");
    fs::write(&sheet, "mine").unwrap();
    let ran = write(&course, &out, &[]);
    assert_eq!(fs::read_to_string(&sheet).unwrap(), "mine");
    assert_eq!(ran.code, 3, "{}", ran.err);
    assert!(
        ran.err.contains("lessons/stairs/ada/01-c.musicxml"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("books and packets hold"), "{}", ran.err);
}

#[test]
fn a_lesson_by_itself_and_in_a_course_is_written_in_both_places() {
    let (course, out) = term("course-both");
    let stairs = course.with_file_name("stairs.toml");
    let ran = write(&course, &out, &[stairs.to_str().unwrap()]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let files = tree(&out);
    assert!(files.keys().any(|file| file.starts_with("stairs/")));
    assert!(files.contains_key("term/lessons/stairs/ada/01-c.musicxml"));
}

/// Each with its own file and line, all at once, nothing written.
#[test]
fn every_mistake_in_a_course_is_told_where_it_stands() {
    let (course, out) = term("course-mistakes");
    let text = fs::read_to_string(&course).unwrap();
    let text = text
        .replace(
            "\"ladder.toml\"",
            "\"ladder.toml\", \"gone.toml\", \"more/stairs.toml\"",
        )
        .replace("again = 2\nkeys = [\"G\"]", "again = 5")
        .replace("keys = [\"C\", \"F\"]", "keys = [\"C\", \"B\"]");
    fs::write(&course, text + "[[week]]\ntitle = \"Nothing\"\n").unwrap();
    fs::create_dir_all(course.with_file_name("more")).unwrap();
    let stairs = fs::read_to_string(course.with_file_name("stairs.toml")).unwrap();
    fs::write(course.with_file_name("more").join("stairs.toml"), stairs).unwrap();
    let ladder = course.with_file_name("ladder.toml");
    let wrong = fs::read_to_string(&ladder).unwrap();
    fs::write(
        &ladder,
        wrong
            .replace("skip up", "skip upp")
            .replace("major", "dorain"),
    )
    .unwrap();
    let ran = write(&course, &out, &[]);
    assert_eq!(ran.code, 2, "{}", ran.err);
    for told in [
        "ladder.toml:5:",
        "ladder.toml:7:",
        "did you mean \"dorian\"?",
        "gone.toml",
        "term.toml:1",
    ] {
        assert!(ran.err.contains(told), "{told}\n{}", ran.err);
    }
    assert!(
        ran.err.contains("2 mistakes in") && ran.err.contains("nothing was written"),
        "{}",
        ran.err
    );
    assert!(!out.exists());
    // What the course itself has wrong is told whatever its lessons have.
    fs::write(&ladder, wrong).unwrap();
    let ran = run(["check", course.to_str().unwrap()]);
    assert_eq!(ran.code, 2);
    let places: Vec<&str> = ran
        .err
        .lines()
        .filter(|line| line.contains("--> "))
        .collect();
    assert!(
        places.iter().all(|line| line.contains("term.toml:")) && places.len() >= 4,
        "{}",
        ran.err
    );
}
