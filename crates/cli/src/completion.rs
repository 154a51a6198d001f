//! What a shell is told when somebody asks it to complete a word: the shell
//! calls the program itself, so that lessons in the folder and all names of
//! the catalogues are there.

use std::ffi::OsStr;
use std::io::{self, Write};

use clap::{CommandFactory, ValueEnum};
use clap_complete::CompleteEnv;
use clap_complete::engine::{CompletionCandidate, PathCompleter, ValueCompleter};
use clap_complete::env::Shells;

use crate::args::Args;
use crate::command::list;

/// The variable by which a shell asks.
const ASKED: &str = "TWELVEFOLD_COMPLETE";

/// A shell that completions are written for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Shell {
    Bash,
    Zsh,
    Fish,
    Powershell,
}

/// Answers a shell that asks; then the program ends here.
pub fn answer() {
    CompleteEnv::with_factory(Args::command)
        .var(ASKED)
        .complete();
}

/// Prints what makes a shell ask from now on.
pub fn register(shell: Shell, out: &mut dyn Write) -> io::Result<()> {
    let name = match shell {
        Shell::Bash => "bash",
        Shell::Zsh => "zsh",
        Shell::Fish => "fish",
        Shell::Powershell => "powershell",
    };
    let shells = Shells::builtins();
    let Some(completer) = shells.completer(name) else {
        return Err(io::Error::other(format!("{name} can't be completed")));
    };
    let command = "twelvefold";
    completer.write_registration(ASKED, command, command, command, out)
}

/// Lesson files and folders.
pub fn lessons(typed: &OsStr) -> Vec<CompletionCandidate> {
    files(typed, &["toml"])
}

/// Notation files and folders.
pub fn notation(typed: &OsStr) -> Vec<CompletionCandidate> {
    files(typed, &["musicxml", "mxl", "xml"])
}

/// SoundFonts and folders.
pub fn soundfonts(typed: &OsStr) -> Vec<CompletionCandidate> {
    files(typed, &["sf2"])
}

fn files(typed: &OsStr, endings: &'static [&'static str]) -> Vec<CompletionCandidate> {
    let wanted = |path: &std::path::Path| {
        let ending = path.extension().and_then(OsStr::to_str);
        path.is_dir() || ending.is_some_and(|ending| endings.contains(&ending))
    };
    PathCompleter::any().filter(wanted).complete(typed)
}

/// Ids of instruments.
pub fn instruments() -> Vec<CompletionCandidate> {
    candidates(list::instrument_ids())
}

/// Ids of scales.
pub fn scales() -> Vec<CompletionCandidate> {
    candidates(list::scale_ids())
}

/// Whatever may be listed by its name.
pub fn names() -> Vec<CompletionCandidate> {
    let mut names = list::scale_ids();
    names.extend(list::instrument_ids());
    candidates(names)
}

/// The keys, those with two names by both.
pub fn keys() -> Vec<CompletionCandidate> {
    candidates(list::key_names())
}

/// A scale on the root that is typed, or on each.
pub fn scales_on_roots(typed: &OsStr) -> Vec<CompletionCandidate> {
    let typed = typed.to_string_lossy();
    let begins = |name: &String| name.starts_with(&*typed);
    let Some((root, _)) = typed.split_once(' ') else {
        return candidates(list::key_names().into_iter().filter(begins).collect());
    };
    let names = list::scale_ids().into_iter();
    candidates(
        names
            .map(|id| format!("{root} {id}"))
            .filter(begins)
            .collect(),
    )
}

fn candidates(names: Vec<String>) -> Vec<CompletionCandidate> {
    names.into_iter().map(CompletionCandidate::new).collect()
}
