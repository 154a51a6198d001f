//! The lessons and courses that a command names, every mistake in every file
//! told.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use copyist::{LessonFault, Source, gathered, read_source};

use crate::console::Console;

/// Reads them all, or tells every mistake in them and gives none. A file named
/// twice is read once, and told of once.
pub fn read_all(paths: &[PathBuf], console: &Console) -> Option<Vec<Source>> {
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
    let mut faulty: BTreeSet<PathBuf> = BTreeSet::new();
    for path in &files {
        match read_source(path) {
            Ok(source) => {
                for warning in source.warnings() {
                    console.remark(warning);
                }
                sources.push(source);
            }
            Err(faults) => {
                for fault in faults {
                    let same = fault.path.canonicalize();
                    if faulty.insert(same.unwrap_or_else(|_| fault.path.clone())) {
                        tell(&fault.path, &fault.fault, console);
                    }
                }
            }
        }
    }
    faulty.is_empty().then_some(sources)
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
