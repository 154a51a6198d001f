//! A SoundFont, read and played by a library, with its panics contained.
// The player's samples are floats.
#![allow(clippy::float_arithmetic)]

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, Weak};

use rustysynth::{SoundFont, Synthesizer, SynthesizerSettings};

use super::font_file::{FontFile, FontSource};
use super::font_tables::{self, DRUMS};
use super::player::{Player, Stem};
use crate::contain::contain;
use crate::midi::{place, program, tuning};
use crate::{FontError, Performance, RATE, Role, Strike};

/// A SoundFont (`.sf2`), ready to play: its sounds are read when they are
/// wanted, and kept as long as somebody plays them.
#[derive(Debug, Clone)]
pub struct Font {
    kept: Arc<Mutex<OpenFont>>,
}

#[derive(Debug)]
struct OpenFont {
    file: FontFile,
    presets: BTreeMap<usize, Weak<SoundFont>>,
}

/// Samples between which the player looks at its notes: a millisecond and a
/// half. It works out envelopes once a block, which takes longer than the
/// samples of a short one.
const BLOCK: usize = 64;

/// The most by which a note ends early where the same key follows at once, so
/// that the two stay apart. Samples: 15 milliseconds.
const GAP: u64 = 661;

/// Under this nothing is heard: a third of what 16 bits can say.
const SILENCE: f32 = 1e-5;

/// What a player's samples are raised by, so that stems use their 16 bits.
const LOUD: f32 = 3.0;

impl Font {
    /// Opens a font.
    ///
    /// # Errors
    /// What is wrong with it, in words. A damaged font never panics.
    pub fn read(source: impl FontSource + 'static) -> Result<Font, FontError> {
        let kept = OpenFont {
            file: FontFile::read(Box::new(source))?,
            presets: BTreeMap::new(),
        };
        Ok(Font {
            kept: Arc::new(Mutex::new(kept)),
        })
    }

    /// The sound of a General MIDI program, or without one the drums: a font
    /// by itself. Where it has none, another stands in.
    fn sound(&self, program: Option<u8>) -> Result<Arc<SoundFont>, FontError> {
        let mut kept = self.kept();
        let tables = &kept.file.tables;
        let preset = match program {
            Some(program) => tables.preset(0, u16::from(program) - 1),
            None => tables.preset(DRUMS, 0),
        };
        let preset = preset.unwrap_or_else(|| tables.usual());
        if let Some(sound) = kept.presets.get(&preset).and_then(Weak::upgrade) {
            return Ok(sound);
        }
        let bytes = kept.file.cut(preset)?;
        let read = contain(|| SoundFont::new(&mut bytes.as_slice()));
        let read = read.ok_or_else(font_tables::damaged)?;
        let sound = Arc::new(read.map_err(|error| FontError(error.to_string()))?);
        kept.presets.insert(preset, Arc::downgrade(&sound));
        Ok(sound)
    }

    fn kept(&self) -> MutexGuard<'_, OpenFont> {
        // nothing is left half done in there
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What a performance wants that the font lacks, in words: an instrument
    /// (another stands in for it), or drums (none are heard, or strange ones).
    pub fn lacks(&self, performance: &Performance) -> Vec<String> {
        let kept = self.kept();
        let tables = &kept.file.tables;
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
                Some(number) if tables.preset(0, u16::from(number) - 1).is_none() => {
                    format!(
                        "the SoundFont has no sound for {who} (General MIDI {number}); another of its sounds stands in"
                    )
                }
                None if !tables.has_bank(DRUMS) => {
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
            let sound = font.sound(program(performance, *role))?;
            let made = contain(|| {
                let mut player = Synthesizer::new(&sound, &settings)
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
    let clock = performance.clock();
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
