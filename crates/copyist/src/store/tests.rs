use super::*;

use crate::contents::Contents;

struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let pid = std::process::id();
        let root = std::env::temp_dir().join(format!("twelvefold-store-{pid}-{name}"));
        let _ = fs::remove_dir_all(&root);
        fs::create_dir_all(&root).unwrap();
        Folder(root)
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.0.join(name)).unwrap()
    }

    fn write(&self, name: &str, text: &str) {
        fs::write(self.0.join(name), text).unwrap();
    }

    fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.join("a")).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    /// A whole run that puts one file and makes only those in `makes`.
    fn run(&self, rules: Rules, makes: &[&str], text: &str) -> FolderOutcome {
        let store = Store::new(&self.0, rules, &Stop::default());
        store.open("a");
        for file in makes {
            store.put("a", file, text.as_bytes()).unwrap();
        }
        let mut contents = Contents::default();
        store
            .close("a", &mut contents, |file| makes.contains(&file))
            .unwrap()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn plain() -> Rules {
    Rules::default()
}

#[test]
fn what_nobody_edited_is_replaced() {
    let folder = Folder::new("replaced");
    folder.run(plain(), &["s.txt"], "one");
    let settled = folder.run(plain(), &["s.txt"], "two");
    assert_eq!(folder.read("a/s.txt"), "two");
    assert!(settled.kept.is_empty());
    assert_eq!(folder.names(), ["contents.json", "s.txt"]);
}

#[test]
fn the_same_content_is_not_touched() {
    let folder = Folder::new("untouched");
    let times = |name: &str| {
        fs::metadata(folder.0.join(name))
            .unwrap()
            .modified()
            .unwrap()
    };
    folder.run(plain(), &["s.txt"], "one");
    let before = (times("a/s.txt"), times("a/contents.json"));
    std::thread::sleep(std::time::Duration::from_millis(20));
    folder.run(plain(), &["s.txt"], "one");
    assert_eq!((times("a/s.txt"), times("a/contents.json")), before);
}

#[test]
fn an_edited_file_is_kept_and_so_is_an_edited_new_version() {
    let folder = Folder::new("kept");
    folder.run(plain(), &["s.txt"], "one");
    folder.write("a/s.txt", "mine");
    let settled = folder.run(plain(), &["s.txt"], "two");
    assert_eq!(settled.kept[0].new, "s.new.txt");
    assert_eq!(folder.read("a/s.txt"), "mine");
    assert_eq!(folder.read("a/s.new.txt"), "two");

    folder.run(plain(), &["s.txt"], "three");
    assert_eq!(folder.read("a/s.new.txt"), "three");
    folder.write("a/s.new.txt", "mine too");
    let settled = folder.run(plain(), &["s.txt"], "four");
    assert_eq!(settled.kept[0].new, "s.new-2.txt");
    assert_eq!(folder.read("a/s.txt"), "mine");
    assert_eq!(folder.read("a/s.new.txt"), "mine too");
    assert_eq!(folder.read("a/s.new-2.txt"), "four");
}

#[test]
fn a_new_version_that_was_taken_is_ours_again() {
    let folder = Folder::new("taken");
    folder.run(plain(), &["s.txt"], "one");
    folder.write("a/s.txt", "mine");
    folder.run(plain(), &["s.txt"], "two");
    fs::rename(folder.0.join("a/s.new.txt"), folder.0.join("a/s.txt")).unwrap();
    let settled = folder.run(plain(), &["s.txt"], "three");
    assert!(settled.kept.is_empty());
    assert_eq!(folder.read("a/s.txt"), "three");
}

#[test]
fn replace_keeps_the_edited_one_beside() {
    let folder = Folder::new("replace");
    folder.run(plain(), &["s.txt"], "one");
    for (text, aside) in [("mine", "a/s.edited.txt"), ("again", "a/s.edited-2.txt")] {
        folder.write("a/s.txt", text);
        let rules = Rules {
            replace: true,
            ..plain()
        };
        assert!(folder.run(rules, &["s.txt"], "two").kept.is_empty());
        assert_eq!(folder.read("a/s.txt"), "two");
        assert_eq!(folder.read(aside), text);
    }
}

#[test]
fn tidy_removes_what_is_no_longer_made_and_not_edited() {
    let folder = Folder::new("tidy");
    folder.run(plain(), &["s.txt", "t.txt", "u.txt"], "one");
    folder.write("a/t.txt", "mine");
    let told = folder.run(plain(), &["s.txt"], "one").leftovers;
    let told: Vec<(&str, bool, bool)> = told
        .iter()
        .map(|one| (one.file.as_str(), one.edited, one.removed))
        .collect();
    assert_eq!(told, [("t.txt", true, false), ("u.txt", false, false)]);
    let rules = Rules {
        tidy: true,
        ..plain()
    };
    folder.run(rules, &["s.txt"], "one");
    assert_eq!(folder.names(), ["contents.json", "s.txt", "t.txt"]);
}

#[test]
fn tidy_never_follows_a_name_out_of_the_folder() {
    let folder = Folder::new("outside");
    folder.run(plain(), &["s.txt"], "one");
    folder.write("precious", "one");
    let hash = Hash::of(b"one");
    folder.write(
        "a/contents.json",
        &format!("{{\"files\": {{\"../precious\": \"{hash}\"}}}}"),
    );
    let rules = Rules {
        tidy: true,
        ..plain()
    };
    folder.run(rules, &["s.txt"], "one");
    assert_eq!(folder.read("precious"), "one");
}

#[test]
fn without_contents_nothing_is_overwritten() {
    for (name, damage) in [("missing", None), ("damaged", Some("{\"sheets\": [{"))] {
        let folder = Folder::new(name);
        folder.run(plain(), &["s.txt"], "one");
        match damage {
            Some(text) => folder.write("a/contents.json", text),
            None => fs::remove_file(folder.0.join("a/contents.json")).unwrap(),
        }
        let settled = folder.run(plain(), &["s.txt"], "two");
        assert_eq!(folder.read("a/s.txt"), "one", "{name}");
        assert_eq!(folder.read("a/s.new.txt"), "two", "{name}");
        assert_eq!(settled.kept.len(), 1, "{name}");
        if let Some(text) = damage {
            assert!(settled.damaged);
            assert_eq!(folder.read("a/contents.edited.json"), text);
        }
    }
}

#[test]
fn what_a_killed_run_wrote_is_known_again() {
    let folder = Folder::new("killed");
    folder.run(plain(), &["s.txt", "t.txt"], "one");
    let store = Store::new(&folder.0, plain(), &Stop::default());
    store.open("a");
    store.put("a", "s.txt", b"two").unwrap();
    // It ends here: nothing is closed, and a file was being written.
    drop(store);
    folder.write("a/.t.txt.part", "tw");
    let settled = folder.run(plain(), &["s.txt", "t.txt"], "three");
    assert!(settled.kept.is_empty());
    assert_eq!(folder.read("a/s.txt"), "three");
    assert_eq!(folder.read("a/t.txt"), "three");
    assert_eq!(folder.names(), ["contents.json", "s.txt", "t.txt"]);
}

fn at_once() -> Rules {
    Rules {
        at_once: true,
        ..plain()
    }
}

#[test]
fn a_new_folder_comes_whole_and_is_then_like_any_other() {
    let folder = Folder::new("at-once");
    let store = Store::new(&folder.0, at_once(), &Stop::default());
    store.open("a");
    store.put("a", "f/s.txt", b"one").unwrap();
    assert_eq!(store.outcome("a", "f/s.txt"), Some(FileOutcome::Made));
    assert!(!folder.0.join("a").exists());
    store
        .close("a", &mut Contents::default(), |_| true)
        .unwrap();
    assert_eq!(folder.read("a/f/s.txt"), "one");
    assert_eq!(folder.names(), ["contents.json", "f"]);
    folder.write("a/f/s.txt", "mine");
    let settled = folder.run(at_once(), &["f/s.txt"], "two");
    assert_eq!(settled.kept.len(), 1);
    assert_eq!(folder.read("a/f/s.txt"), "mine");
}

#[test]
fn what_a_killed_run_left_of_a_new_folder_is_swept() {
    let folder = Folder::new("at-once-killed");
    let store = Store::new(&folder.0, at_once(), &Stop::default());
    store.open("a");
    store.put("a", "s.txt", b"one").unwrap();
    drop(store);
    let mut next = Store::new(&folder.0, plain(), &Stop::default());
    next.hold(None, &mut |_| Ok(())).unwrap();
    let left: Vec<_> = fs::read_dir(&folder.0).unwrap().flatten().collect();
    assert_eq!(left.len(), 1, "{left:?}");
}

#[test]
fn a_folder_that_somebody_made_meanwhile_stays() {
    let folder = Folder::new("at-once-taken");
    let store = Store::new(&folder.0, at_once(), &Stop::default());
    store.open("a");
    store.put("a", "s.txt", b"one").unwrap();
    fs::create_dir(folder.0.join("a")).unwrap();
    folder.write("a/s.txt", "mine");
    let error = store.close("a", &mut Contents::default(), |_| true);
    let error = format!("{:#}", error.unwrap_err());
    assert!(error.ends_with("was made meanwhile"), "{error}");
    assert_eq!(folder.read("a/s.txt"), "mine");
    assert_eq!(folder.names(), ["s.txt"]);
    assert_eq!(fs::read_dir(&folder.0).unwrap().count(), 1);
}

#[test]
fn what_became_of_a_file_is_told() {
    let folder = Folder::new("outcomes");
    let check = |rules: Rules, text: &str, expected: FileOutcome| {
        let store = Store::new(&folder.0, rules, &Stop::default());
        store.open("a");
        store.put("a", "s.txt", text.as_bytes()).unwrap();
        assert_eq!(store.outcome("a", "s.txt"), Some(expected), "{text}");
        store
            .close("a", &mut Contents::default(), |_| true)
            .unwrap();
    };
    let replaced = |edited: Option<&str>| FileOutcome::Replaced {
        edited: edited.map(str::to_owned),
    };
    let replace = || Rules {
        replace: true,
        ..plain()
    };
    let new = "s.new.txt".to_owned();
    check(plain(), "one", FileOutcome::Made);
    check(plain(), "one", FileOutcome::Untouched);
    check(plain(), "two", replaced(None));
    folder.write("a/s.txt", "mine");
    check(plain(), "three", FileOutcome::Kept { new });
    check(replace(), "three", replaced(Some("s.edited.txt")));
}

#[test]
fn a_folder_or_file_in_the_way_is_told_and_leaves_nothing_behind() {
    let folder = Folder::new("refuse");
    fs::create_dir_all(folder.0.join("a/taken.txt")).unwrap();
    folder.write("a/file", "mine");
    let store = Store::new(&folder.0, plain(), &Stop::default());
    store.open("a");
    for (name, expected) in [
        ("a/taken.txt", "a folder has that name"),
        ("a/file/c.txt", "a file stands where a folder is needed"),
    ] {
        let error = format!(
            "{:#}",
            store
                .put("a", name.trim_start_matches("a/"), b"one")
                .unwrap_err()
        );
        assert!(error.ends_with(expected), "{error}");
        assert!(error.contains(name), "{error}");
    }
    assert_eq!(folder.names(), ["file", "taken.txt"]);
    assert_eq!(folder.read("a/file"), "mine");
}

#[test]
fn create_never_replaces() {
    let folder = Folder::new("create");
    let path = folder.0.join("lesson.toml");
    create(&path, b"one").unwrap();
    let error = create(&path, b"two").unwrap_err();
    assert_eq!(error.kind(), io::ErrorKind::AlreadyExists);
    assert_eq!(folder.read("lesson.toml"), "one");
}
