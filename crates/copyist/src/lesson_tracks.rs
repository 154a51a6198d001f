//! What is made of all of a player's tracks: one of all keys, and a list in
//! playing order.

use std::collections::BTreeSet;

use etude::{Composer, SheetPlan};
use lesson::TrackForm;
use score::Score;

use crate::contents::{TrackEntry, TrackSubject};
use crate::error::CopyError;
use crate::format::Format;
use crate::job::Job;
use crate::outcome::LessonOutcome;
use crate::run_part::RunPart;
use crate::sheets::composed;
use crate::track::{TrackSet, TrackSheet};
use crate::track_name::{playlist, playlist_text};
use crate::track_remark::one_key;
use crate::writing::{Writing, is_audio};

impl Writing<'_> {
    /// One track of all of a player's keys, player by player: a long one may
    /// fill the memory that a core can have. Of several parts the first makes
    /// them.
    pub fn all_keys(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
    ) -> Result<TrackSet, CopyError> {
        let mut made = TrackSet::default();
        if !job.has_tracks {
            return Ok(made);
        }
        made.told
            .extend(one_key(composer).filter(|_| self.tracks.any()));
        let asked = job.lesson.track.forms.contains(&TrackForm::AllKeys);
        if !asked || !self.tracks.any() || !self.options.part.is_none_or(RunPart::is_first) {
            return Ok(made);
        }
        for (place, player) in job.lesson.players.iter().enumerate() {
            let own = plans.iter().filter(|plan| plan.player == place);
            let (plans, sheets) = composed(composer, own)?;
            if sheets.len() < 2 {
                continue;
            }
            let scores: Vec<&Score> = sheets.iter().map(|sheet| &sheet.score).collect();
            let stem = format!("{}/all-keys", job.player_folders[place]);
            let sheet = TrackSheet {
                scores: &scores,
                name: job.track_name(&stem),
                of: TrackSubject::all_keys(player, &plans),
                key: "all keys".to_owned(),
                edition: "",
                before: composer
                    .plans()
                    .iter()
                    .filter(|plan| plan.player == place)
                    .count(),
            };
            let put = self.putting(&job.folder);
            made.add(self.tracks.make(&sheet, &job.versions, self.stop, put)?);
        }
        Ok(made)
    }

    /// A list of each player's audio in playing order: of what this run made,
    /// and what it found of the lesson. Several parts make it when they are
    /// all done: the first writes down what there will be.
    pub fn playlists(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        known: &[TrackEntry],
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        let made: BTreeSet<&str> = outcome
            .contents
            .tracks
            .iter()
            .map(|track| track.file.as_str())
            .collect();
        let formats = [Format::Flac, Format::Wav];
        if !made.iter().any(|file| is_audio(file)) {
            return Ok(());
        }
        let found: BTreeSet<&str> = known.iter().map(|track| track.file.as_str()).collect();
        let parts = self.options.part.is_some() && self.options.choice.is_everything();
        let mut lists = Vec::new();
        for (place, player) in job.player_folders.iter().enumerate() {
            let own = composer.plans().iter().filter(|plan| plan.player == place);
            let sheets = own.map(|plan| job.stem(plan));
            let sheets: Vec<String> = sheets.chain([format!("{player}/all-keys")]).collect();
            let names = |format: Format| -> Vec<String> {
                let names = sheets.iter().flat_map(|sheet| {
                    let versions = job.versions.iter();
                    versions.map(|version| job.track_name(sheet).file(&version.suffix, format))
                });
                let there = |file: &String| {
                    let file = file.as_str();
                    made.contains(file) || found.contains(file) && self.exists(job, file)
                };
                names.filter(there).collect()
            };
            let listed = formats
                .into_iter()
                .map(names)
                .find(|names| !names.is_empty());
            if let Some(listed) =
                listed.filter(|_| !parts || self.options.part.is_none_or(RunPart::is_first))
            {
                lists.push((
                    playlist(&job.name, player),
                    playlist_text(listed.iter().map(String::as_str)),
                ));
            }
        }
        for (file, text) in lists {
            self.store.put(&job.folder, &file, text.as_bytes())?;
            outcome.files += 1;
        }
        Ok(())
    }

    fn exists(&self, job: &Job, file: &str) -> bool {
        self.options.out.join(&job.folder).join(file).exists()
    }
}
