//! A track as a FLAC file (RFC 9639), written as it goes by.

use std::io::SeekFrom;

use md5::{Digest, Md5};

use crate::bits::Bits;
use crate::flac_frame::FrameWriter;
use crate::recording::Output;
use crate::{Balance, RATE, Recording, Role, SoundError, Tags};

/// Frames in a block.
const BLOCK: usize = 4_096;

const BITS: u64 = 16;
const CHANNELS: usize = 2;

/// Bytes before the description's, and of it.
const MARK: &[u8; 4] = b"fLaC";
const DESCRIPTION: usize = 34;

impl Recording {
    /// Writes the roles that are heard as a FLAC file with its tags. What it
    /// says of itself at its beginning is written last.
    ///
    /// # Errors
    /// What can't be read or written.
    pub fn flac(
        &mut self,
        heard: fn(Role) -> bool,
        balance: &Balance,
        tags: &Tags,
        out: &mut dyn Output,
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
        let mut frames = Frames::new(self.frames());
        let mut waiting: Vec<i16> = Vec::with_capacity(2 * CHANNELS * BLOCK);
        self.form(heard, balance, &mut |block| {
            waiting.extend_from_slice(block);
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
        out.write_all(&frames.description())
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
    writer: FrameWriter,
    bits: Bits,
    number: u32,
    samples: u64,
    /// The shortest frame and the longest, in bytes.
    sizes: Option<(usize, usize)>,
    sum: Md5,
    bytes: Vec<u8>,
}

impl Frames {
    fn new(samples: u64) -> Frames {
        Frames {
            writer: FrameWriter::new(),
            bits: Bits::default(),
            number: 0,
            samples,
            sizes: None,
            sum: Md5::new(),
            bytes: Vec::with_capacity(2 * CHANNELS * BLOCK),
        }
    }

    fn write(&mut self, block: &[i16], out: &mut dyn Output) -> Result<(), SoundError> {
        self.bytes.clear();
        self.bytes
            .extend(block.iter().flat_map(|value| value.to_le_bytes()));
        self.sum.update(&self.bytes);
        self.writer.write(block, self.number, &mut self.bits);
        self.number += 1;
        let frame = self.bits.bytes();
        let (least, most) = self.sizes.unwrap_or((frame.len(), frame.len()));
        self.sizes = Some((least.min(frame.len()), most.max(frame.len())));
        out.write_all(frame).map_err(SoundError::output)
    }

    /// Section 8.2.
    fn description(self) -> Vec<u8> {
        let (least, most) = self.sizes.unwrap_or_default();
        let mut bits = Bits::default();
        bits.put(BLOCK as u64, 16);
        bits.put(BLOCK as u64, 16);
        bits.put(least as u64, 24);
        bits.put(most as u64, 24);
        bits.put(RATE.into(), 20);
        bits.put(CHANNELS as u64 - 1, 3);
        bits.put(BITS - 1, 5);
        bits.put(self.samples >> 32, 4);
        bits.put(self.samples & 0xFFFF_FFFF, 32);
        let mut bytes = bits.bytes().to_vec();
        bytes.extend(self.sum.finalize());
        bytes
    }
}
