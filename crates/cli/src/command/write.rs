//! `write`: lessons into folders of sheets.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::PathBuf;

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use lesson::TrackForm;
use score::Score;
use serde::Serialize;

use crate::args::{SheetFormat, WriteArgs};
use crate::bound::{self, Bound};
use crate::choice::{Choice, Refusal};
use crate::console::Console;
use crate::contents::{Contents, Heading, LeftOutEntry, Of, SheetEntry};
use crate::description::Description;
use crate::exit::Exit;
use crate::folder::{lesson_folder, player_folders};
use crate::lesson_file::{LessonFile, read_all};
use crate::sheets::in_order;
use crate::store::Store;
use crate::track::{self, Tracks};
use crate::track_version::{Version, versions};

pub fn run(args: &WriteArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let Some(files) = read_all(&args.lessons, console) else {
        return Ok(nothing_written(console));
    };
    let Some(jobs) = jobs(args, files, console) else {
        return Ok(nothing_written(console));
    };
    let (tracks, fault) = Tracks::asked(args);
    if let Some(fault) = &fault {
        let help = "mend it, name another with --soundfont, or name none and hear the plain voice; \
                    wav and flac are left out";
        console.fault(fault, Some(help));
    }
    let mut whole = fault.is_none();
    let writing = Writing {
        args,
        formats: &args.formats,
        tracks,
        store: if args.dry_run {
            Store::nowhere()
        } else {
            Store::new(&args.out)
        },
        answers: args.answers,
    };
    let mut printed = args
        .formats
        .contains(&SheetFormat::Json)
        .then(JsonArray::default);
    let mut left_out = 0;
    for job in &jobs {
        let (contents, failed) = writing.lesson(job, printed.as_mut(), out)?;
        track::tell(&args.out.join(&job.folder), &failed, console);
        whole &= failed.is_empty();
        for entry in &contents.left_out {
            console.remark(&format!(
                "left out: {}, {}: {}",
                contents.lesson,
                entry.heading.words(),
                entry.why
            ));
        }
        left_out += contents.left_out.len();
        if printed.is_none() {
            let folder = args.out.join(&job.folder);
            writeln!(
                out,
                "{}: {}{}",
                folder.display(),
                amount(
                    contents.sheets.len() + contents.tracks.len() + contents.bound.len(),
                    "file",
                ),
                if args.dry_run {
                    " would be written"
                } else {
                    ""
                }
            )?;
        }
    }
    if let Some(array) = printed {
        array.close(out)?;
    }
    Ok(if !whole {
        Exit::NotWritten
    } else if left_out > 0 {
        Exit::LeftOut
    } else {
        Exit::Done
    })
}

/// A lesson's part of the work.
struct Job {
    file: LessonFile,
    folder: String,
    player_folders: Vec<String>,
    players: Vec<usize>,
    choice: Choice,
    versions: Vec<Version>,
}

/// Every lesson's work, or none when anything in it is wrong.
fn jobs(args: &WriteArgs, files: Vec<LessonFile>, console: &Console) -> Option<Vec<Job>> {
    let mut jobs = Vec::new();
    let mut taken: BTreeMap<String, PathBuf> = BTreeMap::new();
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
        match job(args, file, folder) {
            Ok(job) => jobs.push(job),
            Err((message, help)) => {
                console.fault(&message, Some(&help));
                whole = false;
            }
        }
    }
    whole.then_some(jobs)
}

