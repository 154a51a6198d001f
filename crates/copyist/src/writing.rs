//! A lesson made into files.

use std::collections::{BTreeMap, BTreeSet};

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use lesson::TrackForm;
use score::{Description, Score};

use crate::compilation;
use crate::composing::{composer, unless_stopped};
use crate::contents::{
    Heading, LeftOutEntry, SheetEntry, TrackEntry, TrackSubject, VERSION, key_words, sheet_of, stem,
};
use crate::error::CopyError;
use crate::folder_file::FolderFile;
use crate::format::Format;
use crate::job::Job;
use crate::news::{Count, News, Tell};
use crate::options::Options;
use crate::outcome::{Interruption, LessonOutcome};
use crate::part::Part;
use crate::pictures::Pictures;
use crate::practice_page::practice_pages;
use crate::printed_book;
use crate::sheet_json::{FileJson, SheetJson};
use crate::sheets::{composed, in_order};
use crate::stop::Stop;
use crate::store::{Content, Store};
use crate::track::{TrackSet, TrackSheet, Tracks};
use crate::track_name::{playlist, playlist_text};
use crate::track_remark::one_key;

/// What all lessons of a run share.
pub struct Writing<'a> {
    pub options: &'a Options,
    pub tracks: &'a Tracks,
    pub pictures: &'a Pictures,
    pub store: Store,
    pub stop: &'a Stop,
    pub count: &'a Count<'a>,
}

