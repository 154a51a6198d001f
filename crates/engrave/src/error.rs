//! What can go wrong while a sheet is drawn.

/// Why a sheet or a book wasn't drawn.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EngraveError {
    /// The engraving library's own files couldn't be unpacked.
    #[error(
        "the engraving library can't unpack its files into the folder for temporary files ({})",
        std::env::temp_dir().display()
    )]
    Resources,
    /// The engraving library didn't take the sheet.
    #[error("the engraving library didn't take the sheet: {0}")]
    Refused(String),
    /// What it drew isn't what was asked for.
    #[error("the engraving library drew {0}")]
    Drawn(String),
}
