//! The error of what ended since its run was asked to stop.

use std::io;

/// What a file ends in when its run is asked to stop.
#[derive(Debug, thiserror::Error)]
#[error("stopped")]
pub struct Stopped;

/// Whether that is what an error says.
pub fn is_stopped(error: &io::Error) -> bool {
    error.get_ref().is_some_and(|inner| inner.is::<Stopped>())
}
