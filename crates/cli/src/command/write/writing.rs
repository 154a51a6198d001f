//! A lesson made into files.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use lesson::TrackForm;
use score::Score;

use crate::args::{SheetFormat, WriteArgs};
use crate::bound::{self, Bound};
use crate::choice::Refusal;
use crate::contents::{Heading, LeftOutEntry, Of, SheetEntry, sheet_of, stem};
use crate::description::Description;
use crate::part::Part;
use crate::pictures::Pictures;
use crate::progress::Progress;
use crate::sheets::in_order;
use crate::stop::Stop;
use crate::store::Store;
use crate::track::{self, Tracks};

use super::finished::Finished;
use super::job::{Job, composer};
use super::printed::{FileTold, JsonArray, Printed};

/// What all lessons of a run share.
pub struct Writing<'a> {
    pub args: &'a WriteArgs,
    pub formats: &'a [SheetFormat],
    pub tracks: Tracks,
    pub pictures: Pictures,
    pub part: Option<Part>,
    pub progress: Progress<'a>,
    pub store: Store,
    pub stop: Stop,
}

impl Writing<'_> {
    pub fn prints(&self) -> bool {
        self.formats.contains(&SheetFormat::Json)
    }

    pub fn writes(&self) -> bool {
        let files = |format: &SheetFormat| *format != SheetFormat::Json && !format.is_track();
        let any = self.formats.iter().any(files) || self.tracks.any() || self.binds();
        any && !self.args.dry_run
    }

    /// Whether books, scores or grids are asked for; of several parts the
    /// first makes them.
    fn binds(&self) -> bool {
        let args = self.args;
        let books = args.formats.contains(&SheetFormat::Pdf);
        (args.gather || args.room.is_some() || args.sign_off || books)
            && self.part.is_none_or(Part::is_first)
    }

    /// Makes a lesson's sheets and all that goes with them. What is printed
    /// goes to `out` where there is an array for it.
    pub fn lesson(
        &self,
        job: &Job,
        mut printed: Option<&mut JsonArray>,
        out: &mut impl Write,
    ) -> anyhow::Result<Finished> {
        let lesson = &job.file.lesson;
        let refused = |(message, help): Refusal| anyhow::anyhow!("{message}; {help}");
        let composer = composer(&job.file).map_err(refused)?;
        let chosen = job.choice.plans(&composer, &job.players).map_err(refused)?;
        let plans: Vec<SheetPlan> = job.share(self.part).map(|place| chosen[place]).collect();
        let mut finished = Finished::new(lesson);
        let folder = self.writes().then(|| self.store.open(&job.folder));
        if let Some(folder) = &folder {
            finished
                .bound
                .extend(folder.known.contents.bound.iter().cloned());
        }
        let edition = |file: &str| folder.as_ref()?.known.contents.edition(file);
        let mut tracks = track::Made::default();
        let answers = self.args.answers || lesson.answers;
        let make = |plan: &SheetPlan, sheet: Result<&Sheet, LeftOut>, buffer: &mut Vec<u8>| {
            let sheet = match sheet {
                Ok(sheet) => sheet,
                Err(why) => return Ok(Err(why)),
            };
            let mut made = vec![self.sheet(job, plan, sheet, false, buffer)?];
            self.progress.sheet(sheet.report.bars);
            // What was left out would have been so already.
            if answers && let Ok(Some(sheet)) = composer.answers(plan) {
                buffer.clear();
                made.push(self.sheet(job, plan, &sheet, true, buffer)?);
            }
            Ok(Ok(made))
        };
        let done = in_order(&composer, &plans, &self.stop, make, |plan, made| {
            let player = &lesson.players[plan.player];
            match made {
                Ok(sheets) => {
                    for made in sheets {
                        finished.files += made.files.len() + made.tracks.tracks.len();
                        let changed = made.files.iter().filter(|file| {
                            edition(file).is_some_and(|known| known != made.report.edition)
                        });
                        finished.changed.extend(changed.cloned());
                        let entry =
                            |file| SheetEntry::new(file, made.answers, player, plan, &made.report);
                        let entries = made.files.into_iter().map(entry);
                        finished.contents.sheets.extend(entries);
                        tracks.add(made.tracks);
                        if let (Some(array), Some(json)) = (printed.as_deref_mut(), made.json) {
                            array.item(out, &json)?;
                        }
                    }
                }
                Err(why) => {
                    let entry = LeftOutEntry::new(job.stem(plan), player, plan, &why);
                    finished.left_out.push(entry.clone());
                    finished.contents.left_out.push(entry);
                }
            }
            Ok(())
        });
        let done = done.and_then(|()| self.bind(job, &composer, &chosen, &mut finished));
        let done = done.and_then(|()| {
            let joined = self.all_keys(job, &composer, &chosen)?;
            finished.files += joined.tracks.len();
            tracks.add(joined);
            Ok(())
        });
        finished.contents.tracks = tracks.tracks;
        finished.failed = tracks.failed;
        // Closed even when not all was done: what is written is remembered.
        let closed = self.close(job, &composer, &mut finished);
        done?;
        closed?;
        Ok(finished)
    }

    fn close(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        finished: &mut Finished,
    ) -> anyhow::Result<()> {
        if !self.writes() {
            return Ok(());
        }
        let plans = composer.plans().iter().enumerate();
        let order: BTreeMap<String, usize> =
            plans.map(|(place, plan)| (job.stem(plan), place)).collect();
        let left = finished.contents.left_out.iter().map(|one| &one.sheet);
        let left: BTreeSet<String> = left.cloned().collect();
        let bound = &finished.bound;
        let tracks = job.track_stems(order.keys().filter(|sheet| !left.contains(*sheet)));
        let still = |file: &str| {
            let sheet = sheet_of(file);
            order.contains_key(sheet) && !left.contains(sheet)
                || bound.contains(file)
                || tracks.contains(stem(file))
        };
        finished.contents.order = order.clone();
        finished.settled = self
            .store
            .close(&job.folder, &mut finished.contents, still)?;
        Ok(())
    }

    /// Puts what is made of the lesson's sheets together.
    fn bind(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
        finished: &mut Finished,
    ) -> anyhow::Result<()> {
        if !self.binds() {
            return Ok(());
        }
        for bound in self.bound(job, composer, plans)? {
            let path = format!("{}/{}", job.folder, bound.file);
            self.store.put(&path, &bound.bytes)?;
            finished.contents.bound.push(bound.file);
            finished.files += 1;
        }
        Ok(())
    }

    /// One track of all of a player's keys, player by player: a long one may
    /// fill the memory that a core can have. Of several parts the first makes
    /// them.
    fn all_keys(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
    ) -> anyhow::Result<track::Made> {
        let mut made = track::Made::default();
        let asked = job.file.lesson.track.forms.contains(&TrackForm::AllKeys);
        if !asked || !self.tracks.any() || !self.part.is_none_or(Part::is_first) {
            return Ok(made);
        }
        for (place, player) in job.file.lesson.players.iter().enumerate() {
            let own = plans.iter().filter(|plan| plan.player == place);
            let sheets = own.filter_map(|plan| Some((*plan, composer.compose(plan).ok()?)));
            let (plans, sheets): (Vec<SheetPlan>, Vec<Sheet>) = sheets.unzip();
            if sheets.len() < 2 {
                continue;
            }
            let scores: Vec<&Score> = sheets.iter().map(|sheet| &sheet.score).collect();
            let stem = format!("{}/all-keys", job.player_folders[place]);
            let of = Of::all_keys(player, &plans);
            let put = self.putting(job);
            made.add(self.tracks.make(&scores, &job.versions, &stem, &of, put)?);
        }
        Ok(made)
    }

    /// Puts files into a lesson's folder.
    fn putting<'b>(&'b self, job: &'b Job) -> impl Fn(&str, &[u8]) -> anyhow::Result<()> + Sync {
        |file, bytes| self.store.put(&format!("{}/{file}", job.folder), bytes)
    }

    /// What is made of the lesson's sheets together, where that is asked for.
    fn bound(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
    ) -> anyhow::Result<Vec<Bound>> {
        let lesson = composer.lesson();
        let mut bound = Vec::new();
        if self.args.gather {
            bound.extend(bound::books(composer, plans, &job.player_folders));
        }
        let answers = self.args.answers || lesson.answers;
        let folders = &job.player_folders;
        bound.extend(self.pictures.books(composer, plans, folders, answers)?);
        if let Some(pitch) = self.args.room {
            bound.extend(bound::rooms(lesson, plans, &job.player_folders, pitch)?);
        }
        if self.args.sign_off {
            bound.extend(bound::sign_offs(lesson, plans, &job.player_folders));
        }
        Ok(bound)
    }

    fn sheet(
        &self,
        job: &Job,
        plan: &SheetPlan,
        sheet: &Sheet,
        answers: bool,
        buffer: &mut Vec<u8>,
    ) -> anyhow::Result<Made> {
        let in_lesson = job.stem(plan) + if answers { "-answers" } else { "" };
        let name = in_lesson.rsplit('/').next().unwrap_or(&in_lesson);
        let wanted = |format| self.formats.contains(&format);
        let mut files = Vec::new();
        if wanted(SheetFormat::MusicXml) || wanted(SheetFormat::Mxl) {
            writer::musicxml(&sheet.score, buffer);
        }
        let mut put = |ending: &str, bytes: &[u8]| {
            let file = format!("{in_lesson}.{ending}");
            self.store.put(&format!("{}/{file}", job.folder), bytes)?;
            files.push(file);
            anyhow::Ok(())
        };
        if wanted(SheetFormat::MusicXml) {
            put("musicxml", buffer)?;
        }
        if wanted(SheetFormat::Mxl) {
            put("mxl", &writer::mxl(buffer, &format!("{name}.musicxml"))?)?;
        }
        for (ending, bytes) in self.pictures.sheet(&sheet.score)? {
            put(&ending, &bytes)?;
        }
        let player = &job.file.lesson.players[plan.player];
        let of = Of::Sheet(Heading::new(player, plan));
        let putting = self.putting(job);
        let tracks = self
            .tracks
            .make(&[&sheet.score], &job.versions, &in_lesson, &of, putting)?;
        let json = wanted(SheetFormat::Json).then(|| {
            let of_tracks = tracks.tracks.iter().map(|track| &track.file);
            let told = files.iter().chain(of_tracks).filter_map(|file| {
                let fate = self.store.fate(&job.folder, file)?;
                Some(FileTold { file, fate })
            });
            serde_json::to_vec(&Printed {
                lesson: &job.file.lesson.id,
                sheet: &in_lesson,
                heading: Heading::new(player, plan),
                answers,
                bars: sheet.report.bars,
                files: told.collect(),
                contents: Description::of(&sheet.score),
            })
        });
        Ok(Made {
            files,
            tracks,
            json: json.transpose()?,
            answers,
            report: sheet.report.clone(),
        })
    }
}

/// What became of a sheet.
struct Made {
    files: Vec<String>,
    tracks: track::Made,
    json: Option<Vec<u8>>,
    answers: bool,
    report: etude::Report,
}
