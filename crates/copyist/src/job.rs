//! What a run is to do of a lesson: where it goes, and which of its sheets are
//! wanted.

use std::collections::BTreeSet;
use std::path::Path;

use etude::{Composer, SheetPlan};
use lesson::Lesson;

use crate::composing::composer;
use crate::folder::player_folders;
use crate::refusal::Refusal;
use crate::run_part::RunPart;
use crate::stop::Stop;
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
    /// How many sheets it has.
    pub fn sheets(&self) -> usize {
        self.sheets
    }

    /// The same with its place in the run.
    pub fn from(self, first: usize) -> Job {
        Job { first, ..self }
    }

    /// Its sheets that a run makes, as places in its choice.
    pub fn share(&self, part: Option<RunPart>) -> impl Iterator<Item = usize> {
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
pub(crate) fn ready<'a>(
    lesson: &'a Lesson,
    stop: &'a Stop,
    path: &Path,
) -> Result<Composer<'a>, Refusal> {
    composer(lesson, stop).map_err(|refusal| Refusal {
        message: format!("{}: {}", path.display(), refusal.message),
        ..refusal
    })
}
