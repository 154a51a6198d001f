//! A catalogue printed as text or as JSON.

use std::io::Write;

use serde::Serialize;
use theory::Degree;

use crate::args::TextFormat;
use crate::exit::Exit;
use crate::json::JsonDocument;
use crate::table;

/// A catalogue both ways: columns of text, and objects.
pub struct Listing<const N: usize, T> {
    pub heading: [&'static str; N],
    pub rows: Vec<([String; N], T)>,
}

impl<const N: usize, T: Serialize> Listing<N, T> {
    pub fn print(self, format: TextFormat, out: &mut impl Write) -> anyhow::Result<Exit> {
        let (rows, objects): (Vec<_>, Vec<_>) = self.rows.into_iter().unzip();
        match format {
            TextFormat::Text => table::print(out, "", self.heading, &rows)?,
            TextFormat::Json => {
                let objects: Vec<_> = objects.into_iter().map(JsonDocument::now).collect();
                serde_json::to_writer_pretty(&mut *out, &objects)?;
                writeln!(out)?;
            }
        }
        Ok(Exit::Done)
    }
}

/// Degrees as a lesson writes them.
pub fn words(degrees: &[Degree]) -> Vec<String> {
    degrees.iter().map(|degree| degree.to_string()).collect()
}
