//! A SoundFont, read and played by a library, with its panics contained.
// The player's samples are floats.
#![allow(clippy::float_arithmetic)]

use std::io::Cursor;
use std::sync::Arc;

use rustysynth::{SoundFont, Synthesizer, SynthesizerSettings};

use crate::clock::Clock;
use crate::contain::contain;
use crate::midi::{program, tuning};
use crate::mix::Mix;
use crate::{FontError, Performance, RATE, Role, Strike, font_shape};

/// A SoundFont (`.sf2`), ready to play.
#[derive(Debug, Clone)]
pub struct Font {
    font: Arc<SoundFont>,
}

/// Samples between which the player looks at its notes: a third of a
/// millisecond.
const BLOCK: usize = 16;

/// The most by which a note ends early where the same key follows at once, so
/// that the two stay apart. Samples: 15 milliseconds.
const GAP: u64 = 661;

/// What rings past the last bar fades in these many samples: 5 milliseconds.
const FADE: usize = 220;

/// Samples rendered at a time, at most.
const CHUNK: usize = 8_192;

impl Font {
    /// Reads a font.
    ///
    /// # Errors
    /// What is wrong with it, in words. A damaged font never panics.
    pub fn read(bytes: &[u8]) -> Result<Font, FontError> {
        font_shape::check(bytes)?;
        let read = contain(|| SoundFont::new(&mut Cursor::new(bytes)));
        let read = read.ok_or_else(|| FontError("its tables are damaged".to_owned()))?;
        let font = read.map_err(|error| FontError(error.to_string()))?;
        Ok(Font {
            font: Arc::new(font),
        })
    }

    /// Adds a whole performance to a mix.
    ///
    /// # Errors
    /// When the font breaks while it is played.
    pub(crate) fn play(&self, performance: &Performance, mix: &mut Mix) -> Result<(), FontError> {
        let played = contain(|| self.render(performance, mix));
        played.unwrap_or_else(|| Err(FontError("its samples are damaged".to_owned())))
    }

    fn render(&self, performance: &Performance, mix: &mut Mix) -> Result<(), FontError> {
        let mut settings = SynthesizerSettings::new(RATE as i32);
        settings.block_size = BLOCK;
        settings.enable_reverb_and_chorus = false;
        let mut player = Synthesizer::new(&self.font, &settings)
            .map_err(|error| FontError(error.to_string()))?;
        prepare(&mut player, performance);
        let end = mix.frames();
        let mut at = 0;
        for event in events(performance) {
            let until = usize::try_from(event.frame).unwrap_or(end).min(end);
            render(&mut player, at..until, mix);
            at = at.max(until);
            if event.velocity == 0 {
                player.note_off(event.channel, event.key);
            } else {
                player.note_on(event.channel, event.key, event.velocity);
            }
        }
        render(&mut player, at..end, mix);
        mix.fade_out(FADE);
        Ok(())
    }
}

/// Programs, tuning and place of every channel.
fn prepare(player: &mut Synthesizer, performance: &Performance) {
    const CONTROLLER: i32 = 0xB0;
    const PROGRAM: i32 = 0xC0;
    const PAN: i32 = 10;
    for (role, _) in &performance.roles {
        let channel = i32::from(role.channel());
        if let Some(program) = program(performance, *role) {
            for (controller, value) in tuning(performance) {
                player.process_midi_message(channel, CONTROLLER, controller.into(), value.into());
            }
            let program = i32::from(program) - 1;
            player.process_midi_message(channel, PROGRAM, program, 0);
        }
        let pan = if *role == Role::Chords { 44 } else { 64 };
        player.process_midi_message(channel, CONTROLLER, PAN, pan);
    }
}

/// A note's beginning, or with velocity 0 its end; at a frame, ends first.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Event {
    frame: u64,
    begins: bool,
    channel: i32,
    key: i32,
    velocity: i32,
}

fn events(performance: &Performance) -> Vec<Event> {
    let clock = Clock::of(performance);
    let mut events = Vec::new();
    for (role, strikes) in &performance.roles {
        let channel = i32::from(role.channel());
        let mut next = [None; 128];
        for strike in strikes.iter().rev() {
            let Strike {
                onset,
                end,
                key,
                velocity,
                ..
            } = *strike;
            let follows = next[usize::from(key & 127)].replace(onset) == Some(end);
            let (from, to) = (clock.sample(onset, RATE), clock.sample(end, RATE));
            let gap = if follows { GAP.min((to - from) / 4) } else { 0 };
            let event = |frame, begins, velocity| Event {
                frame,
                begins,
                channel,
                key: key.into(),
                velocity,
            };
            events.push(event(from, true, velocity.into()));
            events.push(event(to - gap, false, 0));
        }
    }
    events.sort_unstable();
    events
}

fn render(player: &mut Synthesizer, frames: std::ops::Range<usize>, mix: &mut Mix) {
    let mut left = [0.0f32; CHUNK];
    let mut right = [0.0f32; CHUNK];
    let mut at = frames.start;
    while at < frames.end {
        let count = CHUNK.min(frames.end - at);
        let (left, right) = (&mut left[..count], &mut right[..count]);
        player.render(left, right);
        mix.add_both(at, left, right);
        at += count;
    }
}
