//! Ctrl-C, or the system's polite word, asks a run to stop; a second Ctrl-C
//! stops at once.

use std::io;
use std::sync::Arc;

use copyist::Stop;
use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;

use crate::exit::Exit;

/// Hears the signals from now on.
pub fn heard() -> io::Result<Stop> {
    let stop = Stop::default();
    for signal in [SIGINT, SIGTERM] {
        // In this order, so that the first only asks.
        flag::register_conditional_shutdown(signal, Exit::Stopped as i32, stop.flag())?;
        flag::register(signal, stop.flag())?;
    }
    // A file larger than allowed is then an error with a message, not the end
    // of the process.
    #[cfg(unix)]
    flag::register(signal_hook::consts::SIGXFSZ, Arc::default())?;
    Ok(stop)
}
