//! Nothing is ever lost: kills, full disks, hand edits, two runs at once.

use std::fs;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::room::{ROOM, Room, finished};
use crate::support::{Ran, command, lesson, plain, ran, tree};

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
    let (mut midway, mut unseen) = (0, 0);
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
        unseen += usize::from(room.out.join(".lesson.part").exists());
        let ran = room.write(&[]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "round {round}");
        assert!(tree(&room.out) == new, "round {round}");
    }
    assert!(midway > 0, "no kill fell into the writing");
    assert!(unseen > 0, "no kill fell into the writing of a new folder");
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
    check_limited("full");
}

#[cfg(unix)]
fn check_limited(name: &str) {
    let room = Room::new(name);
    let limited = || {
        let mut shell = Command::new("sh");
        shell.args([
            "-c",
            "ulimit -f 40 || exit 99; exec \"$0\" \"$@\"",
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

/// `contents.json` alone is larger than the system allows.
#[cfg(unix)]
#[test]
fn where_contents_can_t_be_written_the_notes_stay_and_nothing_is_taken_for_an_edit() {
    let room = Room::new("contents-full");
    let crowd = |title: &str| {
        let players: String = (0..30)
            .map(|player| {
                format!("[[player]]\nname = \"Player {player}\"\ninstrument = \"flute\"\n")
            })
            .collect();
        let text = plain("").replace("Plain", title) + &players;
        lesson(&room.folder, "lesson.toml", &text);
    };
    let limited = || {
        let mut shell = Command::new("sh");
        let script = "ulimit -f 120 || exit 99; exec \"$0\" \"$@\"";
        shell.args(["-c", script, env!("CARGO_BIN_EXE_twelvefold")]);
        let ran = ran(shell.args(room.arguments(&[])).output().unwrap());
        assert_eq!(ran.code, 1, "{}", ran.err);
        let expected = "contents.json: files there may not be that large";
        assert!(ran.err.contains(expected), "{}", ran.err);
    };
    crowd("Plain");
    limited();
    // What can't be told is not there at all.
    assert_eq!(tree(&room.out).len(), 0);
    assert_eq!(room.write(&[]).code, 0);
    assert!(tree(&room.out)["lesson/contents.json"].len() > 61_440);

    crowd("Retitled");
    limited();
    let sheet = fs::read_to_string(room.sheet("player-29/12-g.musicxml")).unwrap();
    assert!(sheet.contains("Retitled"));
    assert!(room.sheet(".pending").exists());
    crowd("Retitled again");
    let ran = room.write(&[]);
    assert_eq!(
        (ran.code, ran.err.contains("kept")),
        (0, false),
        "{}",
        ran.err
    );
    assert!(!room.sheet(".pending").exists());
}

/// A small file system, in a name space of its own that takes it away again;
/// where the machine allows none, the limits above have to do.
#[cfg(target_os = "linux")]
#[test]
fn on_a_full_disk_old_files_stand_and_room_makes_all_well() {
    let room = Room::new("brim");
    let undisturbed = Room::new("brim-undisturbed");
    undisturbed.lesson("Retitled");
    assert_eq!(undisturbed.write(&[]).code, 0);
    let bin = env!("CARGO_BIN_EXE_twelvefold");
    let script = format!(
        "mount -t tmpfs -o size=3m tmpfs {out} || exit 77\n\
         {bin} write {lesson} --out {out} --quiet || exit 78\n\
         cp -r {out} {folder}/first\n\
         dd if=/dev/zero of={out}/filler bs=4096 2>/dev/null; truncate -s -8K {out}/filler\n\
         sed -i s/Plain/Retitled/ {lesson}\n\
         {bin} write {lesson} --out {out} --quiet 2>{folder}/said\n\
         echo $? >{folder}/code\n\
         rm {out}/filler; cp -r {out} {folder}/brim\n\
         {bin} write {lesson} --out {out} --quiet || exit 79\n\
         cp -r {out} {folder}/after\n",
        out = room.out.display(),
        folder = room.folder.display(),
        lesson = room.folder.join("lesson.toml").display(),
    );
    fs::create_dir(&room.out).unwrap();
    let apart = Command::new("unshare")
        .args(["--user", "--map-root-user", "--mount", "sh", "-c", &script])
        .output();
    let code = apart.ok().and_then(|ran| ran.status.code());
    if !room.folder.join("first").exists() && [None, Some(1), Some(77)].contains(&code) {
        eprintln!("no file system can be mounted here: file sizes are limited instead");
        return check_limited("brim-limited");
    }
    assert_eq!(code, Some(0));
    let read = |name: &str| fs::read_to_string(room.folder.join(name)).unwrap();
    assert_eq!(read("code").trim(), "1");
    let said = read("said");
    assert!(
        said.contains("could not write") && said.contains("the disk is full"),
        "{said}"
    );
    let (first, brim) = (
        tree(&room.folder.join("first")),
        tree(&room.folder.join("brim")),
    );
    let whole = tree(&undisturbed.out);
    for (name, bytes) in &first {
        let now = &brim[name];
        assert!(
            now == bytes || name.ends_with("contents.json") || *now == whole[name],
            "{name}"
        );
    }
    assert!(brim.keys().all(|name| !name.contains(".part")));
    assert!(tree(&room.folder.join("after")) == whole);
}
