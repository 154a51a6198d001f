//! `lift`: a notated phrase becomes a lesson.

use std::io::{self, Write};

use anyhow::Context;
use copyist::{Refusal, music_file};
use lift::LiftScale;
use reader::{Bars, Selection};

use crate::args::LiftArgs;
use crate::console::Console;
use crate::exit::Exit;

pub fn run(args: &LiftArgs, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    let bars = match args.bars.as_deref().map(str::parse::<Bars>).transpose() {
        Ok(bars) => bars,
        Err(error) => {
            console.fault(&error.to_string(), None);
            return Ok(Exit::Mistake);
        }
    };
    let scale = match args
        .scale
        .as_deref()
        .map(str::parse::<LiftScale>)
        .transpose()
    {
        Ok(scale) => scale,
        Err(error) => {
            console.refusal(&Refusal::of_name(&error, "scale", "scales"));
            return Ok(Exit::Mistake);
        }
    };
    let asked = Selection {
        part: args.part.clone(),
        staff: args.staff,
        voice: args.voice.clone(),
        ..Selection::default()
    };
    let read = music_file(&args.file, |bytes| reader::phrase(bytes, &asked, bars));
    let phrase = match read {
        Ok(read) => read,
        Err(refusal) => {
            console.refusal(&refusal);
            return Ok(Exit::Mistake);
        }
    };
    for warning in &phrase.warnings {
        console.remark(warning);
    }
    let lifted = match lift::lift(&phrase.value, scale.as_ref()) {
        Ok(lifted) => lifted,
        Err(error) => {
            console.fault(&format!("{}: {error}", args.file.display()), None);
            return Ok(Exit::Mistake);
        }
    };
    console.remark(&lifted.to_string());
    for remark in &lifted.remarks {
        console.remark(remark);
    }
    let Some(path) = &args.out else {
        out.write_all(lifted.text.as_bytes())?;
        return Ok(Exit::Done);
    };
    let shown = path.display();
    match copyist::create(path, lifted.text.as_bytes()) {
        Ok(()) => {
            writeln!(out, "{shown}\nnow try: twelvefold write {shown}")?;
            Ok(Exit::Done)
        }
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            console.fault(
                &format!("{shown} is there already"),
                Some("name another file after --out"),
            );
            Ok(Exit::NotWritten)
        }
        Err(error) => Err(error).with_context(|| format!("could not write {shown}")),
    }
}
