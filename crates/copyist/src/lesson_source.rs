//! Files from disk to lessons and courses, every mistake in a file told.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::ops::Range;
use std::path::{Path, PathBuf};

use lesson::{Changes, Course, Lesson};
use lesson_text::{LessonFile, Mistake};

use crate::input;
use crate::lead_sheet::{self, MusicFile};
use crate::refusal::Refusal;

/// A lesson file holds a page of words; what is longer is something else.
const MOST_BYTES: u64 = 1_000_000;

/// A lesson and the file it came from.
#[derive(Debug, Clone)]
pub struct LessonSource {
    /// The file.
    pub path: PathBuf,
    /// What it says.
    pub lesson: Lesson,
    /// What was guessed of its lead sheet.
    pub warnings: Vec<String>,
}

/// A course and the files it came from.
#[derive(Debug, Clone)]
pub struct CourseSource {
    /// The course's file.
    pub path: PathBuf,
    /// What it says.
    pub course: Course,
    /// Its lessons' files, in their order.
    pub files: Vec<PathBuf>,
    /// What was guessed of its lessons' lead sheets.
    pub warnings: Vec<String>,
}

/// What a file holds.
#[derive(Debug, Clone)]
pub enum Source {
    /// A lesson.
    Lesson(LessonSource),
    /// A course with its lessons.
    Course(CourseSource),
}

impl From<LessonSource> for Source {
    fn from(lesson: LessonSource) -> Source {
        Source::Lesson(lesson)
    }
}

impl Source {
    /// What was guessed of its lead sheets.
    pub fn warnings(&self) -> &[String] {
        match self {
            Source::Lesson(lesson) => &lesson.warnings,
            Source::Course(course) => &course.warnings,
        }
    }
}

/// What is wrong with a file: the one that was named, or a lesson of it.
#[derive(Debug, Clone)]
pub struct FileFault {
    /// The file.
    pub path: PathBuf,
    /// What is wrong.
    pub fault: LessonFault,
}

/// Why a file gives no lesson.
#[derive(Debug, Clone)]
pub enum LessonFault {
    /// It can't be read.
    Unreadable(Refusal),
    /// What is written in it is wrong.
    Mistakes {
        /// The file's text.
        text: String,
        /// Each with its place there.
        mistakes: Vec<Mistake>,
    },
}

