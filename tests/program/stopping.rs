//! A run that is asked to stop leaves whole files and is completed by the next.

use std::collections::BTreeMap;
use std::fs;
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use crate::room::{Room, finished};
use crate::support::{command, lesson, plain, ran, tree};

#[cfg(unix)]
#[test]
fn asked_to_stop_a_run_leaves_whole_files_and_goes_on_later() {
    let more = ["--format", "musicxml,mxl", "--jobs", "1"];
    let alone = Room::new("stop-alone");
    alone.write(&more);
    let old = tree(&alone.out);
    alone.lesson("Retitled");
    alone.write(&more);
    let whole = tree(&alone.out);
    let room = Room::new("stop");
    // Into a new folder, and then over what stands.
    let begun = room.out.join(".lesson.part/flute/01-c.mxl");
    check_stop(&room, &more, || begun.exists(), &old);
    room.lesson("Retitled");
    let first = room.sheet("flute/01-c.mxl");
    let replaced = || fs::read(&first).is_ok_and(|now| now != old["lesson/flute/01-c.mxl"]);
    check_stop(&room, &more, replaced, &whole);
}

/// One sheet whose samples take minutes to make: whoever asks it to stop
/// needn't wait for them, and what stood before stands.
#[cfg(unix)]
#[test]
fn a_run_in_the_midst_of_one_long_file_stops_too() {
    let room = Room::new("stop-midst");
    let long = plain("instruments = [\"flute\"]\ntempo = 30\n[keys]\nonly = [\"C\"]")
        + "[track]\ntimes = 8\n";
    lesson(&room.folder, "lesson.toml", &long);
    assert_eq!(room.write(&[]).code, 0);
    let before = tree(&room.out);
    for signal in ["-INT", "-TERM"] {
        let child = command(room.arguments(&["--format", "wav,flac", "--jobs", "1"]))
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Long enough to have begun, short of what the samples take.
        thread::sleep(Duration::from_millis(700));
        let id = child.id().to_string();
        let asked = Command::new("kill").args([signal, &id]).status();
        assert!(asked.unwrap().success());
        let ran = ran(child.wait_with_output().unwrap());
        assert_eq!(ran.code, 130, "{}", ran.err);
        assert!(
            ran.err
                .contains("what is written is whole, and the same command goes on from there"),
            "{}",
            ran.err
        );
        let sheets = |tree: BTreeMap<String, Vec<u8>>| -> BTreeMap<String, Vec<u8>> {
            let sheets = tree.into_iter();
            sheets
                .filter(|(name, _)| name.ends_with(".musicxml"))
                .collect()
        };
        assert!(sheets(tree(&room.out)) == sheets(before.clone()));
        assert!(!tree(&room.out).keys().any(|name| name.ends_with(".wav")));
    }
}

/// Stops a run once it has begun: what it leaves is whole, and the next one
/// completes it to `whole`.
#[cfg(unix)]
fn check_stop(
    room: &Room,
    more: &[&str],
    begun: impl Fn() -> bool,
    whole: &BTreeMap<String, Vec<u8>>,
) {
    let before: Vec<Vec<u8>> = finished(&room.out)
        .into_iter()
        .map(|(_, bytes)| bytes)
        .collect();
    let mut child = command(room.arguments(more))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    while !begun() && child.try_wait().unwrap().is_none() {
        thread::sleep(Duration::from_micros(200));
    }
    let _ = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .stderr(Stdio::null())
        .status();
    let ran = ran(child.wait_with_output().unwrap());
    assert!([0, 130].contains(&ran.code), "{}", ran.err);
    for (name, bytes) in finished(&room.out) {
        let known = name.ends_with("contents.json") || before.contains(&bytes);
        assert!(known || whole[&name] == bytes, "{name}");
    }
    assert_eq!(room.write(more).code, 0);
    assert!(tree(&room.out) == *whole);
}
