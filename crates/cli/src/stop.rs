//! Whether the person asked the run to stop: Ctrl-C, or the system's polite
//! word. A second Ctrl-C stops at once.

use std::fmt;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;

use crate::exit::Exit;

/// Asked or not.
#[derive(Debug, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Hears the signals from now on.
    pub fn heard() -> io::Result<Stop> {
        let stop = Stop::default();
        for signal in [SIGINT, SIGTERM] {
            // In this order, so that the first only asks.
            flag::register_conditional_shutdown(signal, Exit::Stopped as i32, Arc::clone(&stop.0))?;
            flag::register(signal, Arc::clone(&stop.0))?;
        }
        // A file larger than allowed is then an error with a message, not
        // the end of the process.
        #[cfg(unix)]
        flag::register(signal_hook::consts::SIGXFSZ, Arc::default())?;
        Ok(stop)
    }

    pub fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// The run was asked to stop; what was written is whole.
#[derive(Debug)]
pub struct Stopped;

impl fmt::Display for Stopped {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("stopped; what is written is whole, and the same command goes on from there")
    }
}

impl std::error::Error for Stopped {}
