//! How a run treats what it finds.

/// How a run treats what it finds.
#[derive(Debug, Default)]
pub struct Rules {
    /// Take the new version, keep the edited one beside it.
    pub replace: bool,
    /// Remove what a lesson no longer makes.
    pub tidy: bool,
    /// Wait until the disk has each file.
    pub durable: bool,
    /// Put nothing anywhere: for trying out.
    pub nowhere: bool,
    /// Move a folder that wasn't there into place at once. It is the quicker
    /// way, but a killed run leaves nothing of it.
    pub at_once: bool,
    /// Keeps runs of different parts apart; empty for a whole run.
    pub tag: String,
}
