//! What all requests share.

use std::path::PathBuf;
use std::sync::{Arc, OnceLock};

use axum::extract::State;
use serde_json::Value as Json;

use crate::folder::Folder;
use crate::hold::FolderHold;
use crate::turns::Turns;
use crate::writing::Writing;

/// What all requests share.
#[derive(Debug)]
pub(crate) struct DeskState {
    pub(super) folder: Folder,
    pub(super) out: PathBuf,
    pub(super) soundfont: Option<PathBuf>,
    pub(super) held: FolderHold,
    pub(super) writing: Writing,
    /// The choices, written once.
    pub(super) choices: OnceLock<Json>,
    pub(super) turns: Turns,
}

pub(super) type Desk = State<Arc<DeskState>>;

impl DeskState {
    pub(crate) fn new(
        folder: Folder,
        out: PathBuf,
        soundfont: Option<PathBuf>,
        held: FolderHold,
    ) -> Arc<DeskState> {
        Arc::new(DeskState {
            folder,
            out,
            soundfont,
            held,
            writing: Writing::default(),
            choices: OnceLock::new(),
            turns: Turns::default(),
        })
    }
}

impl DeskState {
    /// Asks a run to stop, and whatever is still shown.
    pub(crate) fn stop(&self) {
        self.writing.stop();
        self.turns.stop();
    }

    /// Whether a run still goes on.
    pub(crate) fn is_writing(&self) -> bool {
        self.writing.goes_on()
    }

    /// Lets go of the folder.
    pub(crate) fn let_go(&self) {
        self.held.let_go();
    }
}