impl Writing<'_> {
    pub fn writes(&self) -> bool {
        let files = |format: &Format| !format.is_track();
        let any = self.options.formats.iter().any(files) || self.tracks.any() || self.binds();
        any && !self.options.dry_run
    }

    /// Whether books, scores or grids are asked for; of several parts the
    /// first makes them.
    fn binds(&self) -> bool {
        let options = self.options;
        let books = [Format::Pdf, Format::Page]
            .iter()
            .any(|format| options.formats.contains(format));
        (options.gather || options.room.is_some() || options.sign_off || books)
            && options.part.is_none_or(Part::is_first)
    }

    /// Makes a lesson's sheets and all that goes with them. What each contains
    /// goes to `tell`.
    pub fn lesson(
        &self,
        job: &Job,
        mut tell: Option<&mut Tell<'_>>,
    ) -> Result<LessonOutcome, Interruption> {
        let lesson = &job.lesson;
        let composer = composer(lesson, self.stop)?;
        let chosen = self.options.choice.wanted(&composer, &job.players);
        let part = self.options.part;
        let plans: Vec<SheetPlan> = job.share(part).map(|place| chosen[place]).collect();
        let mut outcome = LessonOutcome::new(&lesson.id, &lesson.title, &job.folder);
        let folder = self.writes().then(|| self.store.open(&job.folder));
        if let Some(folder) = &folder {
            outcome
                .bound
                .extend(folder.known.contents.bound.iter().cloned());
        }
        let edition = |file: &str| folder.as_ref()?.known.contents.edition(file);
        let mut tracks = TrackSet::default();
        let answers = self.options.answers || lesson.answers;
        let make = |plan: &SheetPlan, sheet: Result<&Sheet, LeftOut>, buffer: &mut Vec<u8>| {
            let sheet = match sheet {
                Ok(sheet) => sheet,
                Err(why) => return Ok(Err(why)),
            };
            let mut made = vec![self.sheet(job, plan, sheet, false, buffer)?];
            (self.count)(sheet.report.bars);
            // What was left out would have been so already.
            if answers && let Ok(Some(sheet)) = unless_stopped(composer.answers(plan))? {
                buffer.clear();
                made.push(self.sheet(job, plan, &sheet, true, buffer)?);
            }
            Ok(Ok(made))
        };
        let done = in_order(&composer, &plans, self.stop, make, |plan, made| {
            let player = &lesson.players[plan.player];
            match made {
                Ok(sheets) => {
                    for made in sheets {
                        let shorter = made.report.turns > 0 && !made.answers;
                        outcome.shortened += usize::from(shorter);
                        outcome.files += made.files.len() + made.tracks.tracks.len();
                        let changed = made.files.iter().filter(|file| {
                            edition(file).is_some_and(|known| known != made.report.edition)
                        });
                        outcome.changed.extend(changed.cloned());
                        let entry =
                            |file| SheetEntry::new(file, made.answers, player, plan, &made.report);
                        let entries = made.files.into_iter().map(entry);
                        outcome.contents.sheets.extend(entries);
                        tracks.add(made.tracks);
                        if let (Some(tell), Some(json)) = (tell.as_deref_mut(), made.json) {
                            tell(News::Sheet(&json))?;
                        }
                    }
                }
                Err(why) => {
                    let entry = LeftOutEntry::new(job.stem(plan), player, plan, &why);
                    outcome.left_out.push(entry.clone());
                    outcome.contents.left_out.push(entry);
                }
            }
            Ok(())
        });
        let done = done.and_then(|()| self.bind(job, &composer, &chosen, &mut outcome));
        let done = done.and_then(|()| {
            let joined = self.all_keys(job, &composer, &chosen)?;
            outcome.files += joined.tracks.len();
            tracks.add(joined);
            Ok(())
        });
        outcome.contents.tracks = tracks.tracks;
        let done = done.and_then(|()| {
            let known = folder
                .as_ref()
                .map(|folder| folder.known.contents.tracks.as_slice());
            self.playlists(job, &composer, known.unwrap_or_default(), &mut outcome)
        });
        outcome.failed = tracks.failed;
        outcome.told.append(&mut tracks.told);
        // Closed even when not all was done: what is written is remembered.
        let closed = self.close(job, &composer, done.is_ok(), &mut outcome);
        outcome.ended(done, closed)
    }

    fn close(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        done: bool,
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        if !self.writes() {
            return Ok(());
        }
        let plans = composer.plans().iter().enumerate();
        let order: BTreeMap<String, usize> =
            plans.map(|(place, plan)| (job.stem(plan), place)).collect();
        let left = outcome.contents.left_out.iter().map(|one| &one.sheet);
        let left: BTreeSet<String> = left.cloned().collect();
        // What is bound together and isn't made again may be out of date; but
        // a run of a few players, keys or sheets, or one that was cut short, has
        // no say about the others.
        let all = done && self.options.choice.is_everything() && self.options.part.is_none();
        let bound = &outcome.bound;
        let [midi, audio] = job.track_stems(order.keys().filter(|sheet| !left.contains(*sheet)));
        let lists = job.player_folders.iter().filter(|_| job.has_tracks);
        let lists: BTreeSet<String> = lists.map(|player| playlist(&job.name, player)).collect();
        let still = |file: &str| {
            if is_audio(file) {
                return audio.contains(stem(file));
            }
            let sheet = sheet_of(file);
            order.contains_key(sheet) && !left.contains(sheet)
                || !all && bound.contains(file)
                || midi.contains(stem(file))
                || lists.contains(file)
        };
        outcome.contents.order = order.clone();
        outcome.settled = self
            .store
            .close(&job.folder, &mut outcome.contents, still)?;
        Ok(())
    }

    /// Puts what is made of the lesson's sheets together.
    fn bind(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
        outcome: &mut LessonOutcome,
    ) -> Result<(), CopyError> {
        if !self.binds() {
            return Ok(());
        }
        for bound in self.bound(job, composer, plans)? {
            self.store.put(&job.folder, &bound.file, &bound.bytes)?;
            outcome.contents.bound.push(bound.file);
            outcome.files += 1;
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
    ) -> Result<TrackSet, CopyError> {
        let mut made = TrackSet::default();
        if !job.has_tracks {
            return Ok(made);
        }
        made.told
            .extend(one_key(composer).filter(|_| self.tracks.any()));
        let asked = job.lesson.track.forms.contains(&TrackForm::AllKeys);
        if !asked || !self.tracks.any() || !self.options.part.is_none_or(Part::is_first) {
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

    /// Puts files into an open folder.
    pub fn putting<'b>(
        &'b self,
        folder: &'b str,
    ) -> impl Fn(&str, Content<'_>) -> Result<(), CopyError> + Sync {
        |file, content| self.store.put_content(folder, file, content)
    }

    /// A list of each player's audio in playing order: of what this run made,
    /// and what it found of the lesson. Several parts make it when they are
    /// all done: the first writes down what there will be.
    fn playlists(
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
                listed.filter(|_| !parts || self.options.part.is_none_or(Part::is_first))
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

    /// What is made of the lesson's sheets together, where that is asked for.
    fn bound(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
    ) -> Result<Vec<FolderFile>, CopyError> {
        let lesson = composer.lesson();
        let folders = &job.player_folders;
        let mut bound = Vec::new();
        if self.options.gather && !job.in_course {
            bound.extend(compilation::books(composer, plans, folders, self.stop)?);
        }
        let answers = self.options.answers || lesson.answers;
        if !job.in_course {
            bound.extend(printed_book::books(
                composer,
                plans,
                folders,
                answers,
                self.pictures,
                self.stop,
            )?);
        }
        if self.options.formats.contains(&Format::Page) && !job.in_course {
            bound.extend(practice_pages(
                composer,
                plans,
                folders,
                self.pictures,
                self.stop,
            )?);
        }
        if let Some(pitch) = self.options.room {
            bound.extend(compilation::rooms(
                lesson,
                plans,
                folders,
                pitch,
                self.pictures,
                self.stop,
            )?);
        }
        if self.options.sign_off {
            bound.extend(compilation::sign_offs(lesson, plans, folders));
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
    ) -> Result<SheetFiles, CopyError> {
        let in_lesson = job.stem(plan) + if answers { "-answers" } else { "" };
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
        let player = &job.lesson.players[plan.player];
        let track_sheet = TrackSheet {
            scores: &[&sheet.score],
            name: job.track_name(&in_lesson),
            of: TrackSubject::Sheet(Heading::new(player, plan)),
            key: key_words(plan, plan.written),
            edition: &sheet.report.edition,
            before: usize::from(plan.number.saturating_sub(1)),
        };
        let tracks = if job.has_tracks {
            let put = self.putting(&job.folder);
            self.tracks
                .make(&track_sheet, &job.versions, self.stop, put)?
        } else {
            TrackSet::default()
        };
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
}

/// What became of a sheet.
struct SheetFiles {
    files: Vec<String>,
    tracks: TrackSet,
    json: Option<Vec<u8>>,
    answers: bool,
    report: etude::Report,
}

/// The error of a sheet that could not be put into a format.
fn unmade<E: std::error::Error>(sheet: &str, ending: &str) -> impl Fn(E) -> CopyError {
    move |error| CopyError::Format {
        file: format!("{sheet}.{ending}"),
        reason: error.to_string(),
    }
}

/// Whether a file holds sound, by its ending.
pub fn is_audio(file: &str) -> bool {
    let endings = [Format::Flac, Format::Wav].map(Format::ending);
    file.rsplit_once('.')
        .is_some_and(|(_, ending)| endings.contains(&ending))
}
