//! `write`: layout, contents, choices, repeated bytes, sheets left out.

use std::collections::BTreeSet;
use std::fs;

use serde_json::Value;

use crate::support::{Ran, fresh, lesson, lessons, plain, run, tree};

fn write(name: &str, text: &str, more: &[&str]) -> (Ran, std::path::PathBuf) {
    let folder = fresh(name);
    let path = lesson(&folder, "lesson.toml", text);
    let out = folder.join("out");
    let ran = run([
        &[
            "write",
            path.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
        ],
        more,
    ]
    .concat());
    (ran, out)
}

fn names(folder: &std::path::Path) -> Vec<String> {
    tree(folder).into_keys().collect()
}

#[test]
fn a_dry_run_counts_the_files_and_writes_none() {
    let folder = fresh("dry");
    let out = folder.join("out");
    let arguments = |more: &'static str| {
        let lesson = "fixtures/lessons/lamplighter-rounds.toml";
        let out = out.to_str().unwrap().to_owned();
        let all = ["write", lesson, "--out"].map(str::to_owned);
        all.into_iter()
            .chain([out])
            .chain((!more.is_empty()).then(|| more.to_owned()))
    };
    let dry = run(arguments("--dry-run"));
    assert_eq!(dry.code, 0);
    assert!(
        dry.out.ends_with(": 4 files would be written\n"),
        "{}",
        dry.out
    );
    assert!(!out.exists());
    let written = run(arguments(""));
    assert!(written.out.contains(": 4 files\n"), "{}", written.out);
    let sheet = out.join("lamplighter-rounds/flute/01-through-keys.musicxml");
    assert!(sheet.exists());
}

#[test]
fn sheets_lie_by_lesson_instrument_number_and_written_key() {
    let (ran, out) = write(
        "layout",
        &plain(
            "instruments = [\"alto saxophone\", \"flute\"]\nkeys = { only = [\"C\", \"A\", \"Db\"] }",
        ),
        &[],
    );
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let lesson = format!("{}: 6 files\n6 sheets, ", out.join("lesson").display());
    assert!(ran.out.starts_with(&lesson), "{}", ran.out);
    assert!(ran.out.ends_with(" s; 0 left out, 0 kept\n"), "{}", ran.out);
    assert_eq!(
        names(&out),
        [
            "lesson/alto-saxophone/01-a.musicxml",
            "lesson/alto-saxophone/02-f-sharp.musicxml",
            "lesson/alto-saxophone/03-b-flat.musicxml",
            "lesson/contents.json",
            "lesson/flute/01-c.musicxml",
            "lesson/flute/02-a.musicxml",
            "lesson/flute/03-d-flat.musicxml",
        ]
    );
}

