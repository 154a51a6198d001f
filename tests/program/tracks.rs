//! Practice tracks: which files there are, what is said of them, and what
//! becomes of a SoundFont that is none.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::support::{Ran, command, fresh, lesson, plain, ran, tree};

const KEYS: &str =
    "instruments = [\"flute\", \"alto saxophone\"]\nkeys = { only = [\"C\", \"F\"] }";

fn arguments(name: &str, text: &str, formats: &str) -> (PathBuf, Vec<String>) {
    let folder = fresh(name);
    let path = lesson(&folder, "lesson.toml", text);
    let out = folder.join("out");
    let words = ["write", "--format", formats, "--out"].map(str::to_owned);
    let paths = [&out, &path].map(|path| path.to_str().unwrap().to_owned());
    (out, words.into_iter().chain(paths).collect())
}

fn write(name: &str, text: &str, formats: &str, more: &[&str]) -> (Ran, PathBuf) {
    let (out, mut words) = arguments(name, text, formats);
    words.extend(more.iter().map(|word| (*word).to_owned()));
    let output = command(words)
        .env_remove("TWELVEFOLD_SOUNDFONT")
        .output()
        .unwrap();
    (ran(output), out)
}

fn names(out: &Path) -> Vec<String> {
    tree(&out.join("lesson")).into_keys().collect()
}

fn contents(out: &Path) -> Value {
    serde_json::from_slice(&fs::read(out.join("lesson/contents.json")).unwrap()).unwrap()
}

