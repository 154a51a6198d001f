//! What scripts read: `check`, `list` and `spell` as JSON, and the page that
//! tells the fields, whose tables are made from the schemas.
//! `UPDATE_README=1 cargo test --package cli --test program json` rewrites
//! them. `tests/readers/json_schema.py` holds the output against the schemas.

use std::fs;

use serde_json::Value;

use crate::support::{fresh, lesson, root, run};

const PAGE: &str = "crates/cli/JSON.md";

#[test]
fn check_tells_scripts_what_it_tells_teachers() {
    let folder = fresh("check-json");
    let text = "title = \"Narrow Stair\"\n[keys]\nonly = [\"C\", \"F\"]\n[scale]\nname = \"major\"\n\
        [figure]\nmoves = \"start, step up, step up, up 3 steps\"\n\
        [[player]]\nname = \"Ada\"\ninstrument = \"trombone\"\nlow = \"C3\"\nhigh = \"E4\"\n\
        [[exercise]]\nkind = \"sequence\"\n\
        [[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\nwhen_too_wide = \"leave out\"\n";
    let path = lesson(&folder, "narrow-stair.toml", text);
    let path = path.to_str().unwrap();
    let told = run(["check", path, "--format", "json"]);
    assert_eq!((told.code, told.err.as_str()), (3, ""));
    let all = told.json();
    let told = &all[0];
    assert_eq!(
        (&told["version"], &told["lesson"]),
        (&1.into(), &"narrow-stair".into())
    );
    let surprises = told["surprises"].as_array().unwrap();
    let what: Vec<&str> = surprises
        .iter()
        .map(|one| one["what"].as_str().unwrap())
        .collect();
    assert_eq!(what, ["left out", "no way down"]);
    assert_eq!(
        surprises[0]["whose"][0]["written_keys"],
        Value::from(vec!["F"])
    );
    let ada = &told["players"][0];
    assert_eq!(ada["sheets"][0]["sheet"], "ada/01-c");
    assert_eq!(
        (&ada["sheets"][0]["lowest"], &ada["sheets"][0]["highest"]),
        (&"C3".into(), &"E4".into())
    );
    assert_eq!(
        (
            &ada["left_out"][0]["sheet"],
            &ada["left_out"].as_array().unwrap().len()
        ),
        (&"ada/02-f".into(), &1)
    );
    let said = run(["check", path]).out;
    for surprise in surprises {
        assert!(
            said.contains(surprise["said"].as_str().unwrap()),
            "{surprise}"
        );
    }
    assert!(fs::read_dir(&folder).unwrap().count() == 1);
}

#[test]
fn check_explains_in_json_too_and_is_empty_when_a_lesson_is_wrong() {
    let path = "fixtures/lessons/crooked-pier.toml";
    let explained = run(["check", path, "--format", "json", "--explain"]).json();
    let statements = &explained[0]["players"][0]["sheets"][0]["exercises"][0]["statements"];
    assert!(statements.as_array().unwrap().len() > 4);
    let plain = run(["check", path, "--format", "json"]).json();
    assert!(
        plain[0]["players"][0]["sheets"][0]["exercises"][0]
            .get("statements")
            .is_none()
    );
    let wrong = run([
        "check",
        "fixtures/lessons/mistakes/seven.toml",
        "--format",
        "json",
    ]);
    assert_eq!((wrong.code, wrong.out.as_str()), (2, ""));
}

#[test]
fn whatever_is_printed_says_its_version() {
    for what in ["scales", "instruments", "chords", "key-orders", "exercises"] {
        let listed = run(["list", what, "--format", "json"]).json();
        assert!(
            listed
                .as_array()
                .unwrap()
                .iter()
                .all(|one| one["version"] == 1),
            "{what}"
        );
    }
    assert_eq!(
        run(["spell", "C altered", "--format", "json"]).json()["version"],
        1
    );
}

/// Each table stands between two comments, `<!-- check -->` and
/// `<!-- /check -->`, and says what `twelvefold schema check` says.
#[test]
fn the_page_tells_what_the_schemas_say() {
    let old = fs::read_to_string(root().join(PAGE)).unwrap();
    let mut new = old.clone();
    for of in ["sheets", "check", "list", "spell", "contents"] {
        let schema = run(["schema", of]).json();
        let (begin, end) = (format!("<!-- {of} -->"), format!("<!-- /{of} -->"));
        let (before, rest) = new.split_once(&begin).unwrap();
        let (_, after) = rest.split_once(&end).unwrap();
        new = format!("{before}{begin}\n{}{end}{after}", told(&schema));
    }
    if std::env::var_os("UPDATE_README").is_some() {
        fs::write(root().join(PAGE), &new).unwrap();
    } else {
        let command = "UPDATE_README=1 cargo test --package cli --test program json";
        assert!(old == new, "{PAGE} has old tables; run: {command}");
    }
}

/// What a schema is of, and a table for each kind of object it has.
fn told(schema: &Value) -> String {
    let mut page = format!("{}\n", schema["description"].as_str().unwrap());
    let items = schema.get("items").unwrap_or(schema);
    let kinds = items["anyOf"]
        .as_array()
        .cloned()
        .unwrap_or_else(|| vec![items.clone()]);
    for kind in &kinds {
        let kind = kind["$ref"]
            .as_str()
            .map_or(kind, |at| &schema["$defs"][at.rsplit('/').next().unwrap()]);
        if let Some(title) = kind["title"].as_str().filter(|_| kinds.len() > 1) {
            page += &format!("\n`{title}`:\n");
        }
        page += "\n| field | | |\n|---|---|---|\n";
        rows(kind, "", &mut page);
    }
    page
}

/// A row to each field, those within it after it.
fn rows(object: &Value, path: &str, page: &mut String) {
    let required = object["required"].as_array();
    for (name, field) in object["properties"].as_object().into_iter().flatten() {
        let missing = !required.is_some_and(|all| all.contains(&name.as_str().into()));
        let path = format!("{path}{name}");
        let note = field["description"].as_str().unwrap_or_default();
        *page += &format!(
            "| `{path}` | {}{} | {note} |\n",
            kind(field),
            if missing { ", or missing" } else { "" }
        );
        let within = field.get("items").unwrap_or(field);
        rows(within, &format!("{path}/"), page);
    }
}

fn kind(field: &Value) -> String {
    if let Some(words) = field["enum"].as_array() {
        let words: Vec<String> = words
            .iter()
            .map(|word| word.as_str().unwrap_or("null").to_owned())
            .collect();
        return words.join(", ");
    }
    match &field["type"] {
        Value::Array(all) => {
            let words: Vec<&str> = all.iter().map(|one| one.as_str().unwrap()).collect();
            words.join(", or ")
        }
        one => one.as_str().unwrap().to_owned(),
    }
}
