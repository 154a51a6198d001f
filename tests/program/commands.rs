//! `list`, `spell`, `check`, `start`, and arguments that are wrong.

use std::fs;
use std::io::Read;
use std::process::Stdio;

use crate::support::{command, fresh, run};

fn check_spell(arguments: &[&str], expected: &str) {
    let ran = run([&["spell"], arguments].concat());
    assert_eq!(
        (ran.code, ran.out.as_str()),
        (0, expected),
        "{arguments:?} {}",
        ran.err
    );
}

/// Spellings from handbook tables (common practice), rules 1 and 3.
#[test]
fn scales_and_chords_are_spelled() {
    check_spell(&["Gb major"], "sounding: Gb Ab Bb Cb Db Eb F\n");
    check_spell(
        &["Gb major", "--for", "alto-saxophone"],
        "sounding: Gb Ab Bb Cb Db Eb F\nwritten: Eb F G Ab Bb C D\n",
    );
    check_spell(
        &["B major", "--for", "b-flat-trumpet"],
        "sounding: B C# D# E F# G# A#\nwritten: Db Eb F Gb Ab Bb C\n",
    );
    check_spell(
        &["E major", "--for", "Alto Saxophone"],
        "sounding: E F# G# A B C# D#\nwritten: Db Eb F Gb Ab Bb C\n",
    );
    // Nobody reads a triple sharp.
    check_spell(&["B##7"], "sounding: B## E# G# A##\n");
    check_spell(&["G# harmonic minor"], "sounding: G# A# B C# D# E F##\n");
    check_spell(
        &["C altered"],
        "sounding: C Db Eb E Gb Ab Bb\nstrict: C Db Eb Fb Gb Ab Bb\n",
    );
    check_spell(&["Ab7(b9)"], "sounding: Ab C Eb Gb Bbb\n");
    check_spell(&["A♭7(♭9)"], "sounding: Ab C Eb Gb Bbb\n");
    check_spell(&["N.C."], "sounding:\n");
    check_spell(
        &["A melodic minor (classical)"],
        "sounding: A B C D E F# G#\nsounding, coming down: A G F E D C B A\n",
    );
}

#[test]
fn spelling_as_json_has_the_same_rows() {
    let ran = run(["spell", "C altered", "--for", "flute", "--format", "json"]);
    let json = ran.json();
    assert_eq!(json["sounding"].as_array().unwrap().len(), 7);
    assert_eq!(json["sounding"], json["written"]);
    assert_eq!(json["strict"][3], "Fb");
}

