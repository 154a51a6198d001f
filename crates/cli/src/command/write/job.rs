//! What a run of `write` is to do: each lesson, where it goes, and which of its
//! sheets are wanted.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use etude::{Composer, SheetPlan};

use crate::args::WriteArgs;
use crate::choice::{Choice, Refusal};
use crate::console::Console;
use crate::folder::{lesson_folder, player_folders};
use crate::lesson_file::LessonFile;
use crate::part::Part;
use crate::track_version::{Version, versions};

/// A lesson's part of the work.
pub struct Job {
    pub file: LessonFile,
    pub folder: String,
    pub player_folders: Vec<String>,
    pub players: Vec<usize>,
    pub choice: Choice,
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

    /// The names of every track of these sheets, without their endings.
    pub fn track_stems<'a>(&self, sheets: impl Iterator<Item = &'a String>) -> BTreeSet<String> {
        let joined = self
            .player_folders
            .iter()
            .map(|folder| format!("{folder}/all-keys"));
        let stems = sheets.cloned().chain(joined);
        let named = |stem: String| {
            let versions = self.versions.iter();
            versions
                .map(move |version| format!("{stem}{}", version.suffix))
                .collect::<Vec<_>>()
        };
        stems.flat_map(named).collect()
    }
}

/// How many sheets a run makes.
pub fn sheets(part: Option<Part>, jobs: &[Job]) -> usize {
    jobs.iter().map(|job| job.share(part).count()).sum()
}

/// Every lesson's work, or none when anything in it is wrong.
pub fn jobs(args: &WriteArgs, files: Vec<LessonFile>, console: &Console) -> Option<Vec<Job>> {
    let mut jobs = Vec::new();
    let mut taken: BTreeMap<String, PathBuf> = BTreeMap::new();
    let mut first = 0;
    let mut whole = true;
    for file in files {
        let folder = lesson_folder(&file.lesson);
        if let Some(other) = taken.get(&folder) {
            let message = format!(
                "{} and {} would share the folder {folder}",
                other.display(),
                file.path.display()
            );
            console.fault(
                &message,
                Some("give one of them an id of its own, as in id = \"another-name\""),
            );
            whole = false;
            continue;
        }
        taken.insert(folder.clone(), file.path.clone());
        match job(args, file, folder, first) {
            Ok(job) => {
                first += job.sheets;
                jobs.push(job);
            }
            Err((message, help)) => {
                console.fault(&message, Some(&help));
                whole = false;
            }
        }
    }
    whole.then_some(jobs)
}

fn job(
    args: &WriteArgs,
    mut file: LessonFile,
    folder: String,
    first: usize,
) -> Result<Job, Refusal> {
    let choice = Choice::new(&args.instruments, &args.keys)?;
    let players = choice.players(&mut file.lesson)?;
    // Refused now, while nothing is written yet.
    let composer = composer(&file)?;
    let sheets = choice.plans(&composer, &players)?.len();
    let player_folders = player_folders(&file.lesson.players);
    Ok(Job {
        folder,
        player_folders,
        players,
        choice,
        versions: versions(&file.lesson),
        first,
        sheets,
        file,
    })
}

/// The lesson made ready for composing.
pub fn composer(file: &LessonFile) -> Result<Composer<'_>, Refusal> {
    Composer::new(&file.lesson).map_err(|error| {
        (
            format!("{}: {error}", file.path.display()),
            "use fewer different tuplets in one lesson".to_owned(),
        )
    })
}
