//! A track as a FLAC file (RFC 9639), written as it goes by.

use std::fmt::Display;
use std::io::{Seek, SeekFrom, Write};

use flacenc::bitsink::ByteSink;
use flacenc::component::{BitRepr, StreamInfo};
use flacenc::config::Encoder;
use flacenc::error::Verify;
use flacenc::source::{Context, Fill, FrameBuf};

use crate::recording::Scratch;
use crate::{Balance, RATE, Recording, Role, SoundError, Tags};

/// Frames in a block.
const BLOCK: usize = 4_096;

const BITS: usize = 16;
const CHANNELS: usize = 2;

/// Bytes before the description's, and of it.
const MARK: &[u8; 4] = b"fLaC";
const DESCRIPTION: usize = 34;

impl<S: Scratch> Recording<S> {
    /// Writes the roles that are heard as a FLAC file with its tags. What it
    /// says of itself at its beginning is written last.
    ///
    /// # Errors
    /// What can't be read or written, and what the encoder refuses.
    pub fn flac(
        &mut self,
        heard: impl Fn(Role) -> bool,
        balance: &Balance,
        tags: &Tags,
        out: &mut (impl Write + Seek),
    ) -> Result<(), SoundError> {
        let begins = out.stream_position().map_err(SoundError::output)?;
        let mut head = MARK.to_vec();
        head.extend(block_head(0, false, DESCRIPTION));
        let described = head.len() as u64;
        head.resize(head.len() + DESCRIPTION, 0);
        let comments = comments(tags);
        head.extend(block_head(4, true, comments.len()));
        head.extend(comments);
        out.write_all(&head).map_err(SoundError::output)?;
        let mut frames = Frames::new(self.frames())?;
        let mut waiting: Vec<i32> = Vec::with_capacity(2 * CHANNELS * BLOCK);
        self.form(heard, balance, |block| {
            waiting.extend(block.iter().map(|value| i32::from(*value)));
            let whole = waiting.len() / (CHANNELS * BLOCK) * (CHANNELS * BLOCK);
            for values in waiting[..whole].chunks_exact(CHANNELS * BLOCK) {
                frames.write(values, out)?;
            }
            waiting.drain(..whole);
            Ok(())
        })?;
        if !waiting.is_empty() {
            frames.write(&waiting, out)?;
        }
        let end = out.stream_position().map_err(SoundError::output)?;
        out.seek(SeekFrom::Start(begins + described))
            .map_err(SoundError::output)?;
        out.write_all(&frames.description()?)
            .map_err(SoundError::output)?;
        out.seek(SeekFrom::Start(end)).map_err(SoundError::output)?;
        Ok(())
    }
}

/// A metadata block's type, whether it is the last, and its length.
fn block_head(kind: u8, last: bool, length: usize) -> [u8; 4] {
    let [_, a, b, c] = (length as u32).to_be_bytes();
    [kind | u8::from(last) << 7, a, b, c]
}

/// A Vorbis comment (RFC 9639, section 8.6).
fn comments(tags: &Tags) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut text = |text: &str| {
        bytes.extend((text.len() as u32).to_le_bytes());
        bytes.extend(text.as_bytes());
    };
    text("Twelvefold");
    let comments = tags.comments();
    bytes.extend((comments.len() as u32).to_le_bytes());
    for comment in comments {
        bytes.extend((comment.len() as u32).to_le_bytes());
        bytes.extend(comment.as_bytes());
    }
    bytes
}

/// The frames of a file, and what is said of them all.
struct Frames {
    config: flacenc::error::Verified<Encoder>,
    info: StreamInfo,
    block: (FrameBuf, Context),
    number: usize,
    samples: u64,
    bytes: ByteSink,
}

impl Frames {
    fn new(samples: u64) -> Result<Frames, SoundError> {
        let config = Encoder::default()
            .into_verified()
            .map_err(|(_, error)| refused(error))?;
        let info = StreamInfo::new(RATE as usize, CHANNELS, BITS).map_err(refused)?;
        let buffer = FrameBuf::with_size(CHANNELS, BLOCK).map_err(refused)?;
        Ok(Frames {
            config,
            info,
            block: (buffer, Context::new(BITS, CHANNELS)),
            number: 0,
            samples,
            bytes: ByteSink::new(),
        })
    }

    fn write(&mut self, values: &[i32], out: &mut impl Write) -> Result<(), SoundError> {
        self.block.fill_interleaved(values).map_err(refused)?;
        let block = &self.block.0;
        let frame = flacenc::encode_fixed_size_frame(&self.config, block, self.number, &self.info);
        let frame = frame.map_err(refused)?;
        self.info.update_frame_info(&frame);
        self.bytes.clear();
        frame.write(&mut self.bytes).map_err(refused)?;
        self.number += 1;
        out.write_all(self.bytes.as_slice())
            .map_err(SoundError::output)
    }

    fn description(&mut self) -> Result<Vec<u8>, SoundError> {
        self.info.set_block_sizes(BLOCK, BLOCK).map_err(refused)?;
        self.info.set_total_samples(self.samples as usize);
        self.info.set_md5_digest(&self.block.1.md5_digest());
        let mut bytes = ByteSink::new();
        self.info.write(&mut bytes).map_err(refused)?;
        Ok(bytes.into_inner())
    }
}

fn refused(error: impl Display) -> SoundError {
    SoundError::Encoding {
        format: "FLAC",
        reason: error.to_string(),
    }
}
