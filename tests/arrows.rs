//! Holds the crates to the design's arrows: what each may build on, and
//! nothing else of ours.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use toml::de::DeTable;

/// Each crate and the crates of ours that it may name.
const ARROWS: [(&str, &[&str]); 8] = [
    ("theory", &[]),
    ("rhythm", &[]),
    ("lesson", &["theory", "rhythm"]),
    ("lesson-text", &["theory", "rhythm", "lesson"]),
    ("score", &["theory", "rhythm"]),
    ("etude", &["theory", "rhythm", "lesson", "score"]),
    ("writer", &["theory", "rhythm", "score"]),
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
        ],
    ),
];

/// Dependencies that only the program may have: the core opens no files,
/// draws no messages, starts no threads.
const CLI_ONLY: [&str; 5] = ["anyhow", "annotate-snippets", "clap", "rayon", "serde_json"];

#[test]
fn crates_name_only_what_lies_before_them() {
    for (name, may_name) in ARROWS {
        let ours: BTreeSet<&str> = ARROWS.iter().map(|(name, _)| *name).collect();
        let named = dependencies(name, "dependencies");
        let beyond: Vec<&String> = named
            .iter()
            .filter(|other| ours.contains(other.as_str()) && !may_name.contains(&other.as_str()))
            .collect();
        assert!(beyond.is_empty(), "{name} names {beyond:?}");
    }
}

#[test]
fn only_the_program_has_the_program_s_dependencies() {
    for (name, _) in ARROWS.iter().filter(|(name, _)| *name != "cli") {
        let named = dependencies(name, "dependencies");
        assert!(
            CLI_ONLY.iter().all(|only| !named.contains(*only)),
            "{name}: {named:?}"
        );
    }
}

#[test]
fn every_crate_is_held_to_an_arrow() {
    let found: BTreeSet<String> = fs::read_dir(crates())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    let known: BTreeSet<String> = ARROWS.iter().map(|(name, _)| (*name).to_owned()).collect();
    assert_eq!(found, known);
}

#[test]
fn every_crate_takes_the_workspace_s_lints_and_libraries_deny_missing_docs() {
    for (name, _) in ARROWS {
        let manifest = fs::read_to_string(crates().join(name).join("Cargo.toml")).unwrap();
        assert!(manifest.contains("[lints]\nworkspace = true"), "{name}");
        if name != "cli" {
            let library = fs::read_to_string(crates().join(name).join("src/lib.rs")).unwrap();
            assert!(library.contains("#![deny(missing_docs)]"), "{name}");
        }
    }
}

#[cfg(test)]
fn dependencies(name: &str, table: &str) -> BTreeSet<String> {
    let text = fs::read_to_string(crates().join(name).join("Cargo.toml")).unwrap();
    let manifest = DeTable::parse(&text).unwrap();
    let table = manifest
        .get_ref()
        .get(table)
        .and_then(|table| table.get_ref().as_table());
    table
        .map(|table| table.keys().map(|key| key.get_ref().to_string()).collect())
        .unwrap_or_default()
}

#[cfg(test)]
fn crates() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}
