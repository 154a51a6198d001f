//! What a run of `write` says of its lessons, and what it comes to.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use copyist::{KeptFile, Leftover, LessonOutcome, TrackFailure};
use lesson::counted;

use crate::args::{SheetFormat, WriteArgs};
use crate::console::Console;
use crate::exit::Exit;
use crate::progress::Progress;

/// Says what became of each lesson, and of all.
pub struct WriteReport<'a> {
    out: PathBuf,
    console: &'a Console,
    progress: &'a Progress<'a>,
    /// Results go to standard output: not where sheets are printed there.
    prints: bool,
    left_out: usize,
    kept: usize,
    /// Whether every track that was asked for was made.
    whole: bool,
    /// What follows the number of files.
    would: &'static str,
}

impl<'a> WriteReport<'a> {
    /// `whole` unless tracks can't be made as asked.
    pub fn new(
        args: &WriteArgs,
        whole: bool,
        console: &'a Console,
        progress: &'a Progress<'a>,
    ) -> WriteReport<'a> {
        let printed = args.formats.contains(&SheetFormat::Json);
        WriteReport {
            out: args.out.clone(),
            console,
            progress,
            prints: !printed && !args.quiet,
            left_out: 0,
            kept: 0,
            whole,
            would: if args.dry_run {
                " would be written"
            } else {
                ""
            },
        }
    }

    /// A lesson is done.
    pub fn lesson(&mut self, lesson: &LessonOutcome, out: &mut impl Write) -> io::Result<()> {
        self.left_out += lesson.left_out.len();
        self.kept += lesson.settled.kept.len();
        self.whole &= lesson.failed.is_empty();
        self.progress.aside(|| {
            self.remarks(lesson);
            if !self.prints {
                return Ok(());
            }
            let folder = self.out.join(&lesson.folder);
            writeln!(
                out,
                "{}: {}{}{}{}",
                folder.display(),
                counted(lesson.files, "file"),
                if lesson.whole { "" } else { ", not all of it" },
                self.would,
                surprises(lesson)
            )
        })
    }

    fn remarks(&self, lesson: &LessonOutcome) {
        let say = |words: String| self.console.remark(&words);
        for entry in &lesson.left_out {
            say(format!(
                "left out: {}, {}: {}",
                lesson.contents.lesson,
                entry.heading.words(),
                entry.why
            ));
        }
        let folder = self.out.join(&lesson.folder);
        self.failures(&folder, &lesson.failed);
        lesson.told.iter().cloned().for_each(say);
        if !lesson.changed.is_empty() {
            say(format!(
                "{}: changed since the last edition: {}",
                folder.display(),
                lesson.changed.join(", ")
            ));
        }
        let settled = &lesson.settled;
        if settled.damaged {
            say(format!(
                "{}/contents.json could not be read and stands beside the new one; files that are \
                 not the same as now are taken as edited",
                folder.display()
            ));
        }
        for KeptFile { file, new } in &settled.kept {
            say(format!(
                "kept: {} was edited; the new version is {} (--replace takes it and keeps the \
                 edited one beside it)",
                folder.join(file).display(),
                folder.join(new).display()
            ));
        }
        if let Some(course) = lesson.course.as_ref().filter(|one| !one.edited.is_empty()) {
            say(format!(
                "{}: books and packets hold these sheets as they are written, not as they were \
                 edited: {}",
                folder.display(),
                course.edited.join(", ")
            ));
        }
        self.renamed(&folder, &settled.leftovers);
        for leftover in &settled.leftovers {
            if leftover.renamed.is_none() {
                self.leftover(&folder, leftover);
            }
        }
    }

    /// Says in one sentence which files only have another name now, and which
    /// of the old ones stay since somebody edited them.
    fn renamed(&self, folder: &Path, leftovers: &[Leftover]) {
        let named = |leftover: &Leftover| {
            let new = leftover.renamed.as_ref()?;
            Some(format!("{} is {new}", leftover.file))
        };
        let names: Vec<String> = leftovers.iter().filter_map(named).collect();
        if names.is_empty() {
            return;
        }
        let edited = leftovers
            .iter()
            .filter(|one| one.renamed.is_some() && one.edited);
        let edited: Vec<&str> = edited.map(|one| one.file.as_str()).collect();
        let stay = match edited.len() {
            0 => String::new(),
            1 => format!("; {} was edited and stays", edited[0]),
            _ => format!("; {} were edited and stay", edited.join(", ")),
        };
        self.console.remark(&format!(
            "{}: renamed, since the key is named otherwise now: {}{stay}",
            folder.display(),
            names.join(", ")
        ));
    }

    fn leftover(&self, folder: &Path, leftover: &Leftover) {
        let file = folder.join(&leftover.file);
        let file = file.display();
        let why = if leftover.made_of_sheets {
            "out of date, since this run didn't make it again"
        } else {
            "no longer made"
        };
        self.console
            .remark(&match (leftover.removed, leftover.edited) {
                (true, _) => format!("removed: {file}"),
                (false, true) => format!("{why}, but edited: {file} stays"),
                (false, false) => format!("{why}: {file} (--tidy removes it)"),
            });
    }

    /// Says once for each reason which tracks could not be made.
    fn failures(&self, folder: &Path, failed: &[TrackFailure]) {
        let mut reasons: BTreeMap<String, Vec<&str>> = BTreeMap::new();
        for TrackFailure { file, error } in failed {
            reasons.entry(error.to_string()).or_default().push(file);
        }
        for (reason, files) in reasons {
            let more = match files.len() - 1 {
                0 => String::new(),
                more => format!(" and {more} more"),
            };
            let first = folder.join(files[0]);
            self.console.fault(
                &format!("could not make {}{more}: {reason}", first.display()),
                None,
            );
        }
    }

    /// All is done: the closing line, and how the run ends.
    pub fn end(self, bytes: u64, out: &mut impl Write) -> anyhow::Result<Exit> {
        self.progress.end();
        if self.prints && self.would.is_empty() {
            writeln!(
                out,
                "{}; {} left out, {} kept",
                self.progress.sum(bytes),
                self.left_out,
                self.kept
            )?;
        }
        Ok(if !self.whole {
            Exit::NotWritten
        } else if self.left_out + self.kept > 0 {
            Exit::LeftOut
        } else {
            Exit::Done
        })
    }
}

/// How many sheets aren't as asked, where there are any.
fn surprises(lesson: &LessonOutcome) -> String {
    let shorter = match lesson.shortened {
        0 => None,
        1 => Some("1 sheet is shorter than asked".to_owned()),
        many => Some(format!("{many} sheets are shorter than asked")),
    };
    let left_out = match lesson.left_out.len() {
        0 => None,
        many => Some(format!("{many} left out")),
    };
    let both: Vec<String> = shorter.into_iter().chain(left_out).collect();
    if both.is_empty() {
        String::new()
    } else {
        format!("; {} (see twelvefold check)", both.join(", "))
    }
}
