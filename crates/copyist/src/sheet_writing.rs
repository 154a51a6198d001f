//! A sheet made into files, in every format that is asked for.

use etude::{Sheet, SheetPlan};
use score::Description;

use crate::contents::{Heading, TrackSubject, VERSION, key_words, sheet_names};
use crate::error::CopyError;
use crate::format::Format;
use crate::job::Job;
use crate::sheet_json::{FileJson, SheetJson};
use crate::track::{TrackSet, TrackSheet};
use crate::writing::Writing;

/// What became of a sheet.
pub struct SheetFiles {
    pub files: Vec<String>,
    pub tracks: TrackSet,
    pub json: Option<Vec<u8>>,
    pub answers: bool,
    pub report: etude::Report,
}

impl Writing<'_> {
    /// A sheet, or its answers. It is written in an empty buffer.
    pub fn sheet(
        &self,
        job: &Job,
        plan: &SheetPlan,
        sheet: &Sheet,
        answers: bool,
        buffer: &mut Vec<u8>,
    ) -> Result<SheetFiles, CopyError> {
        let [own, answered] = sheet_names(&job.stem(plan));
        let in_lesson = if answers { answered } else { own };
        let name = in_lesson.rsplit('/').next().unwrap_or(&in_lesson);
        let wanted = |format| self.options.formats.contains(&format);
        let mut files = Vec::new();
        if wanted(Format::MusicXml) || wanted(Format::Mxl) {
            writer::musicxml(&sheet.score, buffer);
        }
        let mut put = |ending: &str, bytes: &[u8]| {
            let file = format!("{in_lesson}.{ending}");
            self.store.put(&job.folder, &file, bytes)?;
            files.push(file);
            Ok::<(), CopyError>(())
        };
        if wanted(Format::MusicXml) {
            put("musicxml", buffer)?;
        }
        if wanted(Format::Mxl) {
            let packed = writer::mxl(buffer, &format!("{name}.musicxml"));
            put("mxl", &packed.map_err(unmade(&in_lesson, "mxl"))?)?;
        }
        for (ending, bytes) in self.pictures.sheet(&sheet.score, &in_lesson, self.stop)? {
            put(&ending, &bytes)?;
        }
        let tracks = self.sheet_tracks(job, plan, sheet, &in_lesson)?;
        let player = &job.lesson.players[plan.player];
        let json = self.options.describe.then(|| {
            let of_tracks = tracks.tracks.iter().map(|track| &track.file);
            let told = files.iter().chain(of_tracks).filter_map(|file| {
                let outcome = self.store.outcome(&job.folder, file)?;
                Some(FileJson { file, outcome })
            });
            serde_json::to_vec(&SheetJson {
                version: VERSION,
                lesson: &job.lesson.id,
                sheet: &in_lesson,
                heading: Heading::new(player, plan),
                answers,
                bars: sheet.report.bars,
                files: told.collect(),
                contents: Description::of(&sheet.score),
            })
        });
        Ok(SheetFiles {
            files,
            tracks,
            json: json.transpose().map_err(unmade(&in_lesson, "json"))?,
            answers,
            report: sheet.report.clone(),
        })
    }

    fn sheet_tracks(
        &self,
        job: &Job,
        plan: &SheetPlan,
        sheet: &Sheet,
        in_lesson: &str,
    ) -> Result<TrackSet, CopyError> {
        if !job.has_tracks {
            return Ok(TrackSet::default());
        }
        let player = &job.lesson.players[plan.player];
        let track_sheet = TrackSheet {
            scores: &[&sheet.score],
            name: job.track_name(in_lesson),
            of: TrackSubject::Sheet(Heading::new(player, plan)),
            key: key_words(plan, plan.written),
            edition: &sheet.report.edition,
            before: usize::from(plan.number.saturating_sub(1)),
        };
        let put = self.putting(&job.folder);
        self.tracks
            .make(&track_sheet, &job.versions, self.stop, put)
    }
}

/// The error of a sheet that could not be put into a format.
fn unmade<E: std::error::Error>(sheet: &str, ending: &str) -> impl Fn(E) -> CopyError {
    move |error| CopyError::Format {
        file: format!("{sheet}.{ending}"),
        reason: error.to_string(),
    }
}
