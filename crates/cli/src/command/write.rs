//! `write`: lessons into folders of sheets.

mod finished;
mod job;
mod printed;
mod writing;

use std::io::{self, Write};

use rayon::ThreadPoolBuilder;
use rayon::prelude::*;

use crate::args::{SheetFormat, WriteArgs};
use crate::console::Console;
use crate::exit::Exit;
use crate::lesson_file::read_all;
use crate::part::Part;
use crate::pictures::Pictures;
use crate::progress::Progress;
use crate::stop::{Stop, Stopped};
use crate::store::{Rules, Store};
use crate::telling::Telling;
use crate::track::Tracks;

pub use finished::Finished;

use job::{jobs, sheets};
use printed::JsonArray;
use writing::Writing;

pub fn run(args: &WriteArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let Some(files) = read_all(&args.lessons, console) else {
        return Ok(nothing_written(console));
    };
    let pictures = Pictures::asked(args);
    if let Err((message, help)) = &pictures {
        console.fault(message, Some(help));
    }
    let (Some(jobs), Ok(pictures)) = (jobs(args, files, console), pictures) else {
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
        pictures,
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
    let missing: String = writing.pictures.missing().into_iter().collect();
    if !missing.is_empty() {
        console.remark(&format!(
            "no font has these characters, and an empty box is drawn for each: {missing}"
        ));
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
        at_once: args.formats.iter().all(is_quick),
        tag: args.part.map(Part::tag).unwrap_or_default(),
    }
}

/// Whether files of this format are made so fast that a killed run may make
/// a lesson's again.
fn is_quick(format: &SheetFormat) -> bool {
    matches!(
        format,
        SheetFormat::MusicXml | SheetFormat::Mxl | SheetFormat::Json | SheetFormat::Midi
    )
}

fn nothing_written(console: &Console) -> Exit {
    console.remark("nothing was written");
    Exit::Mistake
}
