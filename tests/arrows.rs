//! Holds the crates to the design's arrows: what each may build on, and
//! nothing else of ours.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

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
    ("engrave", &["theory", "rhythm", "score"]),
    ("reader", &["theory", "rhythm", "lesson"]),
    (
        "lift",
        &[
            "theory",
            "rhythm",
            "lesson",
            "lesson-text",
            "score",
            "etude",
        ],
    ),
    ("practice", &["rhythm", "score", "sound", "engrave"]),
    ("copyist", &CORE),
    ("desk", &WITH_COPYIST),
    ("cli", &WITH_DESK),
];

/// Everything that touches no file and no thread.
const CORE: [&str; 12] = [
    "theory",
    "rhythm",
    "lesson",
    "lesson-text",
    "score",
    "etude",
    "writer",
    "sound",
    "engrave",
    "reader",
    "lift",
    "practice",
];

const WITH_COPYIST: [&str; 13] = with(CORE, "copyist");
const WITH_DESK: [&str; 14] = with(WITH_COPYIST, "desk");

const fn with<const FEWER: usize, const MORE: usize>(
    fewer: [&'static str; FEWER],
    one: &'static str,
) -> [&'static str; MORE] {
    let mut more = [one; MORE];
    let mut place = 0;
    while place < FEWER {
        more[place] = fewer[place];
        place += 1;
    }
    more
}

/// What a crate's tests may name beyond its arrow: lessons are easiest said in
/// their own text, and notation is read back that was written from them.
const FOR_TESTS: &[(&str, &[&str])] = &[
    ("engrave", &["lesson", "lesson-text", "etude"]),
    ("etude", &["lesson-text", "writer"]),
    ("reader", &["lesson-text", "score", "etude", "writer"]),
    ("engrave", &["lesson-text", "etude"]),
    ("practice", &["lesson-text", "etude"]),
    ("lift", &["reader", "writer"]),
];

/// Dependencies that only the program may have: nothing else draws messages or
/// reads arguments.
const CLI_ONLY: [&str; 3] = ["anyhow", "annotate-snippets", "clap"];

/// Dependencies of those that keep files: the core opens none, and starts no
/// threads.
const KEEPERS_ONLY: [&str; 1] = ["rayon"];

/// Crates that keep files.
const KEEPERS: [&str; 3] = ["copyist", "desk", "cli"];

/// Crates that say something in JSON: those, and the reader of lessons, whose
/// table of words is a schema too.
const JSON: [&str; 4] = ["copyist", "desk", "cli", "lesson-text"];

/// The tables of a manifest that name other crates.
const TABLES: [&str; 3] = ["dependencies", "dev-dependencies", "build-dependencies"];

#[test]
fn crates_name_only_what_lies_before_them() {
    for name in crates() {
        let arrow = ARROWS.iter().find(|(of, _)| *of == name);
        let (_, may_name) = arrow.unwrap_or_else(|| panic!("{name} has no arrow"));
        let tests = FOR_TESTS.iter().find(|(of, _)| *of == name);
        let tests = tests.map_or(&[] as &[&str], |(_, may_name)| may_name);
        for table in TABLES {
            let allowed = |other: &str| {
                may_name.contains(&other)
                    || table == "dev-dependencies" && (tests.contains(&other) || other == name)
            };
            let named = dependencies(&name, table);
            let ours = ARROWS.iter().filter(|(ours, _)| named.contains(*ours));
            let beyond: Vec<&str> = ours
                .map(|(ours, _)| *ours)
                .filter(|one| !allowed(one))
                .collect();
            assert!(beyond.is_empty(), "{name} names {beyond:?} in its {table}");
        }
    }
}

#[test]
fn only_the_program_has_the_program_s_dependencies() {
    for name in crates() {
        let named = dependencies(&name, "dependencies");
        let has = |only: &[&str]| only.iter().any(|only| named.contains(*only));
        assert!(name == "cli" || !has(&CLI_ONLY), "{name}: {named:?}");
        assert!(
            KEEPERS.contains(&name.as_str()) || !has(&KEEPERS_ONLY),
            "{name}: {named:?}"
        );
        assert!(
            JSON.contains(&name.as_str()) || !has(&["serde_json"]),
            "{name}: {named:?}"
        );
    }
}

/// Of the program's own files, those that print what the theory knows.
#[test]
fn the_program_knows_of_theory_only_what_it_prints() {
    let mut names: Vec<PathBuf> = Vec::new();
    let source = folder().join("cli/src");
    let mut folders = vec![source.clone()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if fs::read_to_string(&path).unwrap().contains("theory::") {
                names.push(path.strip_prefix(&source).unwrap().to_owned());
            }
        }
    }
    let printed = |name: &PathBuf| {
        ["list", "spell"].iter().any(|one| {
            name.with_extension("")
                .starts_with(format!("command/{one}"))
        })
    };
    assert!(names.len() > 1 && names.iter().all(printed), "{names:?}");
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
fn dependencies(name: &str, table: &str) -> BTreeSet<String> {
    let text = manifest(name);
    let whole = DeTable::parse(&text).unwrap();
    let table = whole
        .get_ref()
        .get(table)
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
