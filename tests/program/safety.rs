//! Nothing is ever lost: kills, full disks, hand edits, two runs at once.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::support::{Ran, command, fresh, lesson, plain, ran, run, tree};

const ROOM: &str = "instruments = [\"flute\", \"alto saxophone\", \"tenor saxophone\", \"trombone\", \"b-flat trumpet\"]";

struct Room {
    folder: PathBuf,
    out: PathBuf,
}

impl Room {
    fn new(name: &str) -> Room {
        let folder = fresh(name);
        let out = folder.join("out");
        let room = Room { folder, out };
        room.lesson("Plain");
        room
    }

    fn lesson(&self, title: &str) {
        let text = plain(ROOM).replace("Plain", title);
        lesson(&self.folder, "lesson.toml", &text);
    }

    fn arguments(&self, more: &[&str]) -> Vec<String> {
        let path = self.folder.join("lesson.toml");
        let own = [
            "write",
            path.to_str().unwrap(),
            "--out",
            self.out.to_str().unwrap(),
        ];
        own.iter()
            .chain(more)
            .map(|word| (*word).to_owned())
            .collect()
    }

    fn write(&self, more: &[&str]) -> Ran {
        run(self.arguments(more))
    }

    fn sheet(&self, name: &str) -> PathBuf {
        self.out.join("lesson").join(name)
    }
}

/// Numbers that look random and are the same each time.
struct Random(u64);

impl Random {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (self.0 >> 33) % end
    }
}

#[test]
fn killed_at_any_moment_every_file_is_whole_and_the_next_run_completes_the_set() {
    let undisturbed = Room::new("kill-none");
    assert_eq!(undisturbed.write(&[]).code, 0);
    let old = tree(&undisturbed.out);
    let changed = Room::new("kill-changed");
    changed.lesson("Retitled");
    let begun = Instant::now();
    assert_eq!(changed.write(&[]).code, 0);
    let micros = begun.elapsed().as_micros() as u64;
    let new = tree(&changed.out);

    let mut random = Random(7);
    let mut midway = 0;
    for round in 0..50 {
        let room = Room::new("kill");
        // Half of the rounds begin on a folder that is written already.
        if round % 2 == 0 {
            assert_eq!(room.write(&[]).code, 0);
        }
        room.lesson("Retitled");
        let mut child = command(room.arguments(&[]))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        thread::sleep(Duration::from_micros(random.below(micros)));
        child.kill().unwrap();
        child.wait().unwrap();
        let mut written = 0;
        for (name, bytes) in finished(&room.out) {
            let whole = new.get(&name) == Some(&bytes);
            written += usize::from(whole);
            assert!(
                whole || old.get(&name) == Some(&bytes),
                "round {round}: {name}"
            );
        }
        midway += usize::from(written > 0 && written < new.len());
        let ran = room.write(&[]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "round {round}");
        assert!(tree(&room.out) == new, "round {round}");
    }
    assert!(midway > 0, "no kill fell into the writing");
}

/// The files in place: not those that a kill left unfinished, nor notes.
fn finished(out: &Path) -> Vec<(String, Vec<u8>)> {
    if !out.exists() {
        return Vec::new();
    }
    let is_hidden = |name: &str| name.rsplit('/').next().unwrap().starts_with('.');
    tree(out)
        .into_iter()
        .filter(|(name, _)| !is_hidden(name))
        .collect()
}

