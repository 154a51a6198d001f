//! A sheet as scripts read it.

use score::Description;
use serde::Serialize;

use crate::contents::Heading;
use crate::store::FileOutcome;

/// What a sheet contains, and what became of its files.
#[derive(Serialize)]
pub struct SheetJson<'a> {
    pub version: u32,
    pub lesson: &'a str,
    pub sheet: &'a str,
    #[serde(flatten)]
    pub heading: Heading,
    /// Whether it holds what another sheet leaves to be written.
    pub answers: bool,
    pub bars: u32,
    /// Its files and tracks, and what became of each.
    pub files: Vec<FileJson<'a>>,
    #[serde(flatten)]
    pub contents: Description,
}

/// A file within the lesson's folder.
#[derive(Serialize)]
pub struct FileJson<'a> {
    pub file: &'a str,
    #[serde(flatten)]
    pub outcome: FileOutcome,
}
