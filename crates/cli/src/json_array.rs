//! An array printed one item to a line, as they come.

use std::io::{self, Write};

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
