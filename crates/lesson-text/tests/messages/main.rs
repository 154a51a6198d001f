//! Every mistake of sense: what is said of it, and where.

#[path = "../render/mod.rs"]
mod render;

mod exercises;
mod figures;
mod head;

use render::rendered;

const SCALE: &str = "[scale]\nname = \"dorian\"\n";

const FIGURE: &str = "[figure]\nmoves = \"start, step up, step up\"\n";

/// Each row is told with the words around it that make a whole lesson.
fn told(rows: &[&str], before: &str, after: &str) -> String {
    let told = |row: &&str| {
        let text = format!("{before}{row}\n{after}");
        let lines = before.matches('\n').count();
        let rendered = rendered(&text).replace('\n', "\n    ");
        format!("{row}\n    ({lines} lines before) {rendered}")
    };
    rows.iter().map(told).collect::<Vec<_>>().join("\n\n")
}
