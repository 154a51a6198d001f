//! Many lessons at once: folders of them, jobs, parts, names.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::support::{Ran, fresh, lesson, plain, run, tree};

/// A folder of lessons, each different.
fn library(folder: &Path) {
    for (place, scale) in ["major", "dorian", "whole tone"].into_iter().enumerate() {
        let text = plain("instruments = [\"flute\", \"alto saxophone\"]");
        let text = text.replace("\"major\"", &format!("\"{scale}\""));
        lesson(folder, &format!("lesson-{place}.toml"), &text);
    }
    fs::write(folder.join("notes.txt"), "no lesson").unwrap();
}

fn write(lessons: &Path, out: &Path, more: &[&str]) -> Ran {
    let own = [
        "write",
        lessons.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
    ];
    run([&own, more].concat())
}

fn written(name: &str, more: &[&str]) -> BTreeMap<String, Vec<u8>> {
    let folder = fresh(name);
    library(&folder);
    let out = folder.join("out");
    let ran = write(&folder, &out, more);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    tree(&out)
}

#[test]
fn a_folder_of_lessons_is_written_and_every_sheet_is_its_own() {
    let files = written("batch", &[]);
    let sheets: Vec<&Vec<u8>> = files
        .iter()
        .filter(|(name, _)| name.ends_with(".musicxml"))
        .map(|(_, bytes)| bytes)
        .collect();
    assert_eq!(sheets.len(), 3 * 2 * 12);
    let distinct: std::collections::BTreeSet<_> = sheets.iter().collect();
    assert_eq!(distinct.len(), sheets.len());
}

#[test]
fn jobs_change_no_byte() {
    let one = written("jobs-1", &["--jobs", "1"]);
    assert!(one == written("jobs-2", &["--jobs", "2"]));
    assert!(one == written("jobs-7", &["--jobs", "7"]));
    assert!(one == written("durable", &["--durable"]));
}

#[test]
fn parts_together_are_the_whole() {
    let whole = written("parts-whole", &[]);
    let folder = fresh("parts");
    library(&folder);
    let mut sheets = 0;
    for part in [3, 1, 5, 4, 2] {
        let alone = folder.join(format!("out-{part}"));
        let own = format!("{part}/5");
        assert_eq!(write(&folder, &alone, &["--part", &own]).code, 0);
        let names = tree(&alone).into_keys();
        sheets += names.filter(|name| name.ends_with(".musicxml")).count();
        assert_eq!(
            write(&folder, &folder.join("out"), &["--part", &own]).code,
            0
        );
    }
    assert_eq!(sheets, 72);
    assert!(tree(&folder.join("out")) == whole);
}

#[test]
fn parts_that_run_together_are_the_whole() {
    let whole = written("parts-at-once-whole", &[]);
    let folder = fresh("parts-at-once");
    library(&folder);
    let out = folder.join("out");
    std::thread::scope(|scope| {
        for part in 1..=4 {
            let (folder, out) = (&folder, &out);
            scope.spawn(move || {
                // Under load one may have to say what it waits for.
                let ran = write(folder, out, &["--part", &format!("{part}/4")]);
                assert_eq!(ran.code, 0, "{}", ran.err);
            });
        }
    });
    assert!(tree(&out) == whole);
}

/// As a scheduler runs them, here a plain shell: sixteen parts at once, one
/// killed and sent again.
#[cfg(unix)]
#[test]
fn sixteen_parts_in_a_shell_with_one_killed_are_the_whole() {
    let whole = written("parts-shell-whole", &[]);
    let folder = fresh("parts-shell");
    library(&folder);
    let script = r#"
        part() { "$TWELVEFOLD" write "$FOLDER" --out "$FOLDER/out" --part "$1/16" --quiet; }
        for number in $(seq 16); do
            part "$number" &
            [ "$number" = 7 ] && killed=$!
        done
        kill -KILL "$killed"
        wait
        part 7
    "#;
    let shell = std::process::Command::new("sh")
        .args(["-euc", script])
        .env("TWELVEFOLD", env!("CARGO_BIN_EXE_twelvefold"))
        .env("FOLDER", &folder)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&shell.stderr);
    assert!(shell.status.success(), "{said}");
    assert!(tree(&folder.join("out")) == whole, "{said}");
}

