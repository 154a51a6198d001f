//! A file that is ready to be put into a lesson's folder.

/// A file of a lesson's folder, with its path there.
#[derive(Debug)]
pub struct FolderFile {
    pub file: String,
    pub bytes: Vec<u8>,
}
