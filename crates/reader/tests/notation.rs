//! Every file of `fixtures/notation` against what is written out beside it.
#![cfg(test)]

use std::fs;
use std::path::{Path, PathBuf};

mod shown;

/// The part of an expectation that one way of reading gives.
fn read(file: &Path, asked: &str) -> String {
    let bytes = fs::read(file).unwrap();
    shown::read(&bytes, asked)
}

fn check(file: &Path) {
    let expected = fs::read_to_string(file.with_extension("expected"))
        .unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let mut sections: Vec<(String, String)> = Vec::new();
    for line in expected.lines().filter(|line| !line.starts_with('#')) {
        match line
            .strip_prefix('[')
            .and_then(|line| line.strip_suffix(']'))
        {
            Some(asked) => sections.push((asked.to_owned(), String::new())),
            None => {
                let (_, body) = sections.last_mut().expect("a section comes first");
                body.push_str(line.trim_end());
                body.push('\n');
            }
        }
    }
    assert!(!sections.is_empty());
    for (asked, expected) in sections {
        let found = read(file, &asked);
        assert_eq!(
            found.trim_end(),
            expected.trim_end(),
            "{} [{asked}]",
            file.display()
        );
    }
}

fn files() -> Vec<PathBuf> {
    let folder = Path::new(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../fixtures/notation"
    ));
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| {
            path.extension()
                .is_some_and(|ending| ending == "musicxml" || ending == "mxl")
        })
        .collect();
    files.sort();
    files
}

#[test]
fn every_file_reads_as_it_is_written_out() {
    let files = files();
    assert!(files.len() >= 38, "{}", files.len());
    for file in files {
        check(&file);
    }
}

/// None of the files is refused, and none gives different bars as changes and
/// as a phrase.
#[test]
fn no_file_is_refused() {
    for file in files() {
        let found = read(&file, "changes written");
        assert!(!found.contains("error ="), "{}: {found}", file.display());
    }
}