/// The lesson files that these paths name, each once: a folder stands for the
/// lesson files in it, by name, not for those in folders below.
///
/// # Errors
/// Every folder that has none or can't be read.
pub fn gathered(paths: &[PathBuf]) -> Result<Vec<PathBuf>, Vec<Refusal>> {
    let mut files = Vec::new();
    let mut refusals = Vec::new();
    for path in paths {
        if !path.is_dir() {
            files.push(path.clone());
            continue;
        }
        let shown = path.display();
        match in_folder(path) {
            Ok(found) if !found.is_empty() => files.extend(found),
            Ok(_) => refusals.push(Refusal::new(
                format!("{shown}: there is no lesson file in it"),
                "name a folder with .toml files in it",
            )),
            Err(error) => refusals.push(Refusal::new(
                format!("{shown}: can't be read: {error}"),
                "look at whether you may read it",
            )),
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let mut seen = BTreeSet::new();
    files.retain(|path| seen.insert(fs::canonicalize(path).unwrap_or_else(|_| path.clone())));
    Ok(files)
}

fn in_folder(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.extension().is_some_and(|ending| ending == "toml") && path.is_file() {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// Reads a file that holds a lesson or a course, and all that it names.
///
/// # Errors
/// Every mistake in it and in its lessons, file by file.
pub fn read_source(path: &Path) -> Result<Source, Vec<FileFault>> {
    let faulty = |fault| FileFault {
        path: path.to_owned(),
        fault,
    };
    let text = match text_of(path) {
        Ok(text) => text,
        Err(refusal) => return Err(vec![faulty(LessonFault::Unreadable(refusal))]),
    };
    if lesson_text::is_course(&text) {
        return course(path, text).map(Source::Course);
    }
    let lesson = lesson(path, text);
    lesson
        .map(Source::Lesson)
        .map_err(|fault| vec![faulty(fault)])
}

/// Reads a lesson file, and the lead sheet it names.
///
/// # Errors
/// Every mistake in it, or that it can't be read.
pub fn read_lesson(path: &Path) -> Result<LessonSource, LessonFault> {
    lesson(path, text_of(path).map_err(LessonFault::Unreadable)?)
}

fn lesson(path: &Path, text: String) -> Result<LessonSource, LessonFault> {
    let (changes, warnings) = match changes(path, &text) {
        None => (None, Vec::new()),
        Some(Ok(read)) => (Some(read.value), read.warnings),
        Some(Err(mistake)) => {
            return Err(LessonFault::Mistakes {
                text,
                mistakes: vec![mistake],
            });
        }
    };
    match lesson_text::read_with(&text, &stem(path), changes.as_ref()) {
        Ok(lesson) => Ok(LessonSource {
            path: path.to_owned(),
            lesson,
            warnings,
        }),
        Err(mistakes) => Err(LessonFault::Mistakes { text, mistakes }),
    }
}

/// The changes of the lead sheet that a lesson names, if it does. What is wrong
/// with it can be mended where the lesson names it.
fn changes(path: &Path, text: &str) -> Option<Result<MusicFile<Changes>, Mistake>> {
    let sheet = lesson_text::lead_sheet(text)?;
    let changes = lead_sheet::changes(path, &sheet);
    Some(changes.map_err(|refusal| at(sheet.span, refusal)))
}

/// What is wrong with a file, told where it is named.
fn at(named: Range<usize>, refusal: Refusal) -> Mistake {
    Mistake::new(named, refusal.message, refusal.help.unwrap_or_default())
}

fn stem(path: &Path) -> String {
    let stem = path.file_stem().unwrap_or_default();
    stem.to_string_lossy().into_owned()
}

/// Reads a course's lessons, which lie where its file says.
fn course(path: &Path, text: String) -> Result<CourseSource, Vec<FileFault>> {
    let folder = path.parent().unwrap_or(Path::new(""));
    let mut files = Vec::new();
    let mut warnings = Vec::new();
    let mut lessons = Vec::new();
    for named in lesson_text::course_lessons(&text) {
        let file = folder.join(&named.file);
        let text = text_of(&file);
        let lead = text.as_ref().ok().and_then(|text| changes(&file, text));
        let lead = lead.map(|lead| {
            lead.map(|read| {
                warnings.extend(read.warnings);
                read.value
            })
        });
        lessons.push(LessonFile {
            file: named.file,
            text: text.map_err(|refusal| at(named.span, refusal)),
            lead,
        });
        files.push(file);
    }
    let fault = match lesson_text::read_course(&text, &stem(path), &lessons) {
        Ok(course) => {
            return Ok(CourseSource {
                path: path.to_owned(),
                course,
                files,
                warnings,
            });
        }
        Err(fault) => fault,
    };
    let mut faults = Vec::new();
    if !fault.course.is_empty() {
        faults.push(FileFault {
            path: path.to_owned(),
            fault: LessonFault::Mistakes {
                text,
                mistakes: fault.course,
            },
        });
    }
    for faulty in fault.lessons {
        let place = lessons.iter().position(|lesson| lesson.file == faulty.file);
        let Some(place) = place else { continue };
        faults.push(FileFault {
            path: files[place].clone(),
            fault: LessonFault::Mistakes {
                text: lessons[place].text.clone().unwrap_or_default(),
                mistakes: faulty.mistakes,
            },
        });
    }
    Err(faults)
}

fn text_of(path: &Path) -> Result<String, Refusal> {
    let bytes = input::bytes(
        path,
        MOST_BYTES,
        "a lesson can be, 1 MB",
        "name a lesson file",
    )?;
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let line = 1 + error.as_bytes()[..at]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count();
        Refusal::new(
            format!("{}: is not UTF-8 text (line {line})", path.display()),
            "save it as plain text in UTF-8",
        )
    })
}
