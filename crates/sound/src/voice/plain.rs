//! The built-in voice: wavetables under envelopes, and drums made of noise.
#![allow(clippy::float_arithmetic)]

use std::collections::BTreeMap;

use super::drum_kit::{Drum, kit};
use super::player::{Player, Stem};
use super::timbre::{Timbre, timbre};
use super::tone::{Tone, ToneNote};
use super::wavetable::Waves;
use crate::clock::Clock;
use crate::{FontError, Performance, RATE, Role, Strike, Touch};

/// Every role's notes, ready to be rendered.
#[derive(Debug)]
pub(crate) struct PlainPlayer<'a> {
    clock: Clock,
    performance: &'a Performance,
    /// Frames of silence before the first tick.
    lead: u64,
    at: u64,
    roles: Vec<RolePlayer<'a>>,
    kit: BTreeMap<u8, Drum>,
}

#[derive(Debug)]
struct RolePlayer<'a> {
    role: Role,
    strikes: &'a [Strike],
    next: usize,
    sound: Sound,
}

#[derive(Debug)]
enum Sound {
    Pitched {
        waves: Waves,
        timbre: &'static Timbre,
        tones: Vec<Tone>,
    },
    /// Strokes: the drum, where it begins, how loud.
    Struck(Vec<(u8, u64, f32)>),
}

impl<'a> PlainPlayer<'a> {
    pub(crate) fn new(performance: &'a Performance, lead: u64) -> PlainPlayer<'a> {
        let roles = performance.roles.iter().map(|(role, strikes)| RolePlayer {
            role: *role,
            strikes,
            next: 0,
            sound: match role {
                Role::Drums | Role::Count | Role::Click => Sound::Struck(Vec::new()),
                Role::Line | Role::Chords | Role::Drone | Role::Bass => {
                    let timbre = timbre(*role, performance.program);
                    Sound::Pitched {
                        waves: Waves::new(timbre, performance.tuning),
                        timbre,
                        tones: Vec::new(),
                    }
                }
            },
        });
        PlainPlayer {
            clock: performance.clock(),
            performance,
            lead,
            at: 0,
            roles: roles.collect(),
            kit: kit(),
        }
    }
}

impl Player for PlainPlayer<'_> {
    fn stems(&self) -> Vec<Stem> {
        let stem = |role: &RolePlayer<'_>| {
            let (place, gain) = match role.role {
                Role::Line => (Some(0.08), 1.0),
                Role::Chords => (Some(-0.3), 0.8),
                Role::Drone => (Some(0.0), 0.32),
                Role::Bass => (Some(0.0), 1.15),
                Role::Drums => (None, 2.6),
                Role::Count | Role::Click => (Some(0.0), 0.3),
            };
            Stem {
                role: role.role,
                place,
                gain,
            }
        };
        self.roles.iter().map(stem).collect()
    }

    fn render(&mut self, frames: usize, stems: &mut [Vec<f32>]) -> Result<(), FontError> {
        let (from, until) = (self.at, self.at + frames as u64);
        for (role, buffer) in self.roles.iter_mut().zip(stems) {
            role.begin(&self.clock, self.performance.end, self.lead, until);
            match &mut role.sound {
                Sound::Pitched { tones, .. } => tones.retain_mut(|tone| tone.render(buffer, from)),
                Sound::Struck(strokes) => {
                    let two = role.role == Role::Drums;
                    strokes.retain(|(key, begins, gain)| {
                        let drum = self.kit.get(key);
                        drum.is_some_and(|drum| stroke(drum, two, *begins, *gain, from, buffer))
                    });
                }
            }
        }
        self.at = until;
        Ok(())
    }
}

impl RolePlayer<'_> {
    /// Takes up what begins before a frame.
    fn begin(&mut self, clock: &Clock, end: u32, lead: u64, until: u64) {
        while let Some(strike) = self.strikes.get(self.next) {
            let begins = lead + clock.sample(strike.onset, RATE);
            if begins >= until {
                return;
            }
            match &mut self.sound {
                Sound::Pitched {
                    waves,
                    timbre,
                    tones,
                } => {
                    let before = self.next.checked_sub(1).and_then(|at| self.strikes.get(at));
                    let joins = |before: &Strike| {
                        before.touch == Touch::Slurred && before.end == strike.onset
                    };
                    let played = ToneNote {
                        begins,
                        ends: lead + clock.sample(strike.end, RATE),
                        velocity: strike.velocity,
                        touch: strike.touch,
                        slurred: before.is_some_and(joins),
                        last: strike.end == end,
                    };
                    tones.push(Tone::new(waves.of(strike.key), timbre, &played));
                }
                Sound::Struck(strokes) => {
                    let loud = f32::from(strike.velocity) / 127.0;
                    strokes.push((strike.key, begins, loud * loud));
                }
            }
            self.next += 1;
        }
    }
}

/// Adds a drum's stroke to a stretch; false when it has died away.
fn stroke(drum: &Drum, two: bool, begins: u64, gain: f32, from: u64, buffer: &mut [f32]) -> bool {
    let skipped = from.saturating_sub(begins) as usize;
    let ahead = begins.saturating_sub(from) as usize;
    let sound = drum.sound.get(skipped..).unwrap_or_default();
    if two {
        let (left, right) = (
            gain * (1.0 - drum.place.max(0.0)),
            gain * (1.0 + drum.place.min(0.0)),
        );
        let frames = buffer.chunks_exact_mut(2).skip(ahead);
        for (frame, value) in frames.zip(sound) {
            frame[0] += left * value;
            frame[1] += right * value;
        }
        ahead + sound.len() > buffer.len() / 2
    } else {
        let values = buffer.iter_mut().skip(ahead);
        values
            .zip(sound)
            .for_each(|(sum, value)| *sum += gain * value);
        ahead + sound.len() > buffer.len()
    }
}
