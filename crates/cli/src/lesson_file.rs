//! Lesson files from disk to lessons, every mistake in every file told.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use lesson::Lesson;

use crate::console::Console;
use crate::lead_sheet;

/// A lesson file holds a page of words; what is longer is something else.
const MOST_BYTES: u64 = 1_000_000;

/// A lesson and the file it came from.
pub struct LessonFile {
    pub path: PathBuf,
    pub lesson: Lesson,
}

/// Reads them all, or tells every mistake in them and gives none. A file
/// named twice is read once.
pub fn read_all(paths: &[PathBuf], console: &Console) -> Option<Vec<LessonFile>> {
    let mut seen = BTreeSet::new();
    let mut lessons = Vec::new();
    let mut whole = true;
    for path in &gathered(paths, console)? {
        let place = fs::canonicalize(path).unwrap_or_else(|_| path.clone());
        if !seen.insert(place) {
            continue;
        }
        match read(path, console) {
            Some(lesson) => lessons.push(LessonFile {
                path: path.clone(),
                lesson,
            }),
            None => whole = false,
        }
    }
    whole.then_some(lessons)
}

/// The files themselves; a folder stands for the lesson files in it, by
/// name, not for those in folders below.
fn gathered(paths: &[PathBuf], console: &Console) -> Option<Vec<PathBuf>> {
    let mut files = Vec::new();
    let mut whole = true;
    for path in paths {
        if !path.is_dir() {
            files.push(path.clone());
            continue;
        }
        match in_folder(path) {
            Ok(found) if !found.is_empty() => files.extend(found),
            Ok(_) => {
                whole = false;
                let message = format!("{}: there is no lesson file in it", path.display());
                console.fault(&message, Some("name a folder with .toml files in it"));
            }
            Err(error) => {
                whole = false;
                let message = format!("{}: can't be read: {error}", path.display());
                console.fault(&message, Some("look at whether you may read it"));
            }
        }
    }
    whole.then_some(files)
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

fn read(path: &Path, console: &Console) -> Option<Lesson> {
    let text = match text_of(path) {
        Ok(text) => text,
        Err((message, help)) => {
            console.fault(&format!("{}: {message}", path.display()), Some(help));
            return None;
        }
    };
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let changes = match lesson_text::lead_sheet(&text) {
        Some(sheet) => Some(lead_sheet::changes(path, &sheet, console)?),
        None => None,
    };
    match lesson_text::read_with(&text, &stem, changes.as_ref()) {
        Ok(reading) => Some(reading.lesson),
        Err(mistakes) => {
            for mistake in &mistakes {
                console.mistake(path, &text, mistake);
            }
            let count = match mistakes.len() {
                1 => "1 mistake".to_owned(),
                count => format!("{count} mistakes"),
            };
            console.remark(&format!("{count} in {}", path.display()));
            None
        }
    }
}

fn text_of(path: &Path) -> Result<String, (String, &'static str)> {
    let unreadable = |error: io::Error| match error.kind() {
        io::ErrorKind::NotFound => (
            "there is no such file".to_owned(),
            "look at its name and folder",
        ),
        _ => (
            format!("can't be read: {error}"),
            "look at whether you may read it",
        ),
    };
    let mut bytes = Vec::new();
    // The limit holds for pipes and growing files too, whose size says nothing.
    File::open(path)
        .and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes))
        .map_err(unreadable)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err((
            "is larger than a lesson can be, 1 MB".to_owned(),
            "name a lesson file",
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let line = 1 + error.as_bytes()[..at]
            .iter()
            .filter(|byte| **byte == b'\n')
            .count();
        (
            format!("is not UTF-8 text (line {line})"),
            "save it as plain text in UTF-8",
        )
    })
}
