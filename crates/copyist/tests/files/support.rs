//! Lessons and courses as folders: a course whose lessons are small, and what
//! is told of a run.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use copyist::{CourseSource, Format, LessonOutcome, News, Options, Run, Source, Stop, read_source};

pub const ALL: [Format; 3] = [Format::MusicXml, Format::Pdf, Format::Midi];

/// A folder that goes when it is done with.
pub struct Folder(tempfile::TempDir);

impl Folder {
    pub fn new() -> Folder {
        Folder(tempfile::tempdir().unwrap())
    }

    /// Another one that holds the same but what was written.
    pub fn beside(&self) -> Folder {
        let folder = Folder::new();
        for (name, bytes) in self.files("") {
            if !name.starts_with("out/") {
                folder.write(&name, &String::from_utf8(bytes).unwrap());
            }
        }
        folder
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
        path
    }

    /// Every file below, by its name.
    pub fn files(&self, name: &str) -> BTreeMap<String, Vec<u8>> {
        let mut files = BTreeMap::new();
        let mut folders = vec![self.path(name)];
        while let Some(folder) = folders.pop() {
            for entry in fs::read_dir(&folder).into_iter().flatten() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    folders.push(path);
                } else {
                    let name = path.strip_prefix(self.0.path()).unwrap();
                    files.insert(name.display().to_string(), fs::read(&path).unwrap());
                }
            }
        }
        files
    }

    /// Two lessons, two players, three weeks.
    pub fn course(&self) -> PathBuf {
        for (name, title, kind) in [("ferry", "Ferry", "scale"), ("bridge", "Bridge", "figure")] {
            self.write(
                &format!("lessons/{name}.toml"),
                &format!(
                    "title = \"{title}\"\ntempo = 96\n[keys]\nonly = [\"C\", \"F\", \"Bb\"]\n\
                     [scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n\
                     [[exercise]]\nkind = \"{kind}\"\n"
                ),
            );
        }
        self.write("term.toml", COURSE)
    }
}

pub const COURSE: &str = r#"course = "By the River"
text = "Take your time."

[[player]]
name = "Noor"
instrument = "alto saxophone"
copies = 3

[[player]]
instrument = "trombone"
level = "beginner"

[[week]]
title = "Across"
text = "Slowly first."
lessons = ["lessons/ferry.toml"]
keys = ["C", "F"]

[[week]]
lessons = ["lessons/bridge.toml"]

[[week]]
lessons = ["lessons/bridge.toml"]
again = 2
keys = ["Bb"]
"#;

pub fn read(path: &Path) -> Source {
    read_source(path).unwrap()
}

pub fn course(path: &Path) -> CourseSource {
    match read(path) {
        Source::Course(course) => course,
        Source::Lesson(_) => unreachable!("a lesson"),
    }
}

pub fn options(folder: &Folder, formats: &[Format]) -> Options {
    Options {
        out: folder.path("out"),
        formats: formats.to_vec(),
        ..Options::default()
    }
}

/// What is told of a run.
#[derive(Debug, Default)]
pub struct Told {
    pub folders: Vec<String>,
    pub kept: Vec<String>,
    pub leftovers: Vec<(String, bool)>,
    pub edited: Vec<String>,
    pub sheets: Vec<(String, copyist::SheetEntry)>,
}

pub fn write(source: Source, options: Options) -> Told {
    let mut told = Told::default();
    let mut hear = |outcome: &LessonOutcome| {
        let within = |file: &String| format!("{}/{file}", outcome.folder);
        let settled = &outcome.settled;
        told.folders.push(outcome.folder.clone());
        told.kept
            .extend(settled.kept.iter().map(|kept| within(&kept.file)));
        let left = settled.leftovers.iter();
        told.leftovers
            .extend(left.map(|one| (within(&one.file), one.removed)));
        told.edited
            .extend(outcome.course.iter().flat_map(|one| one.edited.clone()));
        let sheets = outcome.contents.sheets.iter();
        told.sheets
            .extend(sheets.map(|sheet| (outcome.folder.clone(), sheet.clone())));
    };
    let run = Run::new(vec![source], options, &Stop::default()).unwrap();
    run.write(&|_| (), &mut |news| {
        if let News::Lesson(outcome) = news {
            hear(outcome);
        }
        Ok(())
    })
    .unwrap();
    told
}
