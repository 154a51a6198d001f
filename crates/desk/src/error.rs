//! Why a desk can't be set up.

use std::io;
use std::path::PathBuf;

/// What went wrong.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The folder isn't there or can't be read.
    #[error("{}: can't be opened: {error}", .folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system says.
        error: io::Error,
    },
    /// No port is free, or the one asked for is taken.
    #[error("port {port} can't be used: {error}")]
    Port {
        /// The port, or the first that was tried.
        port: u16,
        /// What the system says.
        error: io::Error,
    },
    /// The system gives no random bytes for the token.
    #[error("the system gives no random numbers: {0}")]
    Random(String),
    /// The server stopped by itself.
    #[error("the desk stopped: {0}")]
    Server(#[from] io::Error),
}
