//! The built-in voice: a few partials under a soft envelope, and a click.
// Waves are made of sines.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::{PI, TAU};

use crate::click::HIGH;
use crate::clock::Clock;
use crate::mix::Mix;
use crate::{Performance, RATE, Role, Strike, Tuning};

/// How a role sounds.
#[derive(Debug)]
struct Timbre {
    /// Loudness of the fundamental and the partials over it.
    partials: &'static [f64],
    /// How much it dies away in a second: 0 not at all, 1 to 37 %.
    decay: f64,
    gain: f64,
    /// −1 left to 1 right.
    place: f32,
}

const LINE: Timbre = Timbre {
    partials: &[1.0, 0.42, 0.28, 0.12, 0.07, 0.03],
    decay: 0.0,
    gain: 0.42,
    place: 0.0,
};
const CHORDS: Timbre = Timbre {
    partials: &[1.0, 0.3, 0.12, 0.04],
    decay: 0.9,
    gain: 0.16,
    place: -0.35,
};
const BASS: Timbre = Timbre {
    partials: &[1.0, 0.6, 0.35, 0.2, 0.08],
    decay: 0.7,
    gain: 0.3,
    place: 0.0,
};

/// A note's rise, short enough to be heard on its onset, and its fall before
/// its end, which is what keeps repeated notes apart. Seconds.
const RISE: f64 = 0.004;
const FALL: f64 = 0.018;

/// Partials above this would fold back. Hertz.
const HIGHEST: f64 = 18_000.0;

/// Hertz of the click on the bar line and on the beats, its loudness, and how
/// fast it is gone: seconds to 37 %, and to silence.
const CLICK_HIGH: f64 = 1_760.0;
const CLICK_LOW: f64 = 1_175.0;
const CLICK_GAIN: f64 = 0.4;
const CLICK_DECAY: f64 = 0.008;
const CLICK_LENGTH: f64 = 0.06;

/// Adds a whole performance to a mix.
pub(crate) fn play(performance: &Performance, mix: &mut Mix) {
    let clock = Clock::of(performance);
    for (role, strikes) in &performance.roles {
        for strike in strikes {
            let frame = |tick| clock.sample(tick, RATE) as usize;
            let (from, to) = (frame(strike.onset), frame(strike.end));
            match role {
                Role::Line => note(strike, &LINE, performance.tuning, from..to, mix),
                Role::Chords | Role::Drone => {
                    note(strike, &CHORDS, performance.tuning, from..to, mix)
                }
                Role::Bass => note(strike, &BASS, performance.tuning, from..to, mix),
                Role::Drums | Role::Click => click(strike, from, mix),
            }
        }
    }
}

fn note(
    strike: &Strike,
    timbre: &Timbre,
    tuning: Tuning,
    frames: std::ops::Range<usize>,
    mix: &mut Mix,
) {
    let length = frames.len();
    let rate = f64::from(RATE);
    let frequency = tuning.frequency(strike.key);
    let whole: f64 = timbre.partials.iter().sum();
    let gain = timbre.gain * loudness(strike) / whole;
    let mut partials: Vec<(f64, Wave)> = timbre
        .partials
        .iter()
        .zip(1u32..)
        .map(|(loudness, number)| (loudness, frequency * f64::from(number)))
        .filter(|(_, frequency)| *frequency < HIGHEST)
        .map(|(loudness, frequency)| (gain * loudness, Wave::of(frequency)))
        .collect();
    let fade = (-timbre.decay / rate).exp();
    let rise = (RISE * rate).min(length as f64 / 4.0).max(1.0);
    let fall = (FALL * rate).min(length as f64 / 4.0).max(1.0);
    let mut level = 1.0;
    let voice = (0..length).map(|frame| {
        let (since, left) = (frame as f64 / rise, (length - frame) as f64 / fall);
        let envelope = level * swell(since) * swell(left);
        level *= fade;
        let sum: f64 = partials
            .iter_mut()
            .map(|(gain, wave)| *gain * wave.next())
            .sum();
        envelope * sum
    });
    mix.add(frames.start, timbre.place, voice);
}

fn click(strike: &Strike, from: usize, mix: &mut Mix) {
    let rate = f64::from(RATE);
    let high = strike.key == HIGH;
    let mut wave = Wave::of(if high { CLICK_HIGH } else { CLICK_LOW });
    let fade = (-1.0 / (CLICK_DECAY * rate)).exp();
    let mut level = CLICK_GAIN * loudness(strike);
    let voice = (0..(CLICK_LENGTH * rate) as usize).map(|_| {
        let sound = level * wave.next();
        level *= fade;
        sound
    });
    mix.add(from, 0.0, voice);
}

/// Velocity as amplitude, 0 to 1: its square, which is 40 log₁₀ of it in
/// decibels (the curve General MIDI 2 recommends; from memory).
fn loudness(strike: &Strike) -> f64 {
    (f64::from(strike.velocity) / 127.0).powi(2)
}

/// From 0 at 0 to 1 at 1 and past it, without a corner.
fn swell(at: f64) -> f64 {
    if at < 1.0 {
        0.5 - 0.5 * (PI * at).cos()
    } else {
        1.0
    }
}

/// A sine turned on step by step, from 0.
#[derive(Debug)]
struct Wave {
    place: (f64, f64),
    step: (f64, f64),
}

impl Wave {
    fn of(frequency: f64) -> Wave {
        let angle = TAU * frequency / f64::from(RATE);
        Wave {
            place: (1.0, 0.0),
            step: (angle.cos(), angle.sin()),
        }
    }

    fn next(&mut self) -> f64 {
        let ((x, y), (cos, sin)) = (self.place, self.step);
        self.place = (x * cos - y * sin, x * sin + y * cos);
        y
    }
}
