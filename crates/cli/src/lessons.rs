//! The lessons that a command names, every mistake in every file told.

use std::path::{Path, PathBuf};

use copyist::{LessonFault, LessonSource, Source, gathered, read_lesson, read_source};

use crate::console::Console;

/// Reads lessons and courses, or tells every mistake in them and gives none. A
/// file named twice is read once.
pub fn read_sources(paths: &[PathBuf], console: &Console) -> Option<Vec<Source>> {
    let files = match gathered(paths) {
        Ok(files) => files,
        Err(refusals) => {
            for refusal in &refusals {
                console.refusal(refusal);
            }
            return None;
        }
    };
    let mut sources = Vec::new();
    let mut whole = true;
    for path in &files {
        match read_source(path) {
            Ok(source) => {
                for warning in source.warnings() {
                    console.remark(warning);
                }
                sources.push(source);
            }
            Err(faults) => {
                whole = false;
                for faulty in faults {
                    tell(&faulty.path, &faulty.fault, console);
                }
            }
        }
    }
    whole.then_some(sources)
}

/// Reads them all, or tells every mistake in them and gives none. A file
/// named twice is read once.
pub fn read_all(paths: &[PathBuf], console: &Console) -> Option<Vec<LessonSource>> {
    let files = match gathered(paths) {
        Ok(files) => files,
        Err(refusals) => {
            for refusal in &refusals {
                console.refusal(refusal);
            }
            return None;
        }
    };
    let mut lessons = Vec::new();
    let mut whole = true;
    for path in &files {
        match read_lesson(path) {
            Ok(source) => {
                for warning in &source.warnings {
                    console.remark(warning);
                }
                lessons.push(source);
            }
            Err(fault) => {
                whole = false;
                tell(path, &fault, console);
            }
        }
    }
    whole.then_some(lessons)
}

fn tell(path: &Path, fault: &LessonFault, console: &Console) {
    match fault {
        LessonFault::Unreadable(refusal) => console.refusal(refusal),
        LessonFault::Mistakes { text, mistakes } => {
            for mistake in mistakes {
                console.mistake(path, text, mistake);
            }
            let count = match mistakes.len() {
                1 => "1 mistake".to_owned(),
                count => format!("{count} mistakes"),
            };
            console.remark(&format!("{count} in {}", path.display()));
        }
    }
}
