//! What a run is to do: each lesson and course, where it goes, and which of its
//! sheets are wanted.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use etude::{Composer, SheetPlan};
use lesson::Lesson;

use crate::course_job::CourseJob;
use crate::folder::{lesson_folder, player_folders};
use crate::lesson_source::{LessonSource, Source};
use crate::options::Options;
use crate::part::Part;
use crate::refusal::Refusal;
use crate::track_name::TrackName;
use crate::track_version::{Version, versions};

/// A lesson's part of the work.
#[derive(Debug)]
pub struct Job {
    pub lesson: Lesson,
    /// Its folder under the one that everything goes into.
    pub folder: String,
    /// That folder's own name.
    pub name: String,
    /// Whether it is part of a course, which has the books.
    pub in_course: bool,
    /// Whether its tracks lie with its sheets.
    pub has_tracks: bool,
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
        let named = |of: fn(&TrackName, &str) -> String| {
            let names = stems.iter().flat_map(|stem| {
                let versions = self.versions.iter().filter(|_| self.has_tracks);
                versions.map(move |version| of(&self.track_name(stem), &version.suffix))
            });
            names.collect()
        };
        [
            named(|name, suffix| name.midi(suffix)),
            named(|name, suffix| name.audio(suffix)),
        ]
    }

    /// What the tracks of a sheet are called.
    pub fn track_name(&self, sheet: &str) -> TrackName {
        TrackName::beside(&self.name, sheet)
    }
}

/// A whole run's work.
#[derive(Debug, Default)]
pub struct Work {
    /// Lessons, those of courses too, in their order.
    pub jobs: Vec<Job>,
    /// The courses, each naming its lessons among the jobs.
    pub courses: Vec<CourseJob>,
    refusals: Vec<Refusal>,
    /// Who has each folder.
    folders: BTreeMap<String, PathBuf>,
    /// Which file has each lesson's id.
    ids: BTreeMap<String, PathBuf>,
    sheets: usize,
}

/// All that is to be done, or everything wrong with it.
pub fn work(sources: Vec<Source>, options: &Options) -> Result<Work, Vec<Refusal>> {
    let mut work = Work::default();
    for source in sources {
        match source {
            Source::Lesson(source) => work.lesson(source, options),
            Source::Course(source) => work.course(source, options),
        }
    }
    if work.refusals.is_empty() {
        Ok(work)
    } else {
        Err(work.refusals)
    }
}

impl Work {
    fn lesson(&mut self, source: LessonSource, options: &Options) {
        let name = lesson_folder(&source.lesson.id);
        let free = self.takes(&name, &source.path) && self.is_only(&name, &source.path);
        if !free {
            return;
        }
        match self.job(source, &name, options) {
            Ok(job) => self.add(job),
            Err(refusal) => self.refusals.push(refusal),
        }
    }

    fn job(&self, source: LessonSource, name: &str, options: &Options) -> Result<Job, Refusal> {
        let LessonSource {
            path, mut lesson, ..
        } = source;
        let choice = &options.choice;
        lesson.paper = options.paper.or(lesson.paper);
        let players = choice.players(&mut lesson)?;
        // Refused now, while nothing is written yet.
        let composer = ready(&lesson, &path)?;
        let sheets = choice.plans(&composer, &players)?.len();
        Ok(Job::new(lesson, name.to_owned(), name, players, sheets))
    }

    /// Gives a job its place in the run.
    pub(crate) fn add(&mut self, job: Job) {
        let first = self.sheets;
        self.sheets += job.sheets;
        self.jobs.push(Job { first, ..job });
    }

    pub(crate) fn refuse(&mut self, refusals: Vec<Refusal>) {
        self.refusals.extend(refusals);
    }

    /// Whether a folder is nobody else's.
    pub(crate) fn takes(&mut self, folder: &str, path: &Path) -> bool {
        if let Some(other) = self.folders.get(folder) {
            self.refusals.push(Refusal::new(
                format!(
                    "{} and {} would share the folder {folder}",
                    other.display(),
                    path.display()
                ),
                "give one of them an id of its own, as in id = \"another-name\"",
            ));
            return false;
        }
        self.folders.insert(folder.to_owned(), path.to_owned());
        true
    }

    /// Whether no other file is a lesson of this id: sheets of two lessons are
    /// never told apart by where they lie alone.
    pub(crate) fn is_only(&mut self, id: &str, path: &Path) -> bool {
        let whole = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        if let Some(other) = self.ids.get(id)
            && whole(other) != whole(path)
        {
            self.refusals.push(Refusal::new(
                format!(
                    "{} and {} are two lessons of one id, {id}",
                    other.display(),
                    path.display()
                ),
                "give one of them an id of its own, as in id = \"another-name\"",
            ));
            return false;
        }
        self.ids.insert(id.to_owned(), path.to_owned());
        true
    }
}

impl Job {
    /// A lesson's work; its place in the run is none yet.
    pub(crate) fn new(
        lesson: Lesson,
        folder: String,
        name: &str,
        players: Vec<usize>,
        sheets: usize,
    ) -> Job {
        Job {
            folder,
            name: name.to_owned(),
            in_course: false,
            has_tracks: true,
            player_folders: player_folders(&lesson.players),
            players,
            versions: versions(&lesson),
            first: 0,
            sheets,
            lesson,
        }
    }
}

/// A lesson's composer, or why there is none, with the lesson's file.
pub(crate) fn ready<'a>(lesson: &'a Lesson, path: &Path) -> Result<Composer<'a>, Refusal> {
    composer(lesson).map_err(|refusal| Refusal {
        message: format!("{}: {}", path.display(), refusal.message),
        ..refusal
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
