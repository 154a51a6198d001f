//! Sound as whole numbers, ready for a file.

use std::io::Cursor;

use crate::SoundError;

/// Samples a second.
pub const RATE: u32 = 44_100;

/// One channel or two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Channels {
    /// One.
    #[default]
    Mono,
    /// Left and right.
    Stereo,
}

impl Channels {
    /// How many.
    pub const fn count(self) -> u16 {
        match self {
            Channels::Mono => 1,
            Channels::Stereo => 2,
        }
    }
}

/// A rendered track: 16 bits, [`RATE`] samples a second.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Samples {
    /// One channel or two.
    pub channels: Channels,
    /// In order; in stereo left and right by turns.
    pub values: Vec<i16>,
}

impl Samples {
    /// Samples of each channel.
    pub fn frames(&self) -> usize {
        self.values.len() / usize::from(self.channels.count())
    }

    /// The bytes of a WAV file.
    ///
    /// # Errors
    /// When they are more than a WAV file holds.
    pub fn wav(&self) -> Result<Vec<u8>, SoundError> {
        let refused = |error: hound::Error| SoundError::Encoding {
            format: "WAV",
            reason: error.to_string(),
        };
        let spec = hound::WavSpec {
            channels: self.channels.count(),
            sample_rate: RATE,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut bytes = Cursor::new(Vec::with_capacity(44 + 2 * self.values.len()));
        let mut writer = hound::WavWriter::new(&mut bytes, spec).map_err(refused)?;
        for value in &self.values {
            writer.write_sample(*value).map_err(refused)?;
        }
        writer.finalize().map_err(refused)?;
        Ok(bytes.into_inner())
    }
}
