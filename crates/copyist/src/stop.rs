//! Whether someone asked a run to stop.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use crate::error::CopyError;

/// Asked or not; clones ask and hear the same run.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Asks the run to stop.
    pub fn ask(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it was asked to.
    pub fn is_asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// What is raised when someone asks; it is never lowered.
    pub fn raised(&self) -> &AtomicBool {
        &self.0
    }

    /// What a handler of signals raises.
    pub fn flag(&self) -> Arc<AtomicBool> {
        Arc::clone(&self.0)
    }

    /// To go on, or not.
    ///
    /// # Errors
    /// That the run was asked to stop.
    pub fn check(&self) -> Result<(), CopyError> {
        if self.is_asked() {
            Err(CopyError::Stopped)
        } else {
            Ok(())
        }
    }
}
