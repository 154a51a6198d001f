//! The program: arguments, messages, progress, exit codes. How files are made
//! is `copyist`'s affair; of music theory it knows what `list` and `spell`
//! print.
//!
#![doc = include_str!("../RULES.md")]

mod args;
mod command;
mod completion;
mod console;
mod exit;
mod harmless;
mod json;
mod lessons;
mod progress;
mod shell;
mod signals;
mod table;
mod write_report;

use std::borrow::Cow;
use std::io::{self, BufWriter, Write};
use std::process::ExitCode;

use clap::Parser;
use copyist::CopyError;

use crate::args::{Args, Command};
use crate::console::Console;
use crate::exit::Exit;
use crate::harmless::{Harmless, shown};

fn main() -> ExitCode {
    shell::answer();
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => return refused(&error),
    };
    let console = Console::on_stderr();
    let mut out = Harmless(BufWriter::new(io::stdout().lock()));
    let done = run(args, &mut out, &console).and_then(|exit| {
        out.flush()?;
        Ok(exit)
    });
    let exit = done.unwrap_or_else(|error| {
        if is_broken_pipe(&error) {
            // Whoever read the results has heard enough.
            return Exit::Done;
        }
        if matches!(error.downcast_ref(), Some(CopyError::Stopped)) {
            signals::say_stopped(&console);
            return Exit::Stopped;
        }
        console.fault(&format!("{error:#}"), None);
        Exit::NotWritten
    });
    exit.into()
}

/// What clap says of the arguments: help and version too. It repeats what was
/// typed.
fn refused(error: &clap::Error) -> ExitCode {
    let text = error.render().to_string();
    match shown(&text) {
        Cow::Borrowed(_) => error.exit(),
        Cow::Owned(harmless) => {
            Console::on_stderr().remark(harmless.trim_end());
            Exit::Mistake.into()
        }
    }
}

fn run(args: Args, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    match args.command {
        Command::Write(args) => command::write::run(&args, out, console),
        Command::Check(args) => command::check::run(&args, out, console),
        Command::Lift(args) => command::lift::run(&args, out, console),
        Command::List(args) => command::list::run(&args, out, console),
        Command::Spell {
            what,
            instrument,
            format,
        } => command::spell::run(&what, instrument.as_deref(), format, out, console),
        Command::Desk(args) => command::desk::run(&args, console),
        Command::Schema { of } => command::schema::run(of, out),
        Command::Completions { shell } => {
            shell::register(shell, out)?;
            Ok(Exit::Done)
        }
        Command::Man { folder } => command::man::run(&folder, out),
        Command::Start(args) => command::start::run(&args, out, console),
    }
}

fn is_broken_pipe(error: &anyhow::Error) -> bool {
    let pipe = |cause: &(dyn std::error::Error + 'static)| match cause.downcast_ref::<io::Error>() {
        Some(error) => error.kind() == io::ErrorKind::BrokenPipe,
        None => cause
            .downcast_ref::<serde_json::Error>()
            .is_some_and(|error| error.io_error_kind() == Some(io::ErrorKind::BrokenPipe)),
    };
    error.chain().any(pipe)
}
