//! What a run is to do: each lesson, where it goes, and which of its sheets
//! are wanted.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use etude::{Composer, SheetPlan};
use lesson::Lesson;

use crate::folder::{lesson_folder, player_folders};
use crate::lesson_source::LessonSource;
use crate::options::Options;
use crate::part::Part;
use crate::refusal::Refusal;
use crate::track_name::TrackName;
use crate::track_version::{Version, versions};

/// A lesson's part of the work.
#[derive(Debug)]
pub struct Job {
    pub lesson: Lesson,
    pub folder: String,
    pub player_folders: Vec<String>,
    pub players: Vec<usize>,
    pub versions: Vec<Version>,
    /// The place of its first sheet in the whole run, and how many it has.
    first: usize,
    sheets: usize,
}

impl Job {
    /// Its sheets that a run makes, as places in its choice.
    pub fn share(&self, part: Option<Part>) -> impl Iterator<Item = usize> {
        let first = self.first;
        (0..self.sheets).filter(move |place| part.is_none_or(|part| part.has(first + place)))
    }

    /// Where a sheet's file is in the lesson's folder, without its ending.
    pub fn stem(&self, plan: &SheetPlan) -> String {
        format!("{}/{}", self.player_folders[plan.player], plan.stem())
    }

    /// The names of every track of these sheets, without their endings: first
    /// of MIDI, then of audio.
    pub fn track_stems<'a>(
        &self,
        sheets: impl Iterator<Item = &'a String>,
    ) -> [BTreeSet<String>; 2] {
        let joined = self
            .player_folders
            .iter()
            .map(|folder| format!("{folder}/all-keys"));
        let stems: Vec<String> = sheets.cloned().chain(joined).collect();
        let named = |of: fn(TrackName<'_>, &str) -> String| {
            let names = stems.iter().flat_map(|stem| {
                let versions = self.versions.iter();
                versions.map(move |version| of(self.track_name(stem), &version.suffix))
            });
            names.collect()
        };
        [
            named(|name, suffix| name.midi(suffix)),
            named(|name, suffix| name.audio(suffix)),
        ]
    }

    /// What the tracks of a sheet are called.
    pub fn track_name<'a>(&'a self, sheet: &'a str) -> TrackName<'a> {
        TrackName {
            lesson: &self.folder,
            sheet,
        }
    }
}

/// Every lesson's work, or everything wrong with it.
pub fn jobs(sources: Vec<LessonSource>, options: &Options) -> Result<Vec<Job>, Vec<Refusal>> {
    let mut jobs = Vec::new();
    let mut refusals = Vec::new();
    let mut taken: BTreeMap<String, PathBuf> = BTreeMap::new();
    let mut first = 0;
    for source in sources {
        let folder = lesson_folder(&source.lesson);
        if let Some(other) = taken.get(&folder) {
            refusals.push(Refusal::new(
                format!(
                    "{} and {} would share the folder {folder}",
                    other.display(),
                    source.path.display()
                ),
                "give one of them an id of its own, as in id = \"another-name\"",
            ));
            continue;
        }
        taken.insert(folder.clone(), source.path.clone());
        match job(source, options, folder, first) {
            Ok(job) => {
                first += job.sheets;
                jobs.push(job);
            }
            Err(refusal) => refusals.push(refusal),
        }
    }
    if refusals.is_empty() {
        Ok(jobs)
    } else {
        Err(refusals)
    }
}

fn job(
    source: LessonSource,
    options: &Options,
    folder: String,
    first: usize,
) -> Result<Job, Refusal> {
    let LessonSource {
        path, mut lesson, ..
    } = source;
    let choice = &options.choice;
    lesson.paper = options.paper.or(lesson.paper);
    let players = choice.players(&mut lesson)?;
    // Refused now, while nothing is written yet.
    let composer = composer(&lesson).map_err(|refusal| Refusal {
        message: format!("{}: {}", path.display(), refusal.message),
        ..refusal
    })?;
    let sheets = choice.plans(&composer, &players)?.len();
    Ok(Job {
        folder,
        player_folders: player_folders(&lesson.players),
        players,
        versions: versions(&lesson),
        first,
        sheets,
        lesson,
    })
}

/// The lesson made ready for composing.
pub fn composer(lesson: &Lesson) -> Result<Composer<'_>, Refusal> {
    Composer::new(lesson).map_err(too_fine)
}

/// Rhythms that no tick is short enough for.
pub fn too_fine(error: impl std::fmt::Display) -> Refusal {
    Refusal::new(
        error.to_string(),
        "use fewer different tuplets in one lesson",
    )
}
