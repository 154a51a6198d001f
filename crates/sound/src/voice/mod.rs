//! Who sings a performance: the plain voice, or a SoundFont.

mod drum_kit;
mod font;
mod font_file;
mod font_tables;
mod plain;
mod player;
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
pub(crate) use player::{Player, Stem};

/// Who sings it.
#[derive(Debug, Clone, Copy)]
pub enum Voice<'a> {
    /// The built-in voice.
    Plain,
    /// A SoundFont, with its General MIDI programs.
    Font(&'a Font),
}
