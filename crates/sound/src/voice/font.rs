//! A SoundFont, read and played by a library, with its panics contained.
// The player's samples are floats.
#![allow(clippy::float_arithmetic)]

use std::io::Cursor;
use std::sync::Arc;

use rustysynth::{SoundFont, Synthesizer, SynthesizerSettings};

use super::{Player, Stem, font_shape};
use crate::clock::Clock;
use crate::contain::contain;
use crate::midi::{place, program, tuning};
use crate::{FontError, Performance, RATE, Role, Strike};

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

/// Under this nothing is heard: a third of what 16 bits can say.
const SILENCE: f32 = 1e-5;

/// What a player's samples are raised by, so that stems use their 16 bits.
const LOUD: f32 = 3.0;

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

    /// What a performance wants that the font lacks, in words: an instrument
    /// (another stands in for it), or drums (none are heard, or strange ones).
    pub fn lacks(&self, performance: &Performance) -> Vec<String> {
        const DRUMS: i32 = 128;
        let has = |bank: i32, program: Option<i32>| {
            self.font.get_presets().iter().any(|preset| {
                preset.get_bank_number() == bank
                    && program.is_none_or(|program| preset.get_patch_number() == program)
            })
        };
        let mut lacking = Vec::new();
        for (role, _) in &performance.roles {
            let who = match role {
                Role::Line => performance.part.as_str(),
                Role::Chords => "piano",
                Role::Drone => "reed organ",
                Role::Bass => "bass",
                Role::Drums | Role::Count | Role::Click => "drums and the click",
            };
            let words = match program(performance, *role) {
                Some(number) if !has(0, Some(i32::from(number) - 1)) => {
                    format!(
                        "the SoundFont has no sound for {who} (General MIDI {number}); another of its sounds stands in"
                    )
                }
                None if !has(DRUMS, None) => {
                    format!("the SoundFont has no drums: {who} have a sound of another kind")
                }
                _ => continue,
            };
            if !lacking.contains(&words) {
                lacking.push(words);
            }
        }
        lacking
    }
}

/// A performance being played by a font: a player for each role.
pub(crate) struct FontPlayer {
    roles: Vec<RolePlayer>,
    at: u64,
    gain: f32,
}

struct RolePlayer {
    role: Role,
    player: Synthesizer,
    events: Vec<Event>,
    next: usize,
    /// Whether all has died away.
    silent: bool,
}

impl FontPlayer {
    /// Readies a font; `lead` are frames of silence before the first tick.
    ///
    /// # Errors
    /// When the font breaks.
    pub(crate) fn new(
        font: &Font,
        performance: &Performance,
        lead: u64,
    ) -> Result<FontPlayer, FontError> {
        let mut settings = SynthesizerSettings::new(RATE as i32);
        settings.block_size = BLOCK;
        settings.enable_reverb_and_chorus = false;
        let roles = performance.roles.iter().map(|(role, strikes)| {
            let made = contain(|| {
                let mut player = Synthesizer::new(&font.font, &settings)
                    .map_err(|error| FontError(error.to_string()))?;
                prepare(&mut player, performance, *role);
                Ok(player)
            });
            Ok(RolePlayer {
                role: *role,
                player: made.unwrap_or_else(|| Err(damaged()))?,
                events: events(performance, *role, strikes, lead),
                next: 0,
                silent: true,
            })
        });
        Ok(FontPlayer {
            roles: roles.collect::<Result<_, FontError>>()?,
            at: 0,
            gain: 1.0,
        })
    }
}

impl Player for FontPlayer {
    fn stems(&self) -> Vec<Stem> {
        let stem = |role: &RolePlayer| Stem {
            role: role.role,
            place: None,
            gain: self.gain,
        };
        self.roles.iter().map(stem).collect()
    }

    fn render(&mut self, frames: usize, stems: &mut [Vec<f32>]) -> Result<(), FontError> {
        let from = self.at;
        for (role, buffer) in self.roles.iter_mut().zip(stems) {
            contain(|| role.render(from, frames, buffer)).ok_or_else(damaged)?;
        }
        self.at += frames as u64;
        Ok(())
    }
}

impl RolePlayer {
    fn render(&mut self, from: u64, frames: usize, buffer: &mut [f32]) {
        // nothing has been struck and nothing sounds
        let until = from + frames as u64;
        let next = self
            .events
            .get(self.next)
            .map_or(u64::MAX, |event| event.frame);
        if next >= until && self.silent {
            return;
        }
        let mut left = vec![0.0f32; frames];
        let mut right = vec![0.0f32; frames];
        let mut at = 0;
        while let Some(event) = self
            .events
            .get(self.next)
            .filter(|event| event.frame < until)
        {
            let stop = (event.frame.max(from) - from) as usize;
            self.player
                .render(&mut left[at..stop], &mut right[at..stop]);
            at = stop;
            if event.velocity == 0 {
                self.player.note_off(event.channel, event.key);
            } else {
                self.player
                    .note_on(event.channel, event.key, event.velocity);
            }
            self.next += 1;
        }
        self.player.render(&mut left[at..], &mut right[at..]);
        let heard = |values: &[f32]| values.iter().any(|value| value.abs() > SILENCE);
        self.silent = !heard(&left) && !heard(&right);
        for ((frame, left), right) in buffer.chunks_exact_mut(2).zip(left).zip(right) {
            frame[0] = LOUD * left;
            frame[1] = LOUD * right;
        }
    }
}

impl std::fmt::Debug for FontPlayer {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("FontPlayer")
            .field("at", &self.at)
            .finish_non_exhaustive()
    }
}

fn damaged() -> FontError {
    FontError("its samples are damaged".to_owned())
}

/// Program, tuning, volume and place of a role's channel.
fn prepare(player: &mut Synthesizer, performance: &Performance, role: Role) {
    const CONTROLLER: i32 = 0xB0;
    const PROGRAM: i32 = 0xC0;
    let channel = i32::from(role.channel());
    if let Some(program) = program(performance, role) {
        for (controller, value) in tuning(performance) {
            player.process_midi_message(channel, CONTROLLER, controller.into(), value.into());
        }
        let program = i32::from(program) - 1;
        player.process_midi_message(channel, PROGRAM, program, 0);
    }
    for (controller, value) in place(role, 100) {
        player.process_midi_message(channel, CONTROLLER, controller.into(), value.into());
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

fn events(performance: &Performance, role: Role, strikes: &[Strike], lead: u64) -> Vec<Event> {
    let clock = Clock::of(performance);
    let mut events = Vec::with_capacity(2 * strikes.len());
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
        let sample = |tick| lead + clock.sample(tick, RATE);
        let (from, to) = (sample(onset), sample(end));
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
    events.sort_unstable();
    events
}
