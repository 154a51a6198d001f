//! Opening something with what the system uses for it.

use std::ffi::OsStr;
use std::process::{Command, Stdio};

/// Opens an address or a folder; false where nothing could be started.
pub(crate) fn open(what: &OsStr) -> bool {
    let mut command = if cfg!(target_os = "macos") {
        Command::new("open")
    } else if cfg!(windows) {
        Command::new("explorer")
    } else {
        Command::new("xdg-open")
    };
    let started = command
        .arg(what)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    match started {
        Ok(mut child) => {
            // Waited for elsewhere, so that it leaves nothing behind.
            std::thread::spawn(move || child.wait());
            true
        }
        Err(_) => false,
    }
}
