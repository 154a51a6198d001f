//! `write`: lessons into folders of sheets.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::PathBuf;

use etude::{Composer, LeftOut, Sheet, SheetPlan};
use serde::Serialize;

use crate::args::{SheetFormat, WriteArgs};
use crate::bound::{self, Bound};
use crate::choice::{Choice, Refusal};
use crate::console::Console;
use crate::contents::{Contents, Heading, LeftOutEntry, SheetEntry};
use crate::description::Description;
use crate::exit::Exit;
use crate::folder::{lesson_folder, player_folders};
use crate::lesson_file::{LessonFile, read_all};
use crate::sheets::in_order;
use crate::store::Store;

pub fn run(args: &WriteArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let Some(files) = read_all(&args.lessons, console) else {
        return Ok(nothing_written(console));
    };
    let Some(jobs) = jobs(args, files, console) else {
        return Ok(nothing_written(console));
    };
    let writing = Writing {
        args,
        formats: &args.formats,
        store: if args.dry_run {
            Store::nowhere()
        } else {
            Store::new(&args.out)
        },
    };
    let mut printed = args
        .formats
        .contains(&SheetFormat::Json)
        .then(JsonArray::default);
    let mut left_out = 0;
    for job in &jobs {
        let contents = writing.lesson(job, printed.as_mut(), out)?;
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
                amount(contents.sheets.len() + contents.bound.len(), "file"),
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
    Ok(if left_out > 0 {
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
    store: Store,
}

impl Writing<'_> {
    fn lesson(
        &self,
        job: &Job,
        mut printed: Option<&mut JsonArray>,
        out: &mut impl Write,
    ) -> anyhow::Result<Contents> {
        let lesson = &job.file.lesson;
        let refused = |(message, help): Refusal| anyhow::anyhow!("{message}; {help}");
        let composer = composer(&job.file).map_err(refused)?;
        let plans = job.choice.plans(&composer, &job.players).map_err(refused)?;
        let mut contents = Contents::new(lesson);
        let make =
            |plan: &SheetPlan, sheet: Result<Sheet, LeftOut>, buffer: &mut Vec<u8>| match sheet {
                Ok(sheet) => self.sheet(job, plan, &sheet, buffer).map(Ok),
                Err(why) => Ok(Err(why)),
            };
        in_order(&composer, &plans, make, |plan, made| {
            let player = &lesson.players[plan.player];
            match made {
                Ok(made) => {
                    let entry = |file| SheetEntry::new(file, player, plan, &made.report);
                    contents.sheets.extend(made.files.into_iter().map(entry));
                    if let (Some(array), Some(json)) = (printed.as_deref_mut(), made.json) {
                        array.item(out, &json)?;
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
        if self
            .formats
            .iter()
            .any(|format| *format != SheetFormat::Json)
        {
            self.store.put(
                &format!("{}/contents.json", job.folder),
                &contents.to_json()?,
            )?;
        }
        Ok(contents)
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
        buffer: &mut Vec<u8>,
    ) -> anyhow::Result<Made> {
        let stem = plan.stem();
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
        let json = wanted(SheetFormat::Json).then(|| {
            let player = &job.file.lesson.players[plan.player];
            serde_json::to_vec(&Printed {
                lesson: &job.file.lesson.id,
                sheet: &in_lesson,
                heading: Heading::new(player, plan),
                bars: sheet.report.bars,
                contents: Description::of(&sheet.score),
            })
        });
        Ok(Made {
            files,
            json: json.transpose()?,
            report: sheet.report.clone(),
        })
    }
}

/// What became of a sheet.
struct Made {
    files: Vec<String>,
    json: Option<Vec<u8>>,
    report: etude::Report,
}

/// A sheet as `--format json` prints it.
#[derive(Serialize)]
struct Printed<'a> {
    lesson: &'a str,
    sheet: &'a str,
    #[serde(flatten)]
    heading: Heading,
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
