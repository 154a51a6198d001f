//! A performance made audible.

use crate::clock::Clock;
use crate::mix::Mix;
use crate::{Channels, Font, Performance, RATE, Samples, SoundError, plain_voice};

/// Who sings it.
#[derive(Debug, Clone, Copy)]
pub enum Voice<'a> {
    /// The built-in voice.
    Plain,
    /// A SoundFont, with its General MIDI programs.
    Font(&'a Font),
}

/// The longest track that is rendered. An hour of samples being added up
/// takes some 600 megabytes, twice that in stereo.
const MOST_MINUTES: u32 = 60;

/// Renders a performance, exactly as long as it lasts, as loud as it may be
/// without clipping.
///
/// # Errors
/// A track longer than an hour, or a SoundFont that breaks while it plays.
pub fn render(
    performance: &Performance,
    voice: Voice<'_>,
    channels: Channels,
) -> Result<Samples, SoundError> {
    let frames = Clock::of(performance).sample(performance.end, RATE);
    let frames = u32::try_from(frames)
        .ok()
        .filter(|frames| *frames <= 60 * MOST_MINUTES * RATE)
        .ok_or(SoundError::TooLongToRender {
            minutes: MOST_MINUTES,
        })?;
    let mut mix = Mix::new(channels, frames as usize);
    match voice {
        Voice::Plain => plain_voice::play(performance, &mut mix),
        Voice::Font(font) => font.play(performance, &mut mix)?,
    }
    Ok(mix.samples())
}