#[test]
fn contents_tell_every_file() {
    let (_, out) = write(
        "contents",
        &plain("instruments = [\"tenor saxophone\"]"),
        &["--format", "musicxml,mxl"],
    );
    let files = tree(&out.join("lesson"));
    let contents: Value = serde_json::from_slice(&files["contents.json"]).unwrap();
    assert_eq!(contents["lesson"], "lesson");
    assert_eq!(contents["title"], "Plain");
    let told: BTreeSet<&str> = contents["sheets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|sheet| sheet["file"].as_str().unwrap())
        .collect();
    let there: BTreeSet<&str> = files
        .keys()
        .map(String::as_str)
        .filter(|name| *name != "contents.json")
        .collect();
    assert_eq!(told, there);
    let hashed = contents["files"].as_object().unwrap();
    assert_eq!(
        hashed.keys().collect::<Vec<_>>(),
        there.iter().collect::<Vec<_>>()
    );
    assert_eq!(told.len(), 24);
    let first = &contents["sheets"][0];
    assert_eq!(first["instrument"], "tenor-saxophone");
    assert_eq!(
        (first["written_key"].as_str(), first["concert_key"].as_str()),
        (Some("D"), Some("C"))
    );
    assert_eq!(first["number"], 1);
    for field in ["bars", "turns", "jumps"] {
        assert!(first[field].is_u64(), "{field}");
    }
    for field in ["lowest", "highest"] {
        assert!(first[field].is_string(), "{field}");
    }
    assert_eq!(contents["left_out"], Value::Array(Vec::new()));
}

#[test]
fn players_of_one_name_or_horn_get_folders_of_their_own() {
    let player = |name: &str| format!("[[player]]\nname = \"{name}\"\ninstrument = \"flute\"\n");
    let text = plain("keys = { only = [\"C\"] }") + &player("../Window") + &player("Door / left");
    let (ran, out) = write("players", &text, &[]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let names = names(&out);
    assert_eq!(
        names,
        [
            "lesson/contents.json",
            "lesson/door-left/01-c.musicxml",
            "lesson/window/01-c.musicxml"
        ]
    );
}

#[test]
fn an_id_never_leads_out_of_the_folder() {
    let folder = fresh("outside");
    let path = lesson(
        &folder,
        "lesson.toml",
        &plain("id = \"../../outside\"\nkeys = { only = [\"C\"] }"),
    );
    let out = folder.join("a/b");
    let ran = run([
        "write",
        path.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
    ]);
    if ran.code == 0 {
        assert!(
            names(&folder)
                .iter()
                .all(|name| name == "lesson.toml" || name.starts_with("a/b/"))
        );
    } else {
        assert_eq!(
            (ran.code, names(&folder)),
            (2, vec!["lesson.toml".to_owned()])
        );
    }
}

#[test]
fn a_choice_keeps_numbers_and_bytes() {
    let text = plain("instruments = [\"alto saxophone\", \"b-flat trumpet\"]\ntogether = true");
    let (_, all) = write("choice-all", &text, &[]);
    let all = tree(&all);
    let (ran, some) = write(
        "choice",
        &text,
        &["--instrument", "trumpet", "--key", "Bb", "--key", "B"],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    let some = tree(&some);
    let sheets = [
        "lesson/b-flat-trumpet/03-c.musicxml",
        "lesson/b-flat-trumpet/08-d-flat.musicxml",
    ];
    assert_eq!(
        some.keys()
            .filter(|name| name.ends_with("musicxml"))
            .collect::<Vec<_>>(),
        sheets
    );
    for sheet in sheets {
        assert_eq!(some[sheet], all[sheet], "{sheet}");
    }
}

#[test]
fn keys_are_chosen_as_the_lesson_names_them() {
    let text = plain(
        "instruments = [\"alto saxophone\"]\nkeys = { order = \"fourths\", from = \"C\", named = \"written\" }",
    );
    let (ran, out) = write("written-key", &text, &["--key", "F#"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let names = names(&out);
    assert!(
        names[0].starts_with("lesson/alto-saxophone/07-"),
        "{names:?}"
    );
    assert_eq!(names.len(), 2);
}

#[test]
fn a_newcomer_s_instrument_joins_the_lesson() {
    let (ran, out) = write(
        "newcomer",
        &plain("instruments = [\"flute\"]"),
        &["--instrument", "oboe", "--key", "C"],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(
        names(&out),
        ["lesson/contents.json", "lesson/oboe/01-c.musicxml"]
    );
}

#[test]
fn a_player_is_chosen_by_name() {
    let (lesson, out) = ("fixtures/lessons/harbor-bells.toml", fresh("by-name"));
    let ran = run([
        "write",
        lesson,
        "--instrument",
        "stove stand",
        "--key",
        "F",
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(
        names(&out),
        [
            "harbor-bells/contents.json",
            "harbor-bells/stove-stand/01-d.musicxml"
        ]
    );
    let ran = run([
        "write",
        lesson,
        "--instrument",
        "cellar stand",
        "--format",
        "json",
    ]);
    assert!(
        ran.err
            .contains("Window stand, Door stand, Stove stand, Corner stand"),
        "{}",
        ran.err
    );
}

#[test]
fn json_alone_writes_nothing_and_tells_all() {
    let (ran, out) = write(
        "json",
        &plain("instruments = [\"alto saxophone\"]\nkeys = { only = [\"C\"] }"),
        &["--format", "json"],
    );
    assert!(!out.exists());
    let json = ran.json();
    let sheet = &json[0];
    assert_eq!(sheet["sheet"], "alto-saxophone/01-a");
    assert_eq!(sheet["transposition"]["diatonic"], -5);
    assert_eq!(sheet["transposition"]["chromatic"], -9);
    assert_eq!(sheet["measures"][0]["meter"], "4/4");
    assert_eq!(sheet["measures"][0]["signature"], 3);
    let note = &sheet["notes"][0];
    assert_eq!(note["degree"], "1");
    assert_eq!(note["onset"], "0");
    assert!(
        note["written"].as_str().unwrap().starts_with('A')
            && note["sounding"].as_str().unwrap().starts_with('C')
    );
}

/// A beginner's trumpet reaches a ninth or so; two octaves and a half never
/// fit it.
#[test]
fn a_figure_too_wide_for_a_horn_is_left_out_alone() {
    let text = "title = \"Wide\"\nlevel = \"beginner\"\ninstruments = [\"b-flat trumpet\", \"piano right hand\"]\n\
        keys = { only = [\"C\", \"F\"] }\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, octave up, octave up\"\n\
        count = \"1 2 3\"\n[[exercise]]\nkind = \"figure\"\n";
    let text = text.replace("\"piano right hand\"", "\"marimba\"");
    let (ran, out) = write("left-out", &text, &[]);
    assert_eq!(ran.code, 3, "{}", ran.err);
    assert!(ran.err.contains("b-flat-trumpet, written"), "{}", ran.err);
    assert!(ran.err.contains("outside the range"), "{}", ran.err);
    let contents: Value = serde_json::from_slice(&tree(&out)["lesson/contents.json"]).unwrap();
    let left_out = contents["left_out"].as_array().unwrap();
    assert!(!left_out.is_empty());
    assert!(
        left_out
            .iter()
            .all(|entry| entry["why"].as_str().unwrap().contains("outside the range"))
    );
    assert_eq!(
        left_out.len() + contents["sheets"].as_array().unwrap().len(),
        4
    );
    let checked = run([
        "check",
        out.parent().unwrap().join("lesson.toml").to_str().unwrap(),
    ]);
    assert_eq!(checked.code, 3);
    assert!(
        checked.out.contains("left out: 01, written D: "),
        "{}",
        checked.out
    );
}

#[test]
fn the_same_lessons_give_the_same_bytes() {
    let lessons = lessons();
    let write = |name: &str| {
        let out = fresh(name);
        let lessons = lessons.iter().map(|path| path.to_str().unwrap());
        let ran = run([
            "write",
            "--out",
            out.to_str().unwrap(),
            "--format",
            "musicxml,mxl",
        ]
        .into_iter()
        .chain(lessons));
        assert!([0, 3].contains(&ran.code), "{}", ran.err);
        tree(&out)
    };
    let (first, second) = (write("bytes-1"), write("bytes-2"));
    assert!(first.len() > 100);
    assert!(first == second);
}

/// The first command: twelve sheets for each instrument, all their
/// own.
#[test]
fn the_main_lesson_gives_twelve_distinct_sheets_for_each_instrument() {
    let out = fresh("main");
    let ran = run([
        "write",
        "fixtures/lessons/lantern-stairs.toml",
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let files = tree(&out.join("lantern-stairs"));
    let sheets: Vec<(&String, &Vec<u8>)> = files
        .iter()
        .filter(|(name, _)| name.ends_with("musicxml"))
        .collect();
    let instruments: BTreeSet<&str> = sheets
        .iter()
        .map(|(name, _)| name.split_once('/').unwrap().0)
        .collect();
    assert!(instruments.len() >= 6);
    assert_eq!(sheets.len(), 12 * instruments.len());
    assert_eq!(
        sheets
            .iter()
            .map(|(_, bytes)| *bytes)
            .collect::<BTreeSet<_>>()
            .len(),
        sheets.len()
    );
}

#[test]
fn a_new_edition_is_told() {
    let folder = fresh("edition");
    let out = folder.join("out");
    let text = plain("[keys]\nonly = [\"C\", \"F\"]");
    let write = |text: &str| {
        let path = lesson(&folder, "lesson.toml", text);
        run([
            "write",
            path.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
        ])
    };
    assert_eq!(write(&text).err, "");
    let retitled = text.replace("title = \"", "title = \"New ");
    assert_ne!(retitled, text);
    // Another title is another file, but the same music.
    assert_eq!(write(&retitled).err, "");
    let ran = write(&text.replace("step up", "skip up"));
    assert_eq!(ran.code, 0);
    assert!(
        ran.err.contains("changed since the last edition: "),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("01-c.musicxml"), "{}", ran.err);
}

/// A lesson may say its paper; what is asked for wins, and no edition changes.
#[test]
fn the_lesson_s_paper_gives_way_to_what_is_asked_for() {
    let folder = fresh("paper");
    let head = "paper = \"letter\"\ninstruments = [\"flute\"]\n[keys]\nonly = [\"C\"]";
    let lesson = lesson(&folder, "a.toml", &plain(head));
    let sheet = |more: &[&str]| {
        let out = folder.join("out");
        let arguments = [
            "write",
            lesson.to_str().unwrap(),
            "--out",
            out.to_str().unwrap(),
        ];
        let ran = run([&arguments, more].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(!ran.err.contains("edition"), "{}", ran.err);
        fs::read_to_string(out.join("a/flute/01-c.musicxml")).unwrap()
    };
    // Tenths of a staff of 7 mm: 215.9 and 210 mm.
    assert!(sheet(&[]).contains("<page-width>1233.71</page-width>"));
    assert!(sheet(&["--paper", "a4"]).contains("<page-width>1200</page-width>"));
}
