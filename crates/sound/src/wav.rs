//! A track as a WAV file, written as it goes by.

use std::io::Write;

use crate::{Balance, RATE, Recording, Role, SoundError, Tags};

const CHANNELS: u16 = 2;
const BYTES: u16 = 2;

impl Recording {
    /// Writes the roles that are heard as a WAV file of 16 bits (RIFF WAVE,
    /// format 1), its tags in an INFO list after the samples.
    ///
    /// # Errors
    /// What can't be read or written, and more than a WAV file holds.
    pub fn wav(
        &mut self,
        heard: fn(Role) -> bool,
        balance: &Balance,
        tags: &Tags,
        out: &mut dyn Write,
    ) -> Result<(), SoundError> {
        let samples = u64::from(CHANNELS * BYTES) * self.frames();
        let list = list(tags);
        let all = 36 + samples + list.len() as u64;
        let too_long = || SoundError::Encoding {
            format: "WAV",
            reason: "it is longer than such a file can say".to_owned(),
        };
        let all = u32::try_from(all).map_err(|_| too_long())?;
        let mut head = Vec::with_capacity(44);
        head.extend(b"RIFF");
        head.extend(all.to_le_bytes());
        head.extend(b"WAVEfmt ");
        head.extend(16u32.to_le_bytes());
        head.extend(1u16.to_le_bytes());
        head.extend(CHANNELS.to_le_bytes());
        head.extend(RATE.to_le_bytes());
        head.extend((RATE * u32::from(CHANNELS * BYTES)).to_le_bytes());
        head.extend((CHANNELS * BYTES).to_le_bytes());
        head.extend((8 * BYTES).to_le_bytes());
        head.extend(b"data");
        head.extend((samples as u32).to_le_bytes());
        out.write_all(&head).map_err(SoundError::output)?;
        let mut bytes = Vec::new();
        self.form(heard, balance, &mut |block| {
            bytes.clear();
            bytes.extend(block.iter().flat_map(|value| value.to_le_bytes()));
            out.write_all(&bytes).map_err(SoundError::output)
        })?;
        out.write_all(&list).map_err(SoundError::output)
    }
}

/// An INFO list; chunks are of even length, and end in a zero.
fn list(tags: &Tags) -> Vec<u8> {
    let mut inside = b"INFO".to_vec();
    for (name, text) in tags.chunks() {
        let mut value = text.into_bytes();
        value.push(0);
        inside.extend(name);
        inside.extend((value.len() as u32).to_le_bytes());
        value.resize(value.len().next_multiple_of(2), 0);
        inside.extend(value);
    }
    if inside.len() == 4 {
        return Vec::new();
    }
    let mut list = b"LIST".to_vec();
    list.extend((inside.len() as u32).to_le_bytes());
    list.extend(inside);
    list
}
