//! Writing a lesson's files, aside from everything else, with its progress
//! and what became of each file.

use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use copyist::{Choice, Format, KeptFile, LessonOutcome, LessonSource, News, Options, Run, Stop};
use serde_json::{Value as Json, json};

/// The run that goes on, or the last one.
#[derive(Debug, Default)]
pub(crate) struct Writing {
    now: Mutex<Option<Arc<Work>>>,
}

#[derive(Debug)]
struct Work {
    stop: Stop,
    of: usize,
    done: AtomicUsize,
    report: Mutex<Option<Json>>,
}

/// What is asked for.
#[derive(Debug)]
pub(crate) struct WriteRequest {
    pub source: LessonSource,
    pub out: PathBuf,
    pub soundfont: Option<PathBuf>,
    pub formats: Vec<Format>,
    /// Only this player's sheets, in only this key.
    pub only: Option<(String, Option<String>)>,
    pub replace: bool,
}

/// The formats by their words.
pub(crate) fn format(word: &str) -> Option<Format> {
    match word {
        "midi" => return Some(Format::Midi),
        "page" => return Some(Format::Page),
        _ => {}
    }
    [
        Format::MusicXml,
        Format::Mxl,
        Format::Midi,
        Format::Wav,
        Format::Flac,
        Format::Pdf,
        Format::Svg,
        Format::Png,
    ]
    .into_iter()
    .find(|format| format.ending() == word)
}

impl Writing {
    /// Begins a run.
    ///
    /// # Errors
    /// Why nothing is begun: a sentence.
    pub(crate) fn begin(&self, asked: WriteRequest) -> Result<(), String> {
        let mut now = self.held();
        if now.as_ref().is_some_and(|work| work.goes_on()) {
            return Err("the desk is still writing".to_owned());
        }
        let out = asked.out.clone();
        let stop = Stop::default();
        let run = run(asked, &stop)?;
        let work = Arc::new(Work {
            stop,
            of: run.sheets(),
            done: AtomicUsize::new(0),
            report: Mutex::default(),
        });
        *now = Some(Arc::clone(&work));
        std::thread::spawn(move || work.go(&run, &out));
        Ok(())
    }

    /// Whether a run goes on.
    pub(crate) fn goes_on(&self) -> bool {
        self.held().as_ref().is_some_and(|work| work.goes_on())
    }

    /// How far it is, and at the end what came of it.
    pub(crate) fn progress(&self) -> Json {
        match self.held().as_ref() {
            None => json!({ "running": false }),
            Some(work) => {
                let report = work.report().clone();
                json!({
                    "running": report.is_none(),
                    "done": work.done.load(Ordering::Relaxed),
                    "of": work.of,
                    "report": report,
                })
            }
        }
    }

    /// Asks the run to stop.
    pub(crate) fn stop(&self) {
        if let Some(work) = self.held().as_ref() {
            work.stop.ask();
        }
    }

    fn held(&self) -> MutexGuard<'_, Option<Arc<Work>>> {
        self.now.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn run(asked: WriteRequest, stop: &Stop) -> Result<Run, String> {
    let (names, keys) = match asked.only {
        None => (Vec::new(), Vec::new()),
        Some((name, key)) => (vec![name], key.into_iter().collect()),
    };
    let choice = Choice::new(&names, &keys).map_err(|refusal| refusal.to_string())?;
    let options = Options {
        out: asked.out,
        choice,
        formats: asked.formats,
        soundfont: asked.soundfont,
        replace: asked.replace,
        ..Options::default()
    };
    Run::new(vec![asked.source.into()], options, stop).map_err(|refusals| {
        let refusals: Vec<String> = refusals.iter().map(ToString::to_string).collect();
        refusals.join("; ")
    })
}

impl Work {
    fn go(&self, run: &Run, out: &std::path::Path) {
        let mut told = Vec::new();
        told.extend(run.audio_fault().map(str::to_owned));
        let count = |_| {
            self.done.fetch_add(1, Ordering::Relaxed);
        };
        let ended = run.write(&count, &mut |news| {
            match news {
                News::Lesson(outcome) => told.extend(sentences(outcome)),
                News::Waiting { folder, .. } => {
                    told.push(format!("waited for another run in {}", folder.display()))
                }
                News::Unlockable { folder, reason } => told.push(format!(
                    "{}: write with one program at a time here ({reason})",
                    folder.display()
                )),
                News::Sheet(_) => {}
            }
            Ok(())
        });
        let well = ended.is_ok();
        match ended {
            Ok(outcome) if !outcome.missing_characters.is_empty() => told.push(format!(
                "no font has these characters, and an empty box is drawn for each: {}",
                outcome.missing_characters
            )),
            Ok(_) => {}
            Err(error) => told.push(error.to_string()),
        }
        let report = json!({ "well": well, "told": told, "out": out.display().to_string() });
        *self.held() = Some(report);
    }

    fn goes_on(&self) -> bool {
        self.report().is_none()
    }

    fn report(&self) -> MutexGuard<'_, Option<Json>> {
        self.held()
    }

    fn held(&self) -> MutexGuard<'_, Option<Json>> {
        self.report.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// What became of a lesson's files.
fn sentences(outcome: &LessonOutcome) -> Vec<String> {
    let files = match outcome.files {
        1 => "1 file".to_owned(),
        files => format!("{files} files"),
    };
    let mut told = vec![format!("{files} in {}", outcome.folder)];
    for entry in &outcome.left_out {
        told.push(format!(
            "left out: {}: {}",
            entry.heading.words(),
            entry.why
        ));
    }
    for failed in &outcome.failed {
        told.push(format!("could not make {}: {}", failed.file, failed.error));
    }
    if !outcome.changed.is_empty() {
        told.push(format!(
            "other music than in their last edition: {}",
            outcome.changed.join(", ")
        ));
    }
    for KeptFile { file, new } in &outcome.settled.kept {
        told.push(format!(
            "kept: somebody edited {file}; the new version is {new}, beside it"
        ));
    }
    for left in &outcome.settled.leftovers {
        let why = match (left.made_of_sheets, left.edited) {
            (true, _) => "out of date",
            (false, true) => "no longer made, but edited, so it stays",
            (false, false) => "no longer made",
        };
        told.push(format!("{why}: {}", left.file));
    }
    if outcome.settled.damaged {
        told.push("contents.json could not be read and stands beside the new one".to_owned());
    }
    told
}