#[test]
fn a_hand_edit_stays_when_the_lesson_changes() {
    let room = Room::new("edit");
    assert_eq!(room.write(&[]).code, 0);
    let sheet = room.sheet("flute/01-c.musicxml");
    fs::write(&sheet, "my own slurs").unwrap();
    room.lesson("Retitled");
    let ran = room.write(&[]);
    assert_eq!(ran.code, 3);
    assert!(ran.err.contains("01-c.musicxml was edited"), "{}", ran.err);
    assert_eq!(fs::read_to_string(&sheet).unwrap(), "my own slurs");
    let new = fs::read_to_string(room.sheet("flute/01-c.new.musicxml")).unwrap();
    assert!(new.contains("Retitled"));
    // The same folder, and what nobody edited is replaced.
    let other = fs::read_to_string(room.sheet("flute/02-f.musicxml")).unwrap();
    assert!(other.contains("Retitled"));
    assert_eq!(fs::read_dir(&room.out).unwrap().count(), 2);

    let ran = room.write(&["--replace"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert_eq!(fs::read_to_string(&sheet).unwrap(), new);
    let aside = room.sheet("flute/01-c.edited.musicxml");
    assert_eq!(fs::read_to_string(aside).unwrap(), "my own slurs");
}

#[test]
fn an_untouched_sheet_keeps_its_time() {
    let room = Room::new("times");
    let times = || -> Vec<_> {
        let files = tree(&room.out).into_keys();
        files
            .map(|name| {
                fs::metadata(room.out.join(name))
                    .unwrap()
                    .modified()
                    .unwrap()
            })
            .collect()
    };
    room.write(&[]);
    let before = times();
    thread::sleep(Duration::from_millis(20));
    room.write(&[]);
    assert_eq!(times(), before);
}

#[test]
fn what_a_lesson_no_longer_makes_is_told_and_tidied() {
    let room = Room::new("tidy");
    room.write(&[]);
    let text = plain(&ROOM.replace("\"flute\", ", ""));
    lesson(&room.folder, "lesson.toml", &text);
    let ran = room.write(&[]);
    assert_eq!(ran.code, 0);
    assert!(ran.err.contains("no longer made"), "{}", ran.err);
    assert!(room.sheet("flute/01-c.musicxml").exists());
    room.write(&["--tidy"]);
    assert!(!room.sheet("flute").exists());
    assert_eq!(room.write(&[]).err, "");
}

#[test]
fn two_runs_together_leave_what_one_leaves() {
    let alone = Room::new("together-alone");
    alone.write(&[]);
    let room = Room::new("together");
    let start = || {
        command(room.arguments(&[]))
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap()
    };
    let (first, second) = (start(), start());
    for child in [first, second] {
        assert_eq!(ran(child.wait_with_output().unwrap()).code, 0);
    }
    assert!(tree(&room.out) == tree(&alone.out));
}

#[test]
fn a_run_says_what_it_waits_for_and_a_dead_run_s_lock_holds_nobody() {
    let room = Room::new("waits");
    room.write(&[]);
    let path = room.out.join(".twelvefold.lock");
    let lock = fs::File::open(&path).unwrap();
    lock.lock().unwrap();
    let child = command(room.arguments(&[]))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    thread::sleep(Duration::from_millis(300));
    drop(lock);
    let ran = ran(child.wait_with_output().unwrap());
    assert_eq!(ran.code, 0);
    assert!(ran.err.contains("waiting for another run"), "{}", ran.err);
    assert!(ran.err.contains(".twelvefold.lock"), "{}", ran.err);
    assert_eq!(room.write(&[]).err, "");
}

/// Files larger than 20 kB are refused by the system, as on a full disk.
#[cfg(unix)]
#[test]
fn where_there_is_no_room_old_files_stand_and_nothing_unfinished_stays() {
    let room = Room::new("full");
    let limited = || {
        let mut shell = Command::new("sh");
        shell.args([
            "-c",
            "ulimit -f 40; exec \"$0\" \"$@\"",
            env!("CARGO_BIN_EXE_twelvefold"),
        ]);
        ran(shell.args(room.arguments(&[])).output().unwrap())
    };
    let check = |ran: Ran| {
        assert_eq!(ran.code, 1, "{}", ran.err);
        assert!(ran.err.contains("could not write"), "{}", ran.err);
        assert!(ran.err.contains(".musicxml"), "{}", ran.err);
        assert!(ran.err.contains("may not be that large"), "{}", ran.err);
        let stray = tree(&room.out)
            .into_keys()
            .find(|name| name.contains(".part"));
        assert_eq!(stray, None);
    };
    check(limited());
    assert_eq!(room.write(&[]).code, 0);
    let old = tree(&room.out);
    room.lesson("Retitled");
    check(limited());
    for (name, bytes) in finished(&room.out) {
        assert!(
            name.ends_with("contents.json") || old[&name] == bytes,
            "{name}"
        );
    }
    assert_eq!(room.write(&[]).code, 0);
}

#[cfg(unix)]
#[test]
fn asked_to_stop_a_run_leaves_whole_files_and_goes_on_later() {
    let alone = Room::new("stop-alone");
    alone.write(&["--format", "musicxml,mxl"]);
    let whole = tree(&alone.out);
    let room = Room::new("stop");
    let child = command(room.arguments(&["--format", "musicxml,mxl", "--jobs", "1"]))
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    while !room.sheet("flute/01-c.musicxml").exists() {
        thread::sleep(Duration::from_millis(1));
    }
    let asked = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .unwrap();
    assert!(asked.success());
    let ran = ran(child.wait_with_output().unwrap());
    assert!([0, 130].contains(&ran.code), "{}", ran.err);
    for (name, bytes) in finished(&room.out) {
        assert!(
            name.ends_with("contents.json") || whole[&name] == bytes,
            "{name}"
        );
    }
    assert_eq!(room.write(&["--format", "musicxml,mxl"]).code, 0);
    assert!(tree(&room.out) == whole);
}
