//! Files that are read: only plain ones, and only as long as makes sense.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use crate::refusal::Refusal;

/// A file's bytes. `longest` is the most it may hold, `what` says so, as in "a
/// lesson can be, 1 MB", and `name` what to name instead.
pub fn bytes(path: &Path, longest: u64, what: &str, name: &str) -> Result<Vec<u8>, Refusal> {
    let refused =
        |message: &str, help: &str| Refusal::new(format!("{}: {message}", path.display()), help);
    let read = || {
        plain(path)?;
        let mut bytes = Vec::new();
        // The limit holds for growing files too, whose size says nothing.
        File::open(path)?
            .take(longest + 1)
            .read_to_end(&mut bytes)?;
        io::Result::Ok(bytes)
    };
    let bytes = read().map_err(|error| match error.kind() {
        io::ErrorKind::NotFound => refused("there is no such file", "look at its name and folder"),
        io::ErrorKind::Unsupported => refused(&error.to_string(), name),
        _ => refused(
            &format!("can't be read: {error}"),
            "look at whether you may read it",
        ),
    })?;
    if bytes.len() as u64 > longest {
        return Err(refused(&format!("is larger than {what}"), name));
    }
    Ok(bytes)
}

/// Opens nothing that could keep a run waiting: a pipe has no end until
/// somebody writes into it, and a device may have none at all.
///
/// # Errors
/// Of the kind `Unsupported` for what is no plain file.
pub fn plain(path: &Path) -> io::Result<()> {
    let kind = fs::metadata(path)?.file_type();
    if kind.is_file() {
        return Ok(());
    }
    let words = if kind.is_dir() {
        "is a folder"
    } else {
        "is a pipe or a device, not a file"
    };
    Err(io::Error::new(io::ErrorKind::Unsupported, words))
}
