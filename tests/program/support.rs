//! Running the program and looking at what it leaves.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// The project's own folder; the program is run there.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .canonicalize()
        .unwrap()
}

/// Every lesson we ship.
pub fn lessons() -> Vec<PathBuf> {
    let mut lessons: Vec<PathBuf> = fs::read_dir(root().join("fixtures/lessons"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    lessons.sort();
    assert!(lessons.len() >= 8);
    lessons
}

/// A fresh folder for one test.
pub fn fresh(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// What a run came to.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.out).unwrap()
    }
}

pub fn run<S: AsRef<std::ffi::OsStr>>(arguments: impl IntoIterator<Item = S>) -> Ran {
    ran(command(arguments).output().unwrap())
}

pub fn command<S: AsRef<std::ffi::OsStr>>(arguments: impl IntoIterator<Item = S>) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_twelvefold"));
    command
        .args(arguments)
        .current_dir(root())
        .stdin(Stdio::null());
    command
}

pub fn ran(output: Output) -> Ran {
    Ran {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// Writes a lesson's text into a file of its own.
pub fn lesson(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path
}

/// Every file under a folder but the locks that stay, by its path from there.
pub fn tree(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(next).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if !is_lock(&path) {
                let name = path
                    .strip_prefix(folder)
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .to_owned();
                files.insert(name, fs::read(&path).unwrap());
            }
        }
    }
    files
}

/// A plain lesson with something more at its head.
pub fn plain(head: &str) -> String {
    format!(
        "title = \"Plain\"\n{head}\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up, step up, skip up\"\n"
    )
}

fn is_lock(path: &Path) -> bool {
    let name = path.file_name().unwrap().to_string_lossy();
    name.starts_with(".twelvefold") && name.ends_with(".lock")
}
