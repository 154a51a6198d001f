//! What is printed as JSON: its version, and an array printed one item to a
//! line, as they come.

use std::io::{self, Write};

use serde::Serialize;

/// Which fields `check`, `list` and `spell` print and what they mean: raised
/// when one changes or goes, not when one is added.
const VERSION: u32 = 1;

/// An object with its version.
#[derive(Debug, Serialize)]
pub struct JsonDocument<T> {
    version: u32,
    #[serde(flatten)]
    what: T,
}

impl<T> JsonDocument<T> {
    /// In today's version.
    pub fn now(what: T) -> JsonDocument<T> {
        JsonDocument {
            version: VERSION,
            what,
        }
    }
}

/// The array so far.
#[derive(Debug, Default)]
pub struct JsonArray {
    begun: bool,
}

impl JsonArray {
    /// One more item.
    pub fn item(&mut self, out: &mut impl Write, json: &[u8]) -> io::Result<()> {
        out.write_all(if self.begun { b",\n" } else { b"[\n" })?;
        self.begun = true;
        out.write_all(json)
    }

    /// Its end.
    pub fn close(self, out: &mut impl Write) -> io::Result<()> {
        out.write_all(if self.begun { b"\n]\n" } else { b"[]\n" })
    }
}
