//! Samples as a FLAC file, block by block, so that only the bytes are held.

use std::fmt::Display;

use flacenc::bitsink::ByteSink;
use flacenc::component::{BitRepr, Stream, StreamInfo};
use flacenc::config::Encoder;
use flacenc::error::Verify;
use flacenc::source::{Context, Fill, FrameBuf};

use crate::{RATE, Samples, SoundError};

/// Samples of each channel in a block.
const BLOCK: usize = 4_096;

const BITS: usize = 16;

impl Samples {
    /// The bytes of a FLAC file.
    ///
    /// # Errors
    /// What the encoder refuses.
    pub fn flac(&self) -> Result<Vec<u8>, SoundError> {
        let channels = usize::from(self.channels.count());
        let config = Encoder::default()
            .into_verified()
            .map_err(|(_, error)| refused(error))?;
        let mut info = StreamInfo::new(RATE as usize, channels, BITS).map_err(refused)?;
        let buffer = FrameBuf::with_size(channels, BLOCK).map_err(refused)?;
        let mut block = (buffer, Context::new(BITS, channels));
        let mut frames = ByteSink::new();
        for (number, values) in self.values.chunks(BLOCK * channels).enumerate() {
            let values: Vec<i32> = values.iter().map(|value| i32::from(*value)).collect();
            block.fill_interleaved(&values).map_err(refused)?;
            let frame = flacenc::encode_fixed_size_frame(&config, &block.0, number, &info);
            let frame = frame.map_err(refused)?;
            info.update_frame_info(&frame);
            frame.write(&mut frames).map_err(refused)?;
        }
        info.set_block_sizes(BLOCK, BLOCK).map_err(refused)?;
        info.set_total_samples(self.frames());
        info.set_md5_digest(&block.1.md5_digest());
        let mut file = ByteSink::new();
        Stream::with_stream_info(info)
            .write(&mut file)
            .map_err(refused)?;
        let mut bytes = file.into_inner();
        bytes.append(&mut frames.into_inner());
        Ok(bytes)
    }
}

fn refused(error: impl Display) -> SoundError {
    SoundError::Encoding {
        format: "FLAC",
        reason: error.to_string(),
    }
}