#[test]
fn a_track_lies_beside_its_sheet() {
    let (ran, out) = write("track", &plain(KEYS), "musicxml,midi", &[]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(
        ran.out
            .contains("lesson: 8 files; 1 sheet is shorter than asked"),
        "{}",
        ran.out
    );
    assert_eq!(
        names(&out),
        [
            "alto-saxophone/01-a.mid",
            "alto-saxophone/01-a.musicxml",
            "alto-saxophone/02-d.mid",
            "alto-saxophone/02-d.musicxml",
            "contents.json",
            "flute/01-c.mid",
            "flute/01-c.musicxml",
            "flute/02-f.mid",
            "flute/02-f.musicxml",
        ]
    );
    let contents = contents(&out);
    let track = &contents["tracks"][2];
    assert_eq!(track["file"], "alto-saxophone/01-a.mid");
    assert_eq!(
        (&track["instrument"], &track["written_key"]),
        (&"alto-saxophone".into(), &"A".into())
    );
    assert_eq!(
        (&track["form"], &track["tempo"]),
        (&"everything".into(), &Value::Null)
    );
}

#[test]
fn forms_and_tempos_are_files_of_their_own() {
    let text = plain(&format!(
        "{KEYS}\ntempo = {{ from = 60, to = 90, by = 20 }}"
    )) + "[track]\nforms = [\"backing\", \"line alone\", \"answer\", \"slow\", \"all keys\"]\n";
    let (ran, out) = write("forms", &text, "midi", &["--instrument", "flute"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let all: BTreeSet<String> = names(&out).into_iter().collect();
    let mut expected = BTreeSet::from(["contents.json".to_owned()]);
    for sheet in ["01-c", "02-f", "all-keys"] {
        for tempo in ["-60", "-80", "-90"] {
            for form in ["", "-backing", "-line-alone", "-answer"] {
                expected.insert(format!("flute/{sheet}{tempo}{form}.mid"));
            }
        }
        expected.insert(format!("flute/{sheet}-slow.mid"));
    }
    assert_eq!(all, expected);
    let contents = contents(&out);
    let tracks = contents["tracks"].as_array().unwrap();
    let listed: BTreeSet<&str> = tracks.iter().map(|t| t["file"].as_str().unwrap()).collect();
    assert_eq!(listed.len(), all.len() - 1);
    assert!(listed.iter().all(|file| all.contains(*file)));
    let seconds = |file: &str| {
        let track = tracks.iter().find(|track| track["file"] == file).unwrap();
        track["seconds"].as_u64().unwrap()
    };
    assert!(seconds("flute/01-c-slow.mid") > seconds("flute/01-c-60.mid"));
    assert!(seconds("flute/01-c-90.mid") < seconds("flute/01-c-80.mid"));
    assert!(seconds("flute/all-keys-60.mid") > 2 * seconds("flute/01-c-60.mid") - 5);
    // one key is no other track than the sheet's own
    let (ran, out) = write(
        "one-key",
        &text,
        "midi",
        &["--instrument", "flute", "--key", "F"],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(names(&out).iter().all(|name| !name.contains("all-keys")));
}

#[test]
fn audio_is_there_without_a_font_and_the_same_each_time() {
    let text = plain("instruments = [\"flute\"]\nkeys = { only = [\"C\"] }\ntempo = 400")
        + "[[exercise]]\nkind = \"figure\"\n[track]\nforms = [\"line alone\"]\n";
    let files = ["audio-1", "audio-2"].map(|name| {
        let (ran, out) = write(name, &text, "wav,flac,midi", &[]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        tree(&out)
    });
    assert!(files[0] == files[1]);
    assert_eq!(files[0].len(), 8);
    let file = |ending: &str| &files[0][&format!("lesson/flute/lesson-flute-01-c{ending}")];
    assert!(file(".wav").starts_with(b"RIFF") && file(".flac").starts_with(b"fLaC"));
    assert!(files[0]["lesson/flute/01-c.mid"].starts_with(b"MThd"));
    assert!(file(".wav") != file("-line-alone.wav"));
    let list = String::from_utf8(files[0]["lesson/flute/lesson-flute.m3u8"].clone()).unwrap();
    let expected = "#EXTM3U\nlesson-flute-01-c.flac\nlesson-flute-01-c-line-alone.flac\n";
    assert_eq!(list, expected);
}

/// Audio under names that aren't its own any more is told, and removed where
/// that is asked for; the sheet's own files stay.
#[test]
fn audio_under_old_names_is_no_longer_made() {
    let text = plain("instruments = [\"flute\"]\nkeys = { only = [\"C\"] }\ntempo = 400")
        + "[[exercise]]\nkind = \"figure\"\n";
    let (ran, out) = write("old-names", &text, "flac,midi", &[]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let folder = out.join("lesson");
    let new = "flute/lesson-flute-01-c.flac";
    let mut contents = fs::read_to_string(folder.join("contents.json")).unwrap();
    contents = contents.replace(new, "flute/01-c.flac");
    fs::rename(folder.join(new), folder.join("flute/01-c.flac")).unwrap();
    fs::write(folder.join("contents.json"), contents).unwrap();
    let again = |more: &[&str]| {
        let path = out.with_file_name("lesson.toml");
        let words = [
            "write",
            "--format",
            "flac,midi",
            "--out",
            out.to_str().unwrap(),
        ];
        let words = words.into_iter().chain([path.to_str().unwrap()]);
        super::support::ran(command(words.chain(more.iter().copied())).output().unwrap())
    };
    let told = again(&[]);
    assert!(
        told.out.contains("01-c.flac") || told.err.contains("01-c.flac"),
        "{} {}",
        told.out,
        told.err
    );
    assert!(folder.join("flute/01-c.flac").exists() && folder.join(new).exists());
    again(&["--tidy"]);
    assert!(!folder.join("flute/01-c.flac").exists() && folder.join(new).exists());
    assert!(folder.join("flute/01-c.mid").exists());
}

/// MIDI and sheets are written all the same; only the audio is missing.
fn check_refused(name: &str, font: &str, words: &str) {
    let (out, arguments) = arguments(name, &plain(KEYS), "midi,wav,flac,musicxml");
    let output = command(&arguments)
        .env("TWELVEFOLD_SOUNDFONT", font)
        .output()
        .unwrap();
    let by_name = ran(output);
    let first = names(&out);
    let output = command(
        arguments
            .iter()
            .map(String::as_str)
            .chain(["--soundfont", font]),
    )
    .env("TWELVEFOLD_SOUNDFONT", "")
    .output()
    .unwrap();
    let by_option = ran(output);
    for one in [&by_name, &by_option] {
        assert_eq!(one.code, 1, "{}", one.err);
        assert!(one.err.contains(words), "{}", one.err);
        assert!(one.err.contains("wav and flac are left out"), "{}", one.err);
        assert!(!one.err.contains("panicked"), "{}", one.err);
    }
    assert_eq!(first, names(&out));
    assert_eq!(
        first.iter().filter(|name| name.ends_with(".mid")).count(),
        4
    );
    assert_eq!(
        first
            .iter()
            .filter(|name| name.ends_with(".musicxml"))
            .count(),
        4
    );
    assert_eq!(first.len(), 9);
}

#[test]
fn a_font_that_is_none_is_told_and_midi_is_written() {
    let folder = fresh("fonts");
    let font = |name: &str, bytes: &[u8]| {
        let path = folder.join(name);
        fs::write(&path, bytes).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let gone = folder.join("gone.sf2");
    check_refused("no-font", gone.to_str().unwrap(), "there is no such file");
    check_refused("folder-font", folder.to_str().unwrap(), "is a folder");
    check_refused("empty-font", &font("empty.sf2", b""), "can't be used");
    check_refused(
        "text-font",
        &font("text.sf2", b"a letter home"),
        "can't be used",
    );
    let cut = b"RIFF\xff\xff\xff\xffsfbkLIST\x10\0\0\0INFOifil\x04\0\0\0\x02\0\x01\0";
    check_refused("cut-font", &font("cut.sf2", cut), "can't be used");
}

/// A font is not looked at where nothing is to be heard of it.
#[test]
fn a_font_is_read_for_audio_alone() {
    let (ran, out) = write(
        "unread-font",
        &plain(KEYS),
        "midi",
        &["--soundfont", "gone.sf2"],
    );
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert_eq!(names(&out).len(), 5);
}
