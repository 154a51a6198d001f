//! A track that could not be made.

use sound::SoundError;

/// A track that could not be made.
#[derive(Debug)]
pub struct TrackFailure {
    /// The file within the lesson's folder; without an ending where none of
    /// its formats could be made.
    pub file: String,
    /// Why.
    pub error: SoundError,
}