fn job(args: &WriteArgs, mut file: LessonFile, folder: String) -> Result<Job, Refusal> {
    let choice = Choice::new(&args.instruments, &args.keys)?;
    let players = choice.players(&mut file.lesson)?;
    // Refused now, while nothing is written yet.
    let composer = composer(&file)?;
    choice.plans(&composer, &players)?;
    let player_folders = player_folders(&file.lesson.players);
    Ok(Job {
        folder,
        player_folders,
        players,
        choice,
        versions: versions(&file.lesson),
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
    /// Whether answers are wanted of every lesson.
    answers: bool,
    store: Store,
}

impl Writing<'_> {
    fn lesson(
        &self,
        job: &Job,
        mut printed: Option<&mut JsonArray>,
        out: &mut impl Write,
    ) -> anyhow::Result<(Contents, Vec<track::Failure>)> {
        let lesson = &job.file.lesson;
        let refused = |(message, help): Refusal| anyhow::anyhow!("{message}; {help}");
        let composer = composer(&job.file).map_err(refused)?;
        let plans = job.choice.plans(&composer, &job.players).map_err(refused)?;
        let mut contents = Contents::new(lesson);
        let mut tracks = track::Made::default();
        let answers = self.answers || lesson.answers;
        let make = |plan: &SheetPlan, sheet: Result<Sheet, LeftOut>, buffer: &mut Vec<u8>| {
            let sheet = match sheet {
                Ok(sheet) => sheet,
                Err(why) => return Ok(Err(why)),
            };
            let mut made = vec![self.sheet(job, plan, &sheet, false, buffer)?];
            // What was left out would have been so already.
            if answers && let Ok(Some(sheet)) = composer.answers(plan) {
                buffer.clear();
                made.push(self.sheet(job, plan, &sheet, true, buffer)?);
            }
            Ok(Ok(made))
        };
        in_order(&composer, &plans, make, |plan, made| {
            let player = &lesson.players[plan.player];
            match made {
                Ok(sheets) => {
                    for made in sheets {
                        let entry =
                            |file| SheetEntry::new(file, made.answers, player, plan, &made.report);
                        contents.sheets.extend(made.files.into_iter().map(entry));
                        tracks.add(made.tracks);
                        if let (Some(array), Some(json)) = (printed.as_deref_mut(), made.json) {
                            array.item(out, &json)?;
                        }
                    }
                }
                Err(why) => contents
                    .left_out
                    .push(LeftOutEntry::new(player, plan, &why)),
            }
            Ok(())
        })?;
        for bound in self.bound(job, &composer, &plans)? {
            let path = format!("{}/{}", job.folder, bound.file);
            self.store.put(&path, &bound.bytes)?;
            contents.bound.push(bound.file);
        }
        if lesson.track.forms.contains(&TrackForm::AllKeys) {
            tracks.add(self.all_keys(job, &composer, &plans)?);
        }
        contents.tracks = tracks.tracks;
        if self.tracks.any() || !self.formats.iter().all(|format| is_told(*format)) {
            self.store.put(
                &format!("{}/contents.json", job.folder),
                &contents.to_json()?,
            )?;
        }
        Ok((contents, tracks.failed))
    }

    /// One track of all of a player's keys, player by player: a long one may
    /// fill the memory that a core can have.
    fn all_keys(
        &self,
        job: &Job,
        composer: &Composer<'_>,
        plans: &[SheetPlan],
    ) -> anyhow::Result<track::Made> {
        let mut made = track::Made::default();
        if !self.tracks.any() {
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
    fn putting<'a>(&'a self, job: &'a Job) -> impl Fn(&str, &[u8]) -> anyhow::Result<()> + Sync {
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
        let stem = plan.stem() + if answers { "-answers" } else { "" };
        let in_lesson = format!("{}/{stem}", job.player_folders[plan.player]);
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
            put("mxl", &writer::mxl(buffer, &format!("{stem}.musicxml"))?)?;
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
    fn item(&mut self, out: &mut impl Write, json: &[u8]) -> std::io::Result<()> {
        out.write_all(if self.begun { b",\n" } else { b"[\n" })?;
        self.begun = true;
        out.write_all(json)
    }

    fn close(self, out: &mut impl Write) -> std::io::Result<()> {
        out.write_all(if self.begun { b"\n]\n" } else { b"[]\n" })
    }
}

/// Whether a format puts no file of its own beside the sheets.
fn is_told(format: SheetFormat) -> bool {
    format == SheetFormat::Json || format.is_track()
}

fn nothing_written(console: &Console) -> Exit {
    console.remark("nothing was written");
    Exit::Mistake
}

fn amount(count: usize, noun: &str) -> String {
    if count == 1 {
        format!("1 {noun}")
    } else {
        format!("{count} {noun}s")
    }
}
