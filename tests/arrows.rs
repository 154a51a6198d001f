//! Holds the crates to the design's arrows: what each may build on, and
//! nothing else of ours.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use toml::de::DeTable;

/// Each crate and the crates of ours that it may name.
const ARROWS: &[(&str, &[&str])] = &[
    ("theory", &[]),
    ("rhythm", &[]),
    ("lesson", &["theory", "rhythm"]),
    ("lesson-text", &["theory", "rhythm", "lesson"]),
    ("score", &["theory", "rhythm"]),
    ("etude", &["theory", "rhythm", "lesson", "score"]),
    ("writer", &["theory", "rhythm", "score"]),
    ("sound", &["theory", "rhythm", "score"]),
    ("engrave", &["theory", "rhythm", "score", "writer"]),
    ("reader", &["theory", "rhythm", "lesson"]),
    (
        "cli",
        &[
            "theory",
            "rhythm",
            "lesson",
            "lesson-text",
            "etude",
            "score",
            "writer",
            "sound",
            "reader",
            "engrave",
        ],
    ),
];

/// What tests of a crate may name beyond that: etude's are written in a
/// teacher's words.
const TESTS: &[(&str, &[&str])] = &[
    ("etude", &["lesson-text", "writer"]),
    ("reader", &["etude", "lesson-text", "score", "writer"]),
];

/// Dependencies that only the program may have: the core opens no files,
/// draws no messages, starts no threads.
const CLI_ONLY: [&str; 5] = ["anyhow", "annotate-snippets", "clap", "rayon", "serde_json"];

#[test]
fn crates_name_only_what_lies_before_them() {
    for name in crates() {
        let arrow = ARROWS.iter().find(|(of, _)| *of == name);
        let (_, may_name) = arrow.unwrap_or_else(|| panic!("{name} has no arrow"));
        let tests = TESTS.iter().find(|(of, _)| *of == name);
        let tests = tests.map_or(&[][..], |(_, may_name)| may_name);
        for (kind, more) in [
            ("dependencies", &[][..]),
            ("build-dependencies", &[][..]),
            ("dev-dependencies", tests),
        ] {
            let named = dependencies(&name, kind);
            let ours = ARROWS.iter().map(|(name, _)| *name);
            let ours = ours.filter(|ours| named.contains(*ours));
            let beyond: Vec<&str> = ours
                .filter(|other| !may_name.contains(other) && !more.contains(other))
                .collect();
            assert!(beyond.is_empty(), "{name}'s {kind} name {beyond:?}");
        }
    }
}

#[test]
fn only_the_program_has_the_program_s_dependencies() {
    for name in crates().iter().filter(|name| *name != "cli") {
        let named = dependencies(name, "dependencies");
        assert!(
            CLI_ONLY.iter().all(|only| !named.contains(*only)),
            "{name}: {named:?}"
        );
    }
}

#[test]
fn every_crate_takes_the_workspace_s_lints_and_libraries_deny_missing_docs() {
    for name in crates() {
        assert!(
            manifest(&name).contains("[lints]\nworkspace = true"),
            "{name}"
        );
        if name != "cli" {
            let library = fs::read_to_string(folder().join(&name).join("src/lib.rs")).unwrap();
            assert!(library.contains("#![deny(missing_docs)]"), "{name}");
        }
    }
}

#[cfg(test)]
fn crates() -> Vec<String> {
    let entries = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap());
    let mut names: Vec<String> = entries
        .map(|entry| entry.file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert!(names.len() >= 8);
    names
}

#[cfg(test)]
fn dependencies(name: &str, kind: &str) -> BTreeSet<String> {
    let text = manifest(name);
    let table = DeTable::parse(&text).unwrap();
    let table = table
        .get_ref()
        .get(kind)
        .and_then(|table| table.get_ref().as_table());
    table
        .map(|table| table.keys().map(|key| key.get_ref().to_string()).collect())
        .unwrap_or_default()
}

#[cfg(test)]
fn manifest(name: &str) -> String {
    fs::read_to_string(folder().join(name).join("Cargo.toml")).unwrap()
}

#[cfg(test)]
fn folder() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}
