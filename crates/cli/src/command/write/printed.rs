//! Sheets as they are printed for scripts.

use std::io::{self, Write};

use serde::Serialize;

use crate::contents::Heading;
use crate::description::Description;
use crate::store::Fate;

/// A sheet as `--format json` prints it.
#[derive(Serialize)]
pub struct Printed<'a> {
    pub lesson: &'a str,
    pub sheet: &'a str,
    #[serde(flatten)]
    pub heading: Heading,
    /// Whether it holds what another sheet leaves to be written.
    pub answers: bool,
    pub bars: u32,
    /// Its files and tracks, and what became of each.
    pub files: Vec<FileTold<'a>>,
    #[serde(flatten)]
    pub contents: Description,
}

/// A file within the lesson's folder.
#[derive(Serialize)]
pub struct FileTold<'a> {
    pub file: &'a str,
    #[serde(flatten)]
    pub fate: Fate,
}

/// An array printed one item to a line, as they come.
#[derive(Default)]
pub struct JsonArray {
    begun: bool,
}

impl JsonArray {
    pub fn item(&mut self, out: &mut impl Write, json: &[u8]) -> io::Result<()> {
        out.write_all(if self.begun { b",\n" } else { b"[\n" })?;
        self.begun = true;
        out.write_all(json)
    }

    pub fn close(self, out: &mut impl Write) -> io::Result<()> {
        out.write_all(if self.begun { b"\n]\n" } else { b"[]\n" })
    }
}
