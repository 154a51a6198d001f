//! `write`: lessons into folders of sheets.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Write};
use std::path::PathBuf;

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use lesson::{Lesson, TrackForm};
use rayon::ThreadPoolBuilder;
use rayon::prelude::*;
use score::Score;
use serde::Serialize;

use crate::args::{SheetFormat, WriteArgs};
use crate::bound::{self, Bound};
use crate::choice::{Choice, Refusal};
use crate::console::Console;
use crate::contents::{Contents, Heading, LeftOutEntry, Of, SheetEntry, sheet_of, stem};
use crate::description::Description;
use crate::exit::Exit;
use crate::folder::{lesson_folder, player_folders};
use crate::lesson_file::{LessonFile, read_all};
use crate::part::Part;
use crate::progress::Progress;
use crate::sheets::in_order;
use crate::stop::{Stop, Stopped};
use crate::store::{Rules, Settled, Store};
use crate::telling::Telling;
use crate::track::{self, Tracks};
use crate::track_version::{Version, versions};

pub fn run(args: &WriteArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let Some(files) = read_all(&args.lessons, console) else {
        return Ok(nothing_written(console));
    };
    let Some(jobs) = jobs(args, files, console) else {
        return Ok(nothing_written(console));
    };
    if let Some(jobs) = args.jobs {
        let threads = ThreadPoolBuilder::new().num_threads(usize::from(jobs));
        threads.build_global()?;
    }
    let (tracks, fault) = Tracks::asked(args);
    if let Some(fault) = &fault {
        let help = "mend it, name another with --soundfont, or name none and hear the plain voice; \
                    wav and flac are left out";
        console.fault(fault, Some(help));
    }
    let mut writing = Writing {
        args,
        tracks,
        formats: &args.formats,
        part: args.part,
        progress: Progress::new(console, sheets(args.part, &jobs), args.quiet),
        store: Store::new(&args.out, rules(args)),
        stop: Stop::heard()?,
    };
    if writing.writes() {
        let waiting = |words: &str| console.remark(words);
        if !writing.store.hold(args.part, &writing.stop, waiting)? {
            return Err(Stopped.into());
        }
    }
    let mut telling = Telling::new(args, fault.is_none(), console, &writing.progress);
    if writing.prints() {
        let mut array = JsonArray::default();
        for job in &jobs {
            let finished = writing.lesson(job, Some(&mut array), out)?;
            telling.lesson(&job.folder, &finished, out)?;
        }
        array.close(out)?;
    } else {
        for some in jobs.chunks(AT_ONCE) {
            let finished: Vec<anyhow::Result<Finished>> = some
                .par_iter()
                .map(|job| writing.lesson(job, None, &mut io::sink()))
                .collect();
            for (job, finished) in some.iter().zip(finished) {
                telling.lesson(&job.folder, &finished?, out)?;
            }
        }
    }
    telling.end(writing.store.bytes(), out)
}

/// So many lessons are open at once at most, so that the last sheets of one
/// leave no core waiting.
const AT_ONCE: usize = 16;

fn rules(args: &WriteArgs) -> Rules {
    Rules {
        replace: args.replace,
        tidy: args.tidy,
        durable: args.durable,
        nowhere: args.dry_run,
        tag: args.part.map(Part::tag).unwrap_or_default(),
    }
}

/// A lesson's part of the work.
struct Job {
    file: LessonFile,
    folder: String,
    player_folders: Vec<String>,
    players: Vec<usize>,
    choice: Choice,
    versions: Vec<Version>,
    /// The place of its first sheet in the whole run, and how many it has.
    first: usize,
    sheets: usize,
}

impl Job {
    /// Its sheets that a run makes, as places in its choice.
    fn share(&self, part: Option<Part>) -> impl Iterator<Item = usize> {
        let first = self.first;
        (0..self.sheets).filter(move |place| part.is_none_or(|part| part.has(first + place)))
    }

    /// Where a sheet's file is in the lesson's folder, without its ending.
    fn stem(&self, plan: &SheetPlan) -> String {
        format!("{}/{}", self.player_folders[plan.player], plan.stem())
    }
}

