//! Lesson files that aren't lessons, and places that can't be written to.

use std::fs;

use crate::support::{fresh, lesson, plain, run};

fn check_refused(path: &str, expected: &str) {
    let ran = run(["write", path, "--format", "json"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{path}");
    assert!(ran.err.contains(expected), "{path}: {}", ran.err);
}

#[test]
fn files_that_are_no_lessons_are_refused() {
    let folder = fresh("files");
    let at = |name: &str| folder.join(name).to_str().unwrap().to_owned();
    check_refused(&at("missing.toml"), "there is no such file");
    check_refused(&at(""), "there is no lesson file in it");
    fs::write(at("latin.toml"), b"# one\ntitle = \"\xe9tude\"\n").unwrap();
    check_refused(&at("latin.toml"), "is not UTF-8 text (line 2)");
    fs::write(at("huge.toml"), vec![b'#'; 2 << 20]).unwrap();
    check_refused(&at("huge.toml"), "is larger than a lesson can be, 1 MB");
    fs::write(at("empty.toml"), b"").unwrap();
    check_refused(&at("empty.toml"), "mistake");
}

#[test]
fn a_comment_as_long_as_a_lesson_may_be_is_read() {
    let folder = fresh("long");
    let text = format!("{}#{}\n", plain(""), "x".repeat(1_000_000 - 200));
    let path = lesson(&folder, "long.toml", &text);
    assert_eq!(
        run(["write", path.to_str().unwrap(), "--format", "json"]).code,
        0
    );
}

#[test]
fn a_byte_order_mark_is_read_over() {
    let folder = fresh("mark");
    let path = lesson(&folder, "mark.toml", &format!("\u{feff}{}", plain("")));
    assert_eq!(
        run(["write", path.to_str().unwrap(), "--format", "json"]).code,
        0
    );
}

#[test]
fn what_can_t_be_written_exits_with_1_and_names_the_file() {
    let folder = fresh("unwritable");
    let path = lesson(&folder, "plain.toml", &plain("instruments = [\"flute\"]"));
    let blocked = folder.join("blocked");
    fs::write(&blocked, "a file").unwrap();
    let ran = run([
        "write",
        path.to_str().unwrap(),
        "--out",
        blocked.to_str().unwrap(),
    ]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("a file stands where a folder is needed"),
        "{}",
        ran.err
    );
    assert_eq!(fs::read_to_string(&blocked).unwrap(), "a file");

    let out = folder.join("out");
    fs::create_dir_all(out.join("plain/flute/01-c.musicxml")).unwrap();
    let ran = run([
        "write",
        path.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
    ]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.err.contains("01-c.musicxml") && ran.err.contains("a folder has that name"),
        "{}",
        ran.err
    );
}

#[test]
fn what_is_bound_together() {
    let folder = fresh("bound");
    let out = folder.join("out");
    let lesson = lesson(
        &folder,
        "quay.toml",
        "title = \"Quay\"\ntempo = { from = 60, to = 80, by = 10 }\n[keys]\nonly = [\"C\", \"F\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n[[player]]\nname = \"Room\"\ninstrument = \"flute\"\n[[player]]\nname = \"Hall\"\ninstrument = \"alto saxophone\"\n",
    );
    let ran = run([
        "write",
        lesson.to_str().unwrap(),
        "--out",
        out.to_str().unwrap(),
        "--gather",
        "--room",
        "concert",
        "--sign-off",
    ]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let contents = fs::read_to_string(out.join("quay/contents.json")).unwrap();
    let contents: serde_json::Value = serde_json::from_str(&contents).unwrap();
    let bound: Vec<&str> = contents["bound"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|file| file.as_str())
        .collect();
    // A player may be called Room.
    let expected = [
        "room/book.musicxml",
        "hall/book.musicxml",
        "room-score/01-c.musicxml",
        "room-score/02-f.musicxml",
        "room/sign-off.txt",
        "hall/sign-off.txt",
    ];
    assert_eq!(bound, expected);
    assert!(
        expected
            .iter()
            .all(|file| out.join("quay").join(file).is_file())
    );
    let editions: Vec<&str> = contents["sheets"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|one| one["edition"].as_str())
        .collect();
    assert_eq!(editions.len(), 4);
    assert!(editions.iter().all(|edition| edition.len() == 6));
}

/// A book is not made again where `--gather` isn't said again: then it may
/// not be what the sheets are.
#[test]
fn a_book_that_isn_t_made_again_is_told_and_tidied() {
    let folder = fresh("out-of-date");
    let out = folder.join("out");
    let lesson = lesson(
        &folder,
        "quay.toml",
        &plain("instruments = [\"flute\", \"trombone\"]\n[keys]\nonly = [\"C\", \"F\"]"),
    );
    let write = |more: &[&str]| {
        let (lesson, out) = (lesson.to_str().unwrap(), out.to_str().unwrap());
        let ran = run([&["write", lesson, "--out", out], more].concat());
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.err
    };
    let book = |player: &str| out.join(format!("quay/{player}/book.musicxml"));
    write(&["--gather", "--sign-off"]);
    // Runs of one player or a part have no say about the others'.
    assert_eq!(write(&["--instrument", "flute"]), "");
    assert_eq!(write(&["--part", "2/2"]), "");
    let both = |said: &str| {
        for player in ["flute", "trombone"] {
            let words = format!(
                "out of date, since this run didn't make it again: {} (--tidy removes it)",
                book(player).display()
            );
            assert!(said.contains(&words), "{said}");
        }
    };
    both(&write(&[]));
    both(&write(&[]));
    fs::write(book("flute"), "mine").unwrap();
    let said = write(&["--tidy", "--sign-off"]);
    assert_eq!(said.lines().count(), 2, "{said}");
    assert!(said.contains("but edited") && said.contains("removed: "));
    assert!(book("flute").exists() && !book("trombone").exists());
    assert!(out.join("quay/flute/sign-off.txt").exists());
}

/// F sharp or G flat: the same sheet by another name.
#[test]
fn a_sheet_whose_key_is_named_otherwise_is_renamed() {
    let folder = fresh("renamed");
    let out = folder.join("out");
    let write = |key: &str| {
        let head =
            format!("instruments = [\"flute\", \"trombone\"]\n[keys]\nonly = [\"C\", \"{key}\"]");
        let text = plain(&head);
        let lesson = lesson(&folder, "quay.toml", &text);
        let (lesson, out) = (lesson.to_str().unwrap(), out.to_str().unwrap());
        let ran = run(["write", lesson, "--out", out, "--format", "musicxml,midi"]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.err
    };
    let file = |name: &str| out.join("quay").join(name);
    write("F#");
    assert!(file("flute/02-f-sharp.musicxml").exists());
    fs::write(file("trombone/02-f-sharp.musicxml"), "mine").unwrap();
    let said = write("Gb");
    assert_eq!(said.lines().count(), 1, "{said}");
    for words in [
        "renamed, since the key is named otherwise now: ",
        "flute/02-f-sharp.mid is flute/02-g-flat.mid, ",
        "flute/02-f-sharp.musicxml is flute/02-g-flat.musicxml, ",
        "; trombone/02-f-sharp.musicxml was edited and stays",
    ] {
        assert!(said.contains(words), "{said}");
    }
    assert!(file("flute/02-g-flat.musicxml").exists());
    assert!(!file("flute/02-f-sharp.musicxml").exists());
    assert!(!file("flute/02-f-sharp.mid").exists());
    assert_eq!(
        fs::read_to_string(file("trombone/02-f-sharp.musicxml")).unwrap(),
        "mine"
    );
}
