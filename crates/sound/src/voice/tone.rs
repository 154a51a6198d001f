//! A note of the plain voice, rendered stretch by stretch.
#![allow(clippy::float_arithmetic)]

use std::f32::consts::{FRAC_PI_2, PI, TAU};
use std::sync::Arc;

use super::timbre::Timbre;
use super::wavetable::{FINE, Wave};
use crate::{RATE, Touch};

/// Samples between which loudness and pitch go in a straight line: 0.7 ms.
const STEP: usize = 32;

/// Vibrato begins after so many seconds, grows for as long again, and has so
/// many beats a second.
const VIBRATO_AFTER: f32 = 0.3;
const VIBRATO_RATE: f32 = 5.2;

/// Seconds in which one slurred note turns into the next.
const JOIN: f32 = 0.014;

/// How much of its length a plain note gives up at its end, a part and at
/// most so many seconds.
const LET_GO: (f32, f32) = (0.1, 0.028);

/// Seconds in which a note that is held to its end falls.
const HELD: f32 = 0.022;

/// A note on its way. Times are frames.
#[derive(Debug)]
pub(crate) struct Tone {
    wave: Arc<Wave>,
    timbre: &'static Timbre,
    phase: u32,
    begins: u64,
    /// Where it begins to fall.
    ends: u64,
    rise: f32,
    fall: f32,
    /// Whether it comes out of a slurred note.
    slurred: bool,
    /// Loudness of its soft and its loud form, as they are now.
    forms: [f32; 2],
    /// What those become in a step.
    fades: [f32; 2],
    /// Loudness at the beginning of the next step.
    level: f32,
}

/// What a note is to be.
#[derive(Debug)]
pub(crate) struct ToneNote {
    pub begins: u64,
    pub ends: u64,
    pub velocity: u8,
    pub touch: Touch,
    /// Whether the note before is slurred into it.
    pub slurred: bool,
    /// Whether the track ends with it.
    pub last: bool,
}

impl Tone {
    pub(crate) fn new(wave: Arc<Wave>, timbre: &'static Timbre, played: &ToneNote) -> Tone {
        let rate = RATE as f32;
        let length = (played.ends - played.begins).max(1) as f32;
        let sustained = timbre.decay == 0.0;
        let let_go = match played.touch {
            Touch::Plain if sustained && !played.last => (LET_GO.0 * length).min(LET_GO.1 * rate),
            Touch::Plain | Touch::Staccato | Touch::Tenuto | Touch::Slurred => 0.0,
        };
        let (rise, fall) = match (played.slurred, played.touch) {
            (true, Touch::Slurred) => (JOIN, JOIN),
            (true, _) => (JOIN, timbre.fall),
            (false, Touch::Slurred) => (timbre.rise, JOIN),
            (false, Touch::Tenuto) if sustained => (timbre.rise, HELD),
            (false, _) => (timbre.rise, timbre.fall),
        };
        let fall = if played.last { fall.max(0.35) } else { fall };
        let loud = f32::from(played.velocity) / 127.0;
        // velocity as amplitude is its square (General MIDI 2; from memory)
        let gain = loud * loud;
        let bright = ((loud - 0.3) / 0.6).clamp(0.0, 1.0);
        let fade = |speed: f32| (-speed * STEP as f32 / rate).exp();
        Tone {
            wave,
            timbre,
            phase: 0,
            begins: played.begins,
            ends: played.ends - let_go as u64,
            rise: (rise * rate).min(length / 3.0).max(1.0),
            fall: (fall * rate).max(1.0),
            slurred: played.slurred,
            forms: [gain * (1.0 - bright), gain * bright],
            fades: [fade(timbre.decay), fade(timbre.decay + timbre.dulls)],
            level: 0.0,
        }
    }

    /// Adds what it sounds to a stretch that begins at a frame; false when it
    /// has died away. A tone gets every stretch from its beginning on.
    pub(crate) fn render(&mut self, stretch: &mut [f32], from: u64) -> bool {
        let until = from + stretch.len() as u64;
        let mut at = from.max(self.begins);
        while at < until {
            let since = at - self.begins;
            if since > 0 && self.level <= 0.0 && at >= self.ends {
                return false;
            }
            // steps are counted from the note's beginning
            let next = (since / STEP as u64 + 1) * STEP as u64 + self.begins;
            let begins_step = since.is_multiple_of(STEP as u64);
            let stop = next.min(until);
            let goal = self.envelope(next);
            let left = (next - at) as f32;
            let slope = (goal - self.level) / left;
            let step = self.step(since);
            let here = &mut stretch[(at - from) as usize..(stop - from) as usize];
            let [soft, loud] = self.forms;
            let mut level = self.level;
            let mut phase = self.phase;
            const SCALE: f32 = 1.0 / (1u32 << FINE) as f32;
            for value in here {
                let place = (phase >> FINE) as usize;
                let part = (phase & ((1 << FINE) - 1)) as f32 * SCALE;
                let (a, b) = (self.wave.values[place], self.wave.values[place + 1]);
                let low = soft * a[0] + loud * a[1];
                let high = soft * b[0] + loud * b[1];
                *value += level * (low + part * (high - low));
                level += slope;
                phase = phase.wrapping_add(step);
            }
            self.phase = phase;
            self.level = if stop == next { goal } else { level };
            if begins_step {
                for (form, fade) in self.forms.iter_mut().zip(self.fades) {
                    *form *= fade;
                }
            }
            at = stop;
        }
        true
    }

    /// How loud it is at a frame, beside its dying away.
    fn envelope(&self, at: u64) -> f32 {
        let since = (at - self.begins) as f32 / self.rise;
        let rise = match () {
            () if since >= 1.0 => 1.0,
            () if self.slurred => (FRAC_PI_2 * since).sin(),
            () => 0.5 - 0.5 * (PI * since).cos(),
        };
        let after = at.saturating_sub(self.ends) as f32 / self.fall;
        let fall = match () {
            () if after <= 0.0 => 1.0,
            () if after >= 1.0 => 0.0,
            () => (FRAC_PI_2 * after).cos(),
        };
        rise * fall
    }

    /// What the phase goes on by, with its vibrato.
    fn step(&self, since: u64) -> u32 {
        let seconds = since as f32 / RATE as f32;
        if self.timbre.vibrato == 0.0 || seconds < VIBRATO_AFTER {
            return self.wave.step as u32;
        }
        let grown = ((seconds - VIBRATO_AFTER) / VIBRATO_AFTER).min(1.0);
        let swing = (TAU * VIBRATO_RATE * (seconds - VIBRATO_AFTER)).sin();
        let cents = grown * self.timbre.vibrato * swing;
        // a cent is a 1,200th of an octave; so few of them go in a line
        (self.wave.step * (1.0 + f64::from(cents) * 0.000_577_789)) as u32
    }
}
