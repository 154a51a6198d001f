//! The program beside others: completed by a shell, listed, documented.

use std::fs;

use crate::support::{command, fresh, lesson, plain, ran, root, run};

const SHELLS: [&str; 4] = ["bash", "zsh", "fish", "powershell"];

/// What bash is offered for the last of these words.
fn offered(folder: &std::path::Path, words: &[&str]) -> Vec<String> {
    let index = (words.len() - 1).to_string();
    let output = command([&["--"], words].concat())
        .current_dir(folder)
        .env("TWELVEFOLD_COMPLETE", "bash")
        .env("_CLAP_COMPLETE_INDEX", index)
        .env("_CLAP_COMPLETE_COMP_TYPE", "9")
        .env("_CLAP_COMPLETE_SPACE", "true")
        .env("_CLAP_IFS", "\n")
        .output()
        .unwrap();
    let ran = ran(output);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    ran.out.lines().map(|line| line.trim().to_owned()).collect()
}

#[test]
fn every_shell_is_told_how_to_ask() {
    for shell in SHELLS {
        let told = run(["completions", shell]);
        assert_eq!((told.code, told.err.as_str()), (0, ""), "{shell}");
        assert!(told.out.contains("TWELVEFOLD_COMPLETE"), "{shell}");
    }
    assert_eq!(run(["completions", "parrot"]).code, 2);
}

#[test]
fn names_keys_and_lessons_are_completed() {
    let folder = fresh("completed");
    lesson(&folder, "monday.toml", &plain(""));
    lesson(&folder, "notes.txt", "");
    fs::create_dir(folder.join("more")).unwrap();
    let check = |words: &[&str], has: &[&str], has_not: &[&str]| {
        let offered = offered(&folder, words);
        let is = |one: &&str| offered.iter().any(|offer| offer == one);
        assert!(has.iter().all(is), "{words:?}: {offered:?}");
        assert!(!has_not.iter().any(is), "{words:?}: {offered:?}");
    };
    check(
        &["twelvefold", ""],
        &["write", "check", "list", "completions"],
        &[],
    );
    check(
        &["twelvefold", "write", "m"],
        &["monday.toml", "more/"],
        &["notes.txt"],
    );
    check(&["twelvefold", "check", "n"], &[], &["notes.txt"]);
    check(
        &["twelvefold", "write", "--instrument", "alto-s"],
        &["alto-saxophone"],
        &["alto-flute"],
    );
    check(&["twelvefold", "write", "--key", "B"], &["B", "Bb"], &["C"]);
    check(
        &["twelvefold", "write", "--format", "m"],
        &["musicxml", "mxl", "midi"],
        &["pdf"],
    );
    check(
        &["twelvefold", "lift", "a.musicxml", "--scale", "lydian-d"],
        &["lydian-dominant"],
        &["dorian"],
    );
    check(
        &["twelvefold", "spell", "Gb lydian-d"],
        &["Gb lydian-dominant"],
        &["Gb dorian"],
    );
    check(
        &["twelvefold", "list", "scales", "phrygian-d"],
        &["phrygian-dominant"],
        &[],
    );
}

#[test]
fn the_manual_has_a_page_for_each_command() {
    let folder = fresh("manual").join("man1");
    assert_eq!(run(["man", folder.to_str().unwrap()]).code, 0);
    let page = |name: &str| fs::read_to_string(folder.join(name)).unwrap();
    let main = page("twelvefold.1");
    for command in [
        "write",
        "check",
        "lift",
        "list",
        "spell",
        "start",
        "completions",
        "man",
    ] {
        let own = page(&format!("twelvefold-{command}.1"));
        assert!(own.contains(".SH SYNOPSIS"), "{command}");
        let listed = format!("twelvefold\\-{command}(1)");
        assert!(main.contains(&listed), "{command}: {main}");
    }
    assert!(page("twelvefold-write.1").contains("edited one stays as NAME.edited"));
}

#[test]
fn the_version_says_the_commit() {
    let version = run(["--version"]).out;
    assert!(
        version.starts_with(concat!("twelvefold ", env!("CARGO_PKG_VERSION"))),
        "{version}"
    );
    let commit = std::process::Command::new("git")
        .args(["rev-parse", "--short=12", "HEAD"])
        .current_dir(root())
        .output();
    if commit.is_ok_and(|commit| commit.status.success()) {
        let (_, commit) = version.trim_end().split_once(" (").unwrap();
        let digits = commit.strip_suffix(')').unwrap();
        assert!(digits.len() >= 12 && digits.bytes().all(|one| one.is_ascii_hexdigit()));
    }
}

#[test]
fn a_catalogue_can_be_narrowed_and_one_thing_looked_up() {
    let ids = |arguments: &[&str]| -> Vec<String> {
        let ran = run([&["list"], arguments, &["--format", "json"]].concat());
        let all = ran.json();
        let ids = all.as_array().unwrap().iter();
        ids.map(|one| one["id"].as_str().unwrap().to_owned())
            .collect()
    };
    let five = ids(&["scales", "--notes", "5"]);
    assert!(five.contains(&"minor-pentatonic".to_owned()));
    assert!(!five.contains(&"major".to_owned()));
    assert!(five.len() < ids(&["scales"]).len());
    let brass = ids(&["instruments", "--family", "brass"]);
    assert!(brass.contains(&"tuba".to_owned()) && !brass.contains(&"flute".to_owned()));
    assert_eq!(ids(&["instruments", "alto sax"]), ["alto-saxophone"]);
    // Rules 1 and 3; handbook names of the scale (common practice).
    let keys = run(["list", "scales", "harmonic minor", "--format", "json"]).json();
    assert_eq!(keys.as_array().unwrap().len(), 12);
    let spelled = |key: &str| {
        let all = keys.as_array().unwrap();
        let one = all.iter().find(|one| one["key"] == key).unwrap();
        one["notes"].as_array().unwrap().clone()
    };
    assert_eq!(spelled("A"), ["A", "B", "C", "D", "E", "F", "G#"]);
    assert_eq!(spelled("C#"), ["C#", "D#", "E", "F#", "G#", "A", "B#"]);
    let chord = run(["list", "chords", "m7b5"]).out;
    assert!(
        chord.contains("Cm7(b5)") && chord.contains("also understood: "),
        "{chord}"
    );
    assert!(!run(["list", "chords"]).out.contains("also"));
    for wrong in [
        &["list", "chords", "--notes", "5"] as &[&str],
        &["list", "scales", "dorain"],
        &["list", "scales", "--family", "brass"],
        &["list", "exercises", "scale"],
    ] {
        let ran = run(wrong);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{wrong:?}");
        assert!(ran.err.contains("help: "), "{wrong:?}: {}", ran.err);
    }
}
