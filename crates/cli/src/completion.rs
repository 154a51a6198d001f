//! What words may stand where an argument does: lessons in the folder and all
//! names of the catalogues, asked of the program itself.

use std::ffi::OsStr;

use clap::ValueEnum;
use clap_complete::engine::{CompletionCandidate, PathCompleter, ValueCompleter};

use crate::command::list::names;

/// A shell that completions are written for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Shell {
    Bash,
    Zsh,
    Fish,
    Powershell,
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
    candidates(names::instruments())
}

/// Ids of scales.
pub fn scales() -> Vec<CompletionCandidate> {
    candidates(names::scales())
}

/// Whatever may be listed by its name.
pub fn names() -> Vec<CompletionCandidate> {
    candidates([names::scales(), names::instruments()].concat())
}

/// The keys, those with two names by both.
pub fn keys() -> Vec<CompletionCandidate> {
    candidates(names::keys())
}

/// A scale on the root that is typed, or on each.
pub fn scales_on_roots(typed: &OsStr) -> Vec<CompletionCandidate> {
    let typed = typed.to_string_lossy();
    let begins = |name: &String| name.starts_with(&*typed);
    let Some((root, _)) = typed.split_once(' ') else {
        return candidates(names::keys().into_iter().filter(begins).collect());
    };
    let scales = names::scales().into_iter();
    candidates(
        scales
            .map(|id| format!("{root} {id}"))
            .filter(begins)
            .collect(),
    )
}

fn candidates(names: Vec<String>) -> Vec<CompletionCandidate> {
    names.into_iter().map(CompletionCandidate::new).collect()
}
