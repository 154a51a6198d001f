//! The README against the program: its lessons run, its tables are the
//! program's own. `UPDATE_README=1 cargo test --package cli readme` rewrites
//! the tables.

use std::fs;

use crate::support::{fresh, lesson, root, run};

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

fn readme() -> String {
    fs::read_to_string(root().join("README.md")).unwrap()
}

/// Whole lessons (they have a title) are written; each must do.
#[test]
fn its_lessons_run() {
    let readme = readme();
    let folder = fresh("readme");
    let mut count = 0;
    for block in blocks(&readme)
        .iter()
        .filter(|block| block.language == "toml" && block.text.contains("title = "))
    {
        let path = lesson(&folder, "lesson.toml", block.text);
        let ran = run(["write", path.to_str().unwrap(), "--format", "json"]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", block.text);
        count += 1;
    }
    assert!(count > 0);
}

/// Each table stands between two comments:
/// `<!-- twelvefold list scales -->` … `<!-- end -->`.
#[test]
fn its_tables_are_the_program_s() {
    let old = readme();
    let mut new = String::new();
    let mut rest = old.as_str();
    let mut tables = Vec::new();
    while let Some((before, after)) = rest.split_once("<!-- twelvefold ") {
        let (arguments, after) = after.split_once(" -->").unwrap();
        let (_, after) = after.split_once("<!-- end -->").unwrap();
        let ran = run(arguments.split(' '));
        assert_eq!(ran.code, 0, "{arguments}");
        new.push_str(&format!(
            "{before}<!-- twelvefold {arguments} -->\n```text\n{}```\n<!-- end -->",
            ran.out
        ));
        tables.push(arguments.to_owned());
        rest = after;
    }
    new.push_str(rest);
    for table in ["list instruments", "list scales"] {
        assert!(
            tables.iter().any(|there| there == table),
            "the README has no table of `{table}`"
        );
    }
    if std::env::var_os("UPDATE_README").is_some() {
        fs::write(root().join("README.md"), &new).unwrap();
    } else {
        assert!(
            old == new,
            "the README's tables are old: UPDATE_README=1 cargo test --package cli readme"
        );
    }
}
