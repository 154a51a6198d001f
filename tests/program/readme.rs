//! The README and the lesson writer's reference against the program: their
//! lessons run, the tables are the program's own. `UPDATE_README=1 cargo test
//! --package cli --test program readme` rewrites the tables.

use std::fs;

use crate::support::{fresh, lesson, lessons, root, run};

/// A fenced block of the README.
struct Block<'a> {
    language: &'a str,
    text: &'a str,
}

fn blocks(readme: &str) -> Vec<Block<'_>> {
    let mut blocks = Vec::new();
    let mut rest = readme;
    while let Some(start) = rest.find("```") {
        let (language, body) = rest[start + 3..].split_once('\n').unwrap();
        let (text, after) = body.split_once("\n```").unwrap();
        blocks.push(Block { language, text });
        rest = after;
    }
    blocks
}

const README: &str = "README.md";
const REFERENCE: &str = "crates/lesson-text/README.md";

fn read(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap()
}

/// Every example of a lesson is a whole one, and is written.
#[test]
fn their_lessons_run() {
    let folder = fresh("readme");
    for name in [README, REFERENCE] {
        let text = read(name);
        let blocks = blocks(&text);
        let lessons = blocks.iter().filter(|block| block.language == "toml");
        for block in lessons.clone() {
            let path = lesson(&folder, "lesson.toml", block.text);
            let ran = run(["write", path.to_str().unwrap(), "--format", "json"]);
            assert_eq!(
                (ran.code, ran.err.as_str()),
                (0, ""),
                "{name}: {}",
                block.text
            );
        }
        assert!(lessons.count() > 0, "{name}");
    }
}

/// An example of a course names lessons that we ship.
#[test]
fn their_courses_run() {
    let folder = fresh("readme-courses");
    for path in lessons() {
        fs::copy(&path, folder.join(path.file_name().unwrap())).unwrap();
    }
    let text = read(REFERENCE);
    let blocks = blocks(&text);
    let courses = blocks
        .iter()
        .filter(|block| block.language == "toml course");
    for block in courses.clone() {
        let path = lesson(&folder, "term.toml", block.text);
        let ran = run(["check", path.to_str().unwrap()]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", block.text);
    }
    assert!(courses.count() > 0);
}

/// Each table stands between two comments, `<!-- scales -->` and
/// `<!-- /scales -->`, and is what `twelvefold list scales` prints.
#[test]
fn the_tables_are_the_program_s() {
    let old = read(REFERENCE);
    let mut new = old.clone();
    for catalogue in ["instruments", "scales"] {
        let (begin, end) = (
            format!("<!-- {catalogue} -->"),
            format!("<!-- /{catalogue} -->"),
        );
        let (before, rest) = new.split_once(&begin).unwrap();
        let (_, after) = rest.split_once(&end).unwrap();
        let listed = run(["list", catalogue]);
        new = format!("{before}{begin}\n{}{end}{after}", table(&listed.out));
    }
    if std::env::var_os("UPDATE_README").is_some() {
        fs::write(root().join(REFERENCE), &new).unwrap();
    } else {
        let command = "UPDATE_README=1 cargo test --package cli --test program readme";
        assert!(old == new, "{REFERENCE} has old tables; run: {command}");
    }
}

/// Aligned columns as a Markdown table.
fn table(text: &str) -> String {
    let mut lines = text.lines().map(|line| line.chars().collect::<Vec<char>>());
    let heading = lines.next().unwrap();
    let begins = |at: &usize| {
        heading[*at] != ' '
            && (*at == 0
                || (heading[at - 1] == ' ' && heading.get(at.wrapping_sub(2)) == Some(&' ')))
    };
    let starts: Vec<usize> = (0..heading.len()).filter(begins).collect();
    let row = |line: &[char]| {
        let ends = starts[1..].iter().copied().chain([usize::MAX]);
        let cell = |(start, end): (&usize, usize)| {
            let (start, end) = ((*start).min(line.len()), end.min(line.len()));
            line[start..end]
                .iter()
                .collect::<String>()
                .trim()
                .to_owned()
        };
        format!(
            "| {} |\n",
            starts
                .iter()
                .zip(ends)
                .map(cell)
                .collect::<Vec<_>>()
                .join(" | ")
        )
    };
    let rule = format!("|{}\n", "---|".repeat(starts.len()));
    let rows: String = lines.map(|line| row(&line)).collect();
    row(&heading) + &rule + &rows
}
