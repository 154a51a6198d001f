//! What a run finds in a lesson's folder beside what it makes.

/// An edited file that stayed, and its new version beside it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeptFile {
    /// The edited file.
    pub file: String,
    /// Its new version.
    pub new: String,
}

/// What a run left in a lesson's folder that it didn't make.
#[derive(Debug, Default)]
pub struct FolderOutcome {
    /// Edited files that stayed.
    pub kept: Vec<KeptFile>,
    /// Every file of ours that somebody edited, these and others.
    pub edited: Vec<String>,
    /// Files that the lesson no longer makes.
    pub leftovers: Vec<Leftover>,
    /// The `contents.json` found could not be read.
    pub damaged: bool,
}

/// A file of ours that its lesson no longer makes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leftover {
    /// The file within the lesson's folder.
    pub file: String,
    /// What it is called now, where only its key is named otherwise.
    pub renamed: Option<String>,
    /// Whether it is a book, a score or a grid: made of sheets, and so out of
    /// date where they have changed.
    pub made_of_sheets: bool,
    /// Whether somebody edited it, so that it stays.
    pub edited: bool,
    /// Whether this run took it away.
    pub removed: bool,
}
