//! A file whole or not at all: written beside its place and moved there.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::content::Content;
use super::regular;

/// What the names of files end in while they are written.
pub const UNFINISHED: &str = ".part";

/// Puts a file in its place in one move, with the folders on the way to it.
/// `tag` keeps runs apart that write into one folder; `durable` waits until
/// the disk has it.
pub fn put(path: &Path, tag: &str, content: Content<'_>, durable: bool) -> io::Result<()> {
    let beside = beside(path, tag);
    let moved = write(&beside, content, durable).and_then(|()| fs::rename(&beside, path));
    if moved.is_err() {
        // Whether it could be made at all is in the error already.
        let _ = fs::remove_file(&beside);
    }
    moved?;
    if durable { sync_folder(path) } else { Ok(()) }
}

/// Writes a file where it is, with the folders on the way to it.
pub fn write(path: &Path, content: Content<'_>, durable: bool) -> io::Result<()> {
    regular::refuse_endless(path)?;
    let mut file = match File::create(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            if let Some(folder) = path.parent() {
                fs::create_dir_all(folder)?;
            }
            File::create(path)?
        }
        opened => opened?,
    };
    content.write(&mut file)?;
    if durable { file.sync_all() } else { Ok(()) }
}

/// Writes a new file where none may be yet.
pub fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)?
        .write_all(bytes)
}

/// Makes the move itself last; where folders can't be synced, the system
/// does it.
fn sync_folder(path: &Path) -> io::Result<()> {
    match path.parent() {
        Some(folder) if cfg!(unix) => File::open(folder)?.sync_all(),
        _ => Ok(()),
    }
}

fn beside(path: &Path, tag: &str) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!(".{name}{UNFINISHED}{tag}"))
}
