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

/// A sheet of a lesson, or its answers, that is to be written.
pub struct LessonSheet<'a> {
    pub job: &'a Job,
    pub plan: &'a SheetPlan,
    pub sheet: &'a Sheet,
    pub answers: bool,
}

impl LessonSheet<'_> {
    /// What its files are called in the lesson's folder, without ending.
    fn name(&self) -> String {
        let [own, answers] = sheet_names(&self.job.stem(self.plan));
        if self.answers { answers } else { own }
    }

    fn heading(&self) -> Heading {
        Heading::new(&self.job.lesson.players[self.plan.player], self.plan)
    }
}

impl Writing<'_> {
    /// Every file of a sheet. It is written in an empty buffer.
    pub fn sheet(
        &self,
        sheet: &LessonSheet<'_>,
        buffer: &mut Vec<u8>,
    ) -> Result<SheetFiles, CopyError> {
        let name = sheet.name();
        let files = self.sheet_files(sheet, &name, buffer)?;
        let tracks = self.sheet_tracks(sheet, &name)?;
        let json = self.options.describe.then(|| {
            let of_tracks = tracks.tracks.iter().map(|track| &track.file);
            self.described(sheet, &name, files.iter().chain(of_tracks))
        });
        Ok(SheetFiles {
            files,
            tracks,
            json: json.transpose()?,
            answers: sheet.answers,
            report: sheet.sheet.report.clone(),
        })
    }

    /// The sheet as notation and pictures.
    fn sheet_files(
        &self,
        sheet: &LessonSheet<'_>,
        name: &str,
        buffer: &mut Vec<u8>,
    ) -> Result<Vec<String>, CopyError> {
        let score = &sheet.sheet.score;
        let wanted = |format| self.options.formats.contains(&format);
        let mut files = Vec::new();
        if wanted(Format::MusicXml) || wanted(Format::Mxl) {
            writer::musicxml(score, buffer);
        }
        let mut put = |ending: &str, bytes: &[u8]| {
            let file = format!("{name}.{ending}");
            self.store.put(&sheet.job.folder, &file, bytes)?;
            files.push(file);
            Ok::<(), CopyError>(())
        };
        if wanted(Format::MusicXml) {
            put("musicxml", buffer)?;
        }
        if wanted(Format::Mxl) {
            let within = format!("{}.musicxml", name.rsplit('/').next().unwrap_or(name));
            let packed = writer::mxl(buffer, &within);
            put("mxl", &packed.map_err(unmade(name, "mxl"))?)?;
        }
        for (ending, bytes) in self.pictures.sheet(score, name, self.stop)? {
            put(&ending, &bytes)?;
        }
        Ok(files)
    }

    fn sheet_tracks(&self, sheet: &LessonSheet<'_>, name: &str) -> Result<TrackSet, CopyError> {
        let (job, plan) = (sheet.job, sheet.plan);
        if !job.has_tracks {
            return Ok(TrackSet::default());
        }
        let track_sheet = TrackSheet {
            scores: &[&sheet.sheet.score],
            name: job.track_name(name),
            of: TrackSubject::Sheet(sheet.heading()),
            key: key_words(plan, plan.written),
            edition: &sheet.sheet.report.edition,
            before: usize::from(plan.number.saturating_sub(1)),
        };
        let put = self.putting(&job.folder);
        self.tracks
            .make(&track_sheet, &job.versions, self.stop, put)
    }

    /// What the sheet contains and became, as JSON.
    fn described<'f>(
        &self,
        sheet: &LessonSheet<'_>,
        name: &str,
        files: impl Iterator<Item = &'f String>,
    ) -> Result<Vec<u8>, CopyError> {
        let job = sheet.job;
        let files = files.filter_map(|file| {
            let outcome = self.store.outcome(&job.folder, file)?;
            Some(FileJson { file, outcome })
        });
        let json = SheetJson {
            version: VERSION,
            lesson: &job.lesson.id,
            sheet: name,
            heading: sheet.heading(),
            answers: sheet.answers,
            bars: sheet.sheet.report.bars,
            files: files.collect(),
            contents: Description::of(&sheet.sheet.score),
        };
        serde_json::to_vec(&json).map_err(unmade(name, "json"))
    }
}

/// The error of a sheet that could not be put into a format.
fn unmade<E: std::error::Error>(sheet: &str, ending: &str) -> impl Fn(E) -> CopyError {
    move |error| CopyError::Format {
        file: format!("{sheet}.{ending}"),
        reason: error.to_string(),
    }
}
