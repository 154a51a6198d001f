//! `start`: a commented lesson to begin from.

use std::io::{self, Write};
use std::path::Path;

use anyhow::Context;

use crate::console::Console;
use crate::exit::Exit;

const STARTER: &str = include_str!("starter.toml");

pub fn run(file: &Path, out: &mut impl Write, console: &Console) -> anyhow::Result<Exit> {
    if file == Path::new("-") {
        out.write_all(STARTER.as_bytes())?;
        return Ok(Exit::Done);
    }
    let path = file.display();
    match copyist::create(file, STARTER.as_bytes()) {
        Ok(()) => {
            writeln!(out, "{path}\nnow try: twelvefold write {path}")?;
            Ok(Exit::Done)
        }
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            console.fault(
                &format!("{path} is there already"),
                Some("name another file, as in: twelvefold start monday.toml"),
            );
            Ok(Exit::NotWritten)
        }
        Err(error) => Err(error).with_context(|| format!("could not write {path}")),
    }
}
