//! What can go wrong, in words for the person at the desk.

use theory::Pitch;

/// Why a track could not be made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SoundError {
    /// No scores were given.
    #[error("there is no sheet to play")]
    NoSheet,
    /// MIDI has 128 keys, C −1 to G 9 (MIDI 1.0 specification).
    #[error("{0} lies outside the notes MIDI knows")]
    OutOfReach(Pitch),
    /// Longer than a file's ticks can say.
    #[error("the track is too long: play fewer times or fewer keys")]
    TooLong,
    /// Longer than audio is rendered for.
    #[error("the track lasts longer than {minutes} minutes: make it in parts")]
    TooLongToRender {
        /// The limit.
        minutes: u32,
    },
    /// The SoundFont was read, but broke while it was played.
    #[error(transparent)]
    Font(#[from] FontError),
    /// Where the samples are kept meanwhile, or where they go to, failed.
    #[error("the sound could not be {doing}: {reason}")]
    File {
        /// `kept meanwhile` or `written`.
        doing: &'static str,
        /// What the system said.
        reason: String,
    },
    /// An encoder refused the samples.
    #[error("the samples could not be written as {format}: {reason}")]
    Encoding {
        /// `WAV` or `FLAC`.
        format: &'static str,
        /// What the encoder said.
        reason: String,
    },
}

impl SoundError {
    pub(crate) fn scratch(error: std::io::Error) -> SoundError {
        SoundError::File {
            doing: "kept meanwhile",
            reason: error.to_string(),
        }
    }

    pub(crate) fn output(error: std::io::Error) -> SoundError {
        SoundError::File {
            doing: "written",
            reason: error.to_string(),
        }
    }
}

/// Why a SoundFont can't be used: a sentence.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("the SoundFont can't be used: {0}")]
pub struct FontError(pub String);
