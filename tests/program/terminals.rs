//! What must not reach a terminal or a name, and what must not be waited for.

use std::fs;

use crate::support::{fresh, lesson, plain, run, tree};

/// Colours a terminal, clears it, turns a line round, and ends one.
const HARMFUL: &str = "\u{1b}[31m\u{9b}2J\u{202e}\u{2028}\u{7}";

fn check_harmless(arguments: &[&str], code: i32) {
    let ran = run(arguments);
    assert_eq!(ran.code, code, "{arguments:?} {}", ran.err);
    for said in [&ran.out, &ran.err] {
        let harmful = |letter: char| {
            letter.is_control() && letter != '\n' || "\u{202e}\u{2028}".contains(letter)
        };
        assert!(!said.contains(harmful), "{arguments:?} {said:?}");
    }
}

#[cfg(unix)]
#[test]
fn nothing_a_terminal_would_obey_reaches_it() {
    let folder = fresh("harmful");
    let named = lesson(&folder, &format!("a{HARMFUL}b.toml"), &plain(""));
    let out = folder.join("out");
    let out = out.to_str().unwrap();
    check_harmless(&["write", named.to_str().unwrap(), "--out", out], 0);
    check_harmless(&["check", named.to_str().unwrap()], 0);
    let folders: Vec<_> = fs::read_dir(out).unwrap().flatten().collect();
    assert!(
        folders.iter().any(|one| one.file_name() == "a-31m-2j-b"),
        "{folders:?}"
    );
    // A mark that nobody sees is a mistake, and is shown as what it is.
    let turned = lesson(
        &folder,
        "turned.toml",
        &plain("").replace("Plain", "\u{202e}nialP"),
    );
    let turned = turned.to_str().unwrap();
    check_harmless(&["check", turned], 2);
    check_harmless(&["write", turned, "--format", "json"], 2);
    let text = format!("title = \"A\"\n# {HARMFUL}\nscael = \"\u{202e}\u{2028}\u{9b}\"\n");
    let wrong = lesson(&folder, "wrong.toml", &text);
    check_harmless(&["write", wrong.to_str().unwrap(), "--out", out], 2);
    let gone = folder.join(format!("gone{HARMFUL}.toml"));
    check_harmless(&["write", gone.to_str().unwrap()], 2);
    for arguments in [
        &["write", turned, "--key", HARMFUL, "--out", out] as &[&str],
        &["write", turned, "--instrument", HARMFUL, "--out", out],
        &["write", turned, "--room", HARMFUL],
        &["spell", HARMFUL],
        &["list", HARMFUL],
        &["list", "scales", HARMFUL],
        &["lift", "fixtures/lead-sheets", "--part", HARMFUL],
    ] {
        check_harmless(arguments, 2);
    }
    let score = "<score-partwise><part-list><score-part id=\"P1\"><part-name>\u{202e}A</part-name>\
         </score-part></part-list><part id=\"P1\"><measure><note><chord/>\u{2028}</note></measure>\
         </part></score-partwise>";
    let score = lesson(&folder, "score.musicxml", score);
    check_harmless(&["lift", score.to_str().unwrap(), "--part", "\u{9b}"], 2);
}

/// As systems type it: one letter with its accent, or a letter and an accent.
#[test]
fn a_name_composed_or_decomposed_is_one_folder() {
    let folder = fresh("composed");
    let out = folder.join("out");
    let player = |name: &str| {
        let text = plain(&format!(
            "[[player]]\nname = \"{name}\"\ninstrument = \"flute\""
        ));
        let text = text.replace("[scale]", "[keys]\nonly = [\"C\"]\n[scale]");
        lesson(&folder, "a.toml", &text)
    };
    for name in ["Zoé", "Zoe\u{301}"] {
        let lesson = player(name);
        let ran = run([
            "write",
            lesson.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
        ]);
        assert_eq!(ran.code, 0, "{}", ran.err);
    }
    let names: Vec<String> = tree(&out).into_keys().collect();
    assert_eq!(names, ["a/contents.json", "a/zoé/01-c.musicxml"]);
}

/// A pipe has no end until somebody writes into it.
#[cfg(unix)]
#[test]
fn nothing_is_waited_for_that_is_no_file() {
    let folder = fresh("pipes");
    let pipe = |name: &str| {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        let made = std::process::Command::new("mkfifo").arg(&path).status();
        assert!(made.unwrap().success());
        path.to_str().unwrap().to_owned()
    };
    let plain_lesson = lesson(
        &folder,
        "plain.toml",
        &plain("instruments = [\"flute\"]\n[keys]\nonly = [\"C\"]"),
    );
    let plain_lesson = plain_lesson.to_str().unwrap();
    let refused = |arguments: &[&str], code: i32, words: &str| {
        let ran = run(arguments);
        assert_eq!(ran.code, code, "{arguments:?} {}", ran.err);
        assert!(ran.err.contains(words), "{arguments:?} {}", ran.err);
    };
    let words = "a pipe or a device";
    refused(&["write", &pipe("lesson.toml")], 2, words);
    refused(&["check", &pipe("other.toml")], 2, words);
    refused(&["lift", &pipe("phrase.musicxml")], 2, words);
    pipe("tune.musicxml");
    let named = lesson(
        &folder,
        "named.toml",
        "title = \"A\"\n[changes]\nlead_sheet = \"tune.musicxml\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"changes\"\n",
    );
    refused(&["write", named.to_str().unwrap()], 2, words);
    let out = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    let font = pipe("font.sf2");
    refused(
        &[
            "write",
            plain_lesson,
            "--out",
            &out("font"),
            "--format",
            "wav",
            "--soundfont",
            &font,
        ],
        1,
        words,
    );
    for (place, code) in [
        ("sheet/plain/flute/01-c.musicxml", 1),
        ("contents/plain/contents.json", 1),
        ("lock/.twelvefold.lock", 1),
        ("notes/plain/.pending", 1),
    ] {
        pipe(place);
        let (root, _) = place.split_once('/').unwrap();
        refused(&["write", plain_lesson, "--out", &out(root)], code, words);
    }
}
