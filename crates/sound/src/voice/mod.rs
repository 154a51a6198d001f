//! Who sings a performance: the plain voice, or a SoundFont.

mod drum_kit;
mod font;
mod font_file;
mod font_tables;
mod plain;
mod timbre;
mod tone;
mod wavetable;

pub use drum_kit::{DrumPart, PlainDrum, plain_drums};
pub use font::Font;
pub use font_file::FontSource;
pub use timbre::{PlainTone, plain_tone};

pub(crate) use font::FontPlayer;
#[cfg(test)]
pub(crate) use font_file::FontFile;
pub(crate) use plain::PlainPlayer;

use crate::{FontError, Role};

/// Who sings it.
#[derive(Debug, Clone, Copy)]
pub enum Voice<'a> {
    /// The built-in voice.
    Plain,
    /// A SoundFont, with its General MIDI programs.
    Font(&'a Font),
}

/// What a role sounds, by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stem {
    pub role: Role,
    /// Where it stands, −1 left to 1 right; none where it has two channels of
    /// its own.
    pub place: Option<f32>,
    /// How loud it is among what accompanies, as amplitude.
    pub gain: f32,
}

impl Stem {
    pub(crate) fn channels(&self) -> usize {
        if self.place.is_some() { 1 } else { 2 }
    }
}

/// Renders a performance from its beginning, block by block.
pub(crate) trait Player {
    /// What there is to be heard.
    fn stems(&self) -> Vec<Stem>;

    /// Renders the next frames, each stem into its own buffer of zeros: one
    /// value a frame, or two by turns.
    ///
    /// # Errors
    /// When a SoundFont breaks while it plays.
    fn render(&mut self, frames: usize, stems: &mut [Vec<f32>]) -> Result<(), FontError>;
}