#[test]
fn what_has_no_name_is_refused_with_the_nearest() {
    let ran = run(["spell", "C dorain"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("did you mean dorian?"), "{}", ran.err);
    let ran = run(["spell", "C major", "--for", "clarinet"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("Clarinet in B♭"), "{}", ran.err);
    assert_eq!(ran.out, "");
}

#[test]
fn every_catalogue_is_listed_both_ways() {
    for (catalogue, item) in [
        ("scales", "lydian-dominant"),
        ("instruments", "alto-saxophone"),
        ("chords", "maj7"),
        ("key-orders", "fourths"),
        ("exercises", "sequence"),
    ] {
        let text = run(["list", catalogue]);
        assert_eq!(text.code, 0);
        assert!(
            text.out
                .lines()
                .any(|line| line.split_whitespace().next() == Some(item)),
            "{catalogue}"
        );
        let json = run(["list", catalogue, "--format", "json"]).json();
        let items = json.as_array().unwrap();
        assert_eq!(items.len() + 1, text.out.lines().count(), "{catalogue}");
        assert!(items.iter().any(|one| one["id"] == item), "{catalogue}");
    }
}

#[test]
fn the_starter_lesson_runs_and_is_never_written_over() {
    let folder = fresh("start");
    let path = folder.join("monday.toml");
    let file = path.to_str().unwrap();
    assert_eq!(run(["start", file]).code, 0);
    let out = folder.join("out");
    let written = run(["write", file, "--out", out.to_str().unwrap()]);
    assert_eq!((written.code, written.err.as_str()), (0, ""));
    fs::write(&path, "mine").unwrap();
    let refused = run(["start", file]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("is there already"), "{}", refused.err);
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    assert_eq!(
        run([
            "start",
            folder.join("no/such/folder.toml").to_str().unwrap()
        ])
        .code,
        1
    );
}

/// Its tables after the first commented one, as a teacher would take them up.
#[test]
fn what_the_starter_lesson_offers_can_be_taken_up() {
    let starter = run(["start", "-"]).out;
    for (first, also) in [
        ("# [[exercise]]", "# bars ="),
        ("# [track]", "# tuning"),
        ("# [[player]]", "# copies"),
    ] {
        let folder = fresh("start-taken-up");
        let begins = starter.find(first).unwrap();
        let ends = begins + starter[begins..].find(also).unwrap();
        let ends = ends + starter[ends..].find('\n').unwrap();
        let offered = starter[begins..ends]
            .lines()
            .map(|line| line.strip_prefix("# ").unwrap_or_default());
        let taken: Vec<&str> = offered.collect();
        let said = starter[..begins].lines().filter(|line| {
            // Players stand instead of these.
            first != "# [[player]]"
                || !line.starts_with("instruments") && !line.starts_with("level")
        });
        let lesson: Vec<&str> = said.chain(taken).collect();
        let path = folder.join("monday.toml");
        fs::write(&path, lesson.join("\n")).unwrap();
        let checked = run(["check", path.to_str().unwrap()]);
        assert_eq!((checked.code, checked.err.as_str()), (0, ""), "{first}");
    }
}

/// It names the lessons that lie beside it, and a schema where editors look.
#[test]
fn a_course_is_begun_from_the_lessons_beside_it() {
    let folder = fresh("start-course");
    let here = |arguments: &[&str]| {
        let output = command(arguments).current_dir(&folder).output().unwrap();
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).unwrap()
    };
    assert!(here(&["start", "--course", "-"]).contains("lessons = [\"lesson.toml\"]"));
    for name in ["b", "a", "c", "d", "e"] {
        here(&["start", &format!("{name}.toml")]);
    }
    here(&["start", "--course", "--schema", "course.schema.json"]);
    let text = fs::read_to_string(folder.join("course.toml")).unwrap();
    assert!(text.starts_with("#:schema course.schema.json\n"), "{text}");
    let weeks = text.lines().filter(|line| line.starts_with("lessons = "));
    let expected = [
        "[\"a.toml\", \"b.toml\"]",
        "[\"c.toml\", \"d.toml\"]",
        "[\"e.toml\"]",
    ];
    assert!(
        weeks.eq(expected.map(|week| format!("lessons = {week}"))),
        "{text}"
    );
    // A course is no lesson of another.
    assert!(!here(&["start", "--course", "-"]).contains("course.toml"));
}

#[test]
fn schemas_are_printed_and_a_lesson_names_one() {
    for of in [
        "lesson", "course", "sheets", "check", "list", "spell", "contents",
    ] {
        let schema = run(["schema", of]).json();
        assert_eq!(
            schema["$schema"], "https://json-schema.org/draft/2020-12/schema",
            "{of}"
        );
    }
    let lesson = run(["schema", "lesson"]).json();
    assert!(lesson["properties"]["title"].is_object());
    assert_eq!(run(["schema", "tunes"]).code, 2);
    let plain = run(["start", "-"]).out;
    let named = run(["start", "-", "--schema", "lesson.schema.json"]).out;
    assert_eq!(named, format!("#:schema lesson.schema.json\n{plain}"));
}

#[test]
fn start_prints_on_request_and_names_its_file_otherwise() {
    let folder = fresh("start-here");
    let ran = command(["start"]).current_dir(&folder).output().unwrap();
    assert!(ran.status.success());
    let printed = run(["start", "-"]);
    assert_eq!(
        printed.out,
        fs::read_to_string(folder.join("lesson.toml")).unwrap()
    );
}

#[test]
fn check_reports_every_player_and_writes_nothing() {
    let folder = fresh("check");
    let lesson = crate::support::root().join("fixtures/lessons/lantern-stairs.toml");
    let ran = crate::support::ran(
        command(["check", lesson.to_str().unwrap()])
            .current_dir(&folder)
            .output()
            .unwrap(),
    );
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert_eq!(
        ran.out
            .lines()
            .filter(|line| line.trim_start().starts_with("hardest: "))
            .count(),
        8
    );
    assert_eq!(
        ran.out
            .lines()
            .filter(|line| line.trim_start().starts_with("01  "))
            .count(),
        8
    );
    assert_eq!(fs::read_dir(folder).unwrap().count(), 0);
}

#[test]
fn wrong_arguments_exit_with_2() {
    for arguments in [
        &["write"][..],
        &["wriet", "x.toml"],
        &["list", "tunes"],
        &["write", "fixtures/lessons/smallest.toml", "--format", "sib"],
        &[
            "write",
            "fixtures/lessons/smallest.toml",
            "--key",
            "H",
            "--format",
            "json",
        ],
        &[
            "write",
            "fixtures/lessons/smallest.toml",
            "--instrument",
            "kazoo",
            "--format",
            "json",
        ],
        &[
            "write",
            "fixtures/lessons/one-breath.toml",
            "--key",
            "B",
            "--format",
            "json",
        ],
        &[],
    ] {
        let ran = run(arguments);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!ran.err.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_thing_typed_for_its_catalogue_is_told_where_it_is() {
    for (name, catalogue) in [
        ("lydian dominant", "scales"),
        ("tenor saxophone", "instruments"),
        ("7b9", "chords"),
    ] {
        let ran = run(["list", name]);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{name}");
        let told = format!("twelvefold list {catalogue} \"{name}\"");
        assert!(ran.err.contains(&told), "{}", ran.err);
        assert_eq!(run(["list", catalogue, name]).code, 0, "{name}");
    }
    assert!(!run(["list", "tunes"]).err.contains("for this one"));
    // and whoever types nothing is told what there is
    let ran = run(["list"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(
        ran.err.contains("key-orders") && ran.err.contains("--notes"),
        "{}",
        ran.err
    );
}

#[test]
fn nothing_is_coloured_away_from_a_terminal() {
    let ran = run(["write", "fixtures/lessons/mistakes/seven.toml"]);
    assert!(!ran.err.contains('\u{1b}'));
}

#[test]
fn a_reader_that_stops_listening_is_no_fault() {
    let mut child = command([
        "write",
        "fixtures/lessons/lantern-stairs.toml",
        "--format",
        "json",
    ])
    .stdout(Stdio::piped())
    .stderr(Stdio::piped())
    .spawn()
    .unwrap();
    let mut first = [0; 1];
    child.stdout.take().unwrap().read_exact(&mut first).unwrap();
    let done = child.wait_with_output().unwrap();
    assert_eq!(
        (done.status.code(), done.stderr.as_slice()),
        (Some(0), &b""[..])
    );
}
