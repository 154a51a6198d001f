//! Notated music read: a lesson over a lead sheet, and a phrase lifted.

use std::fs;

use crate::support::{fresh, root, run};

const LESSON: &str = r#"
title = "From Paper"
instruments = ["alto saxophone"]
[keys]
only = ["C"]
[changes]
key = "C"
lead_sheet = "sheet.musicxml"
[figure]
meter = "METER"
moves = "start, step up, step up"
[[exercise]]
kind = "changes"
"#;

#[test]
fn a_lesson_takes_its_changes_from_a_file_beside_it() {
    let folder = fresh("lead-sheet");
    let sheet = root().join("fixtures/notation/40_harm_list.musicxml");
    let lesson = folder.join("paper.toml");
    fs::write(&lesson, LESSON.replace("METER", "4/4")).unwrap();
    let lesson = lesson.to_str().unwrap();
    let missing = run(["check", lesson]);
    assert_eq!(missing.code, 2);
    assert!(
        missing.err.contains("there is no such file"),
        "{}",
        missing.err
    );
    fs::write(folder.join("sheet.musicxml"), "<score-partwise>").unwrap();
    assert_eq!(run(["check", lesson]).code, 2);
    fs::copy(sheet, folder.join("sheet.musicxml")).unwrap();
    let explained = run(["check", "--explain", lesson]);
    assert_eq!(explained.code, 0, "{}", explained.err);
    assert!(explained.out.contains("because"), "{}", explained.out);
    // Named by its whole path it is read, and that is told.
    let whole = folder.join("sheet.musicxml");
    let absolute = folder.join("whole.toml");
    let text = LESSON.replace("METER", "4/4");
    let text = text.replace("\"sheet.musicxml\"", &format!("'{}'", whole.display()));
    fs::write(&absolute, text).unwrap();
    let told = run(["check", absolute.to_str().unwrap()]);
    assert_eq!(told.code, 0, "{}", told.err);
    assert!(told.err.contains("its whole path"), "{}", told.err);
}

/// What helps fits what is wrong: only a broken file is exported again.
#[test]
fn help_fits_the_fault() {
    let folder = fresh("lift-help");
    let broken = folder.join("broken.musicxml");
    fs::write(&broken, "<score-partwise><part>").unwrap();
    let other = folder.join("other.musicxml");
    fs::write(&other, "<html></html>").unwrap();
    let phrase = root().join("fixtures/notation/35_tied_only.musicxml");
    let check = |arguments: &[&str], help: &str| {
        let ran = run(arguments.iter().copied());
        assert_eq!(ran.code, 2, "{}", ran.err);
        assert!(ran.err.contains(&format!("help: {help}\n")), "{}", ran.err);
    };
    let again = "export it again as MusicXML from the program it was written in";
    check(&["lift", broken.to_str().unwrap()], again);
    check(
        &["lift", other.to_str().unwrap()],
        "export it as MusicXML from the program it was written in",
    );
    let phrase = phrase.to_str().unwrap();
    check(
        &["lift", phrase, "--bars", "90-91"],
        "name one that is there",
    );
    check(&["lift", phrase, "--staff", "2"], "name one that is there");
}

#[test]
fn a_phrase_becomes_a_lesson() {
    let folder = fresh("lift");
    let phrase = "fixtures/notation/35_tied_only.musicxml";
    let printed = run(["lift", phrase]);
    assert_eq!(printed.code, 0, "{}", printed.err);
    let lesson = folder.join("lifted.toml");
    let lesson = lesson.to_str().unwrap();
    let written = run(["lift", phrase, "--out", lesson]);
    assert_eq!(written.code, 0, "{}", written.err);
    assert_eq!(fs::read_to_string(lesson).unwrap(), printed.out);
    assert_eq!(run(["check", lesson]).code, 0);
    assert_eq!(run(["lift", phrase, "--out", lesson]).code, 1);
    for wrong in [
        ["lift", "no-such-file.musicxml", "--bars", "1"],
        ["lift", phrase, "--bars", "90-91"],
        ["lift", phrase, "--bars", "2-1"],
        ["lift", phrase, "--scale", "dorain"],
    ] {
        assert_eq!(run(wrong).code, 2, "{wrong:?}");
    }
}
