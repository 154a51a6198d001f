//! `write`: lessons into folders of sheets.

use std::env;
use std::io::Write;
use std::path::PathBuf;

use copyist::{Choice, News, Options, Refusal, Run, Stop, use_threads};

use crate::args::{SheetFormat, WriteArgs};
use crate::console::Console;
use crate::exit::Exit;
use crate::json::JsonArray;
use crate::lessons::read_all;
use crate::progress::Progress;
use crate::signals;
use crate::write_report::WriteReport;

/// Names a SoundFont where `--soundfont` doesn't.
const SOUNDFONT: &str = "TWELVEFOLD_SOUNDFONT";

pub fn run(args: &WriteArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let Some(sources) = read_all(&args.lessons, console) else {
        return Ok(nothing_written(&[], console));
    };
    let options = match options(args) {
        Ok(options) => options,
        Err(refusal) => return Ok(nothing_written(&[refusal], console)),
    };
    let describes = options.describe;
    let stop = Stop::default();
    let run = match Run::new(sources, options, &stop) {
        Ok(run) => run,
        Err(refusals) => return Ok(nothing_written(&refusals, console)),
    };
    if let Some(jobs) = args.jobs
        && let Err(refusal) = use_threads(usize::from(jobs))
    {
        return Ok(nothing_written(&[refusal], console));
    }
    if let Some(fault) = run.audio_fault() {
        let help = "mend it, name another with --soundfont, or name none and hear the plain voice; \
                    wav and flac are left out";
        console.fault(fault, Some(help));
    }
    let progress = Progress::new(console, run.sheets(), args.quiet);
    let mut report = WriteReport::new(args, run.audio_fault().is_none(), console, &progress);
    let mut array = JsonArray::default();
    signals::hear(&stop, progress.clear())?;
    let outcome = run.write(&|bars| progress.sheet(bars), &mut |news| match news {
        News::Sheet(json) => array.item(out, json),
        News::Lesson(lesson) => report.lesson(lesson, out),
        News::Waiting { folder, lock } => {
            console.remark(&format!(
                "waiting for another run that writes into {} (it holds {})",
                folder.display(),
                lock.display()
            ));
            Ok(())
        }
        News::Unlockable { folder, reason } => {
            console.remark(&format!(
                "{} can't be locked ({reason}): let only one run write there at a time",
                folder.display()
            ));
            Ok(())
        }
    })?;
    if describes {
        array.close(out)?;
    }
    if !outcome.missing_characters.is_empty() {
        console.remark(&format!(
            "no font has these characters, and an empty box is drawn for each: {}",
            outcome.missing_characters
        ));
    }
    report.end(outcome.bytes, out)
}

fn options(args: &WriteArgs) -> Result<Options, Refusal> {
    let named = || {
        let named = env::var_os(SOUNDFONT).filter(|name| !name.is_empty());
        named.map(PathBuf::from)
    };
    Ok(Options {
        out: args.out.clone(),
        choice: Choice::new(&args.instruments, &args.keys)?,
        formats: args.formats.iter().filter_map(|one| one.file()).collect(),
        describe: args.formats.contains(&SheetFormat::Json),
        dry_run: args.dry_run,
        answers: args.answers,
        paper: args.paper.map(Into::into),
        resolution: args.resolution,
        gather: args.gather,
        room: args.room.map(Into::into),
        sign_off: args.sign_off,
        soundfont: args.soundfont.clone().or_else(named),
        part: args.part,
        replace: args.replace,
        tidy: args.tidy,
        durable: args.durable,
    })
}

fn nothing_written(refusals: &[Refusal], console: &Console) -> Exit {
    for refusal in refusals {
        console.refusal(refusal);
    }
    console.remark("nothing was written");
    Exit::Mistake
}