impl Job {
    /// The names of every track of these sheets, without their endings.
    fn track_stems<'a>(&self, sheets: impl Iterator<Item = &'a String>) -> BTreeSet<String> {
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
fn sheets(part: Option<Part>, jobs: &[Job]) -> usize {
    jobs.iter().map(|job| job.share(part).count()).sum()
}

/// Every lesson's work, or none when anything in it is wrong.
fn jobs(args: &WriteArgs, files: Vec<LessonFile>, console: &Console) -> Option<Vec<Job>> {
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
fn composer(file: &LessonFile) -> Result<Composer<'_>, Refusal> {
    Composer::new(&file.lesson).map_err(|error| {
        (
            format!("{}: {error}", file.path.display()),
            "use fewer different tuplets in one lesson".to_owned(),
        )
    })
}

/// What all lessons of a run share.
struct Writing<'a> {
    args: &'a WriteArgs,
    formats: &'a [SheetFormat],
    tracks: Tracks,
    part: Option<Part>,
    progress: Progress<'a>,
    store: Store,
    stop: Stop,
}

impl Writing<'_> {
    fn prints(&self) -> bool {
        self.formats.contains(&SheetFormat::Json)
    }

    fn writes(&self) -> bool {
        let files = |format: &SheetFormat| *format != SheetFormat::Json && !format.is_track();
        let any = self.formats.iter().any(files) || self.tracks.any() || self.binds();
        any && !self.args.dry_run
    }

    /// Whether books, scores or grids are asked for; of several parts the
    /// first makes them.
    fn binds(&self) -> bool {
        let args = self.args;
        (args.gather || args.room.is_some() || args.sign_off)
            && self.part.is_none_or(Part::is_first)
    }

    fn lesson(
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
        let make = |plan: &SheetPlan, sheet: Result<Sheet, LeftOut>, buffer: &mut Vec<u8>| {
            let sheet = match sheet {
                Ok(sheet) => sheet,
                Err(why) => return Ok(Err(why)),
            };
            let mut made = vec![self.sheet(job, plan, &sheet, false, buffer)?];
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
        let player = &job.file.lesson.players[plan.player];
        let of = Of::Sheet(Heading::new(player, plan));
        let putting = self.putting(job);
        let tracks = self
            .tracks
            .make(&[&sheet.score], &job.versions, &in_lesson, &of, putting)?;
        let json = wanted(SheetFormat::Json).then(|| {
            serde_json::to_vec(&Printed {
                lesson: &job.file.lesson.id,
                sheet: &in_lesson,
                heading: Heading::new(player, plan),
                answers,
                bars: sheet.report.bars,
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

/// What became of a lesson.
pub struct Finished {
    pub contents: Contents,
    /// Files of this run: contents may tell of others too.
    pub files: usize,
    pub left_out: Vec<LeftOutEntry>,
    pub settled: Settled,
    /// Tracks that could not be made.
    pub failed: Vec<track::Failure>,
    /// Sheets whose music is not that of their last edition.
    pub changed: Vec<String>,
    /// Books, scores and grids of earlier runs.
    bound: BTreeSet<String>,
}

impl Finished {
    fn new(lesson: &Lesson) -> Finished {
        Finished {
            contents: Contents::new(lesson),
            files: 0,
            left_out: Vec::new(),
            settled: Settled::default(),
            failed: Vec::new(),
            changed: Vec::new(),
            bound: BTreeSet::new(),
        }
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

/// A sheet as `--format json` prints it.
#[derive(Serialize)]
struct Printed<'a> {
    lesson: &'a str,
    sheet: &'a str,
    #[serde(flatten)]
    heading: Heading,
    /// Whether it holds what another sheet leaves to be written.
    answers: bool,
    bars: u32,
    #[serde(flatten)]
    contents: Description,
}

/// An array printed one item to a line, as they come.
#[derive(Default)]
struct JsonArray {
    begun: bool,
}

impl JsonArray {
    fn item(&mut self, out: &mut impl Write, json: &[u8]) -> io::Result<()> {
        out.write_all(if self.begun { b",\n" } else { b"[\n" })?;
        self.begun = true;
        out.write_all(json)
    }

    fn close(self, out: &mut impl Write) -> io::Result<()> {
        out.write_all(if self.begun { b"\n]\n" } else { b"[]\n" })
    }
}

fn nothing_written(console: &Console) -> Exit {
    console.remark("nothing was written");
    Exit::Mistake
}
