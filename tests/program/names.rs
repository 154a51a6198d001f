//! Names of files and folders, fit for every system that sheets are carried to
//! on a stick: none differs from another by its case alone, none is kept for a
//! device, none ends in what is cut off or has a sign that some system forbids
//! (Microsoft Learn, "Naming Files, Paths, and Namespaces").

use std::collections::{BTreeMap, BTreeSet};

use crate::support::{fresh, lesson, plain, run, tree};

/// Kept for devices, whatever ending follows.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];
const PORTS: [&str; 2] = ["com", "lpt"];
const PORT_NUMBERS: &str = "0123456789¹²³";

const FORBIDDEN: &str = "<>:\"/\\|?*";

fn check_fit(name: &str) {
    let stem = name.split('.').next().unwrap().trim_end().to_lowercase();
    let port = PORTS.iter().any(|port| {
        stem.strip_prefix(port)
            .is_some_and(|rest| rest.chars().count() == 1 && PORT_NUMBERS.contains(rest))
    });
    assert!(!DEVICES.contains(&stem.as_str()) && !port, "{name}");
    assert!(!name.ends_with(['.', ' ']), "{name:?}");
    assert!(
        !name.contains(|letter: char| letter.is_control() || FORBIDDEN.contains(letter)),
        "{name:?}"
    );
    assert!(name.len() <= 200, "{name}");
}

fn players(names: &[&str]) -> String {
    let mut text = plain("[keys]\nonly = [\"C\", \"F\"]");
    for name in names {
        text += &format!("[[player]]\nname = \"{name}\"\ninstrument = \"flute\"\n");
    }
    text
}

#[test]
fn names_that_some_system_takes_for_one_are_refused() {
    let folder = fresh("names-clash");
    let names = [
        "Alto",
        "ALTO",
        "a: b",
        "A?B",
        "* * *",
        "..",
        "Zoé",
        "ZOE\u{301}",
    ];
    let path = lesson(&folder, "names.toml", &players(&names));
    let ran = run(["check", path.to_str().unwrap()]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("5 mistakes"), "{}", ran.err);
}

#[test]
fn names_are_fit_for_every_system() {
    let folder = fresh("names-fit");
    let names = [
        "Alto",
        "alto 2",
        "CON",
        "Aux",
        "nul.",
        "prn . ",
        "COM1",
        "lpt¹",
        "con.x",
        "A: B",
        "<c>",
        "d|e",
        "what?",
        "trailing...",
        "Room",
        "room-score",
        "Lessons",
        "contents.json",
        "book",
        "Zoé",
    ];
    let path = lesson(&folder, "Aux.toml", &players(&names));
    let out = folder.join("out");
    let ran = run([
        "write",
        path.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
        "--format",
        "musicxml,mxl,midi,svg",
        "--part",
        "1/2",
        "--gather",
        "--sign-off",
        "--room",
        "concert",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    for path in tree(&out).into_keys() {
        path.split('/').for_each(check_fit);
        if let Some(other) = seen.insert(path.to_uppercase(), path.clone()) {
            panic!("{path} and {other} are one file where case is nothing");
        }
    }
    let folders: BTreeSet<&str> = seen
        .keys()
        .filter_map(|path| path.split('/').nth(1))
        .collect();
    // Among them those of the room and of the lesson's own files.
    assert!(folders.len() > names.len(), "{folders:?}");
}