#[test]
fn a_choice_forgets_nothing_of_the_rest() {
    let folder = fresh("choice-after");
    library(&folder);
    let out = folder.join("out");
    write(&folder, &out, &[]);
    let whole = tree(&out);
    let ran = write(&folder, &out, &["--key", "C", "--instrument", "flute"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(tree(&out) == whole);
}

#[test]
fn json_says_what_became_of_each_file() {
    let folder = fresh("fates");
    let path = folder.join("plain.toml");
    let head = "instruments = [\"flute\"]\nkeys = { only = [\"C\"] }";
    let own = |title: &str| fs::write(&path, plain(head).replace("Plain", title)).unwrap();
    let check = |code: i32, more: &[&str], expected: &str| {
        let more = [&["--format", "musicxml,midi,json"], more].concat();
        let ran = write(&path, &folder.join("out"), &more);
        assert_eq!(ran.code, code, "{}", ran.err);
        let expected: serde_json::Value = serde_json::from_str(expected).unwrap();
        assert_eq!(ran.json()[0]["files"], expected);
    };
    own("Plain");
    check(0, &["--dry-run"], "[]");
    check(
        0,
        &[],
        r#"[{"file": "flute/01-c.musicxml", "became": "made"},
            {"file": "flute/01-c.mid", "became": "made"}]"#,
    );
    own("Retitled");
    check(
        0,
        &[],
        r#"[{"file": "flute/01-c.musicxml", "became": "replaced"},
            {"file": "flute/01-c.mid", "became": "replaced"}]"#,
    );
    fs::write(folder.join("out/plain/flute/01-c.musicxml"), "mine").unwrap();
    check(
        3,
        &[],
        r#"[{"file": "flute/01-c.musicxml", "became": "kept", "new": "flute/01-c.new.musicxml"},
            {"file": "flute/01-c.mid", "became": "untouched"}]"#,
    );
    check(
        0,
        &["--replace"],
        r#"[{"file": "flute/01-c.musicxml", "became": "replaced", "edited": "flute/01-c.edited.musicxml"},
            {"file": "flute/01-c.mid", "became": "untouched"}]"#,
    );
}

#[test]
fn quiet_says_nothing() {
    let folder = fresh("quiet");
    library(&folder);
    let ran = write(&folder, &folder.join("out"), &["--quiet"]);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (0, "", ""));
}

#[test]
fn odd_names_give_safe_folders_of_their_own() {
    let folder = fresh("names");
    let lessons = folder.join("lessons");
    fs::create_dir(&lessons).unwrap();
    let long = "long ".repeat(40);
    let names = [
        "con",
        "LPT1",
        "🎷",
        "🎺",
        "音階",
        "q'b",
        "a.b.",
        ".hidden",
        "nul.musicxml",
        &format!("{long}one"),
        &format!("{long}two"),
    ];
    for name in names {
        let player = "[[player]]\nname = \"../../up\"\ninstrument = \"flute\"\n";
        let text = plain("keys = { only = [\"C\"] }") + player;
        lesson(&lessons, &format!("{name}.toml"), &text);
    }
    let out = folder.join("deep/er/out");
    let ran = write(&lessons, &out, &[]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let folders: Vec<String> = fs::read_dir(&out)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != ".twelvefold.lock")
        .collect();
    assert_eq!(folders.len(), names.len(), "{folders:?}");
    for name in &folders {
        assert!(
            name.len() <= 90 && !name.starts_with('.') && !name.contains(['/', '\\', '"', ':'])
        );
    }
    let inside = |name: &String| name.starts_with("deep/er/out/") || name.ends_with(".toml");
    assert!(tree(&folder).keys().all(inside));
}

#[test]
fn lessons_whose_ids_differ_only_in_case_never_share_a_folder() {
    let folder = fresh("case");
    for (name, id) in [("one.toml", "Stairs"), ("two.toml", "STAIRS")] {
        lesson(&folder, name, &plain(&format!("id = \"{id}\"")));
    }
    let ran = write(&folder, &folder.join("out"), &[]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("would share the folder stairs"),
        "{}",
        ran.err
    );
    assert!(!folder.join("out").exists());
}
