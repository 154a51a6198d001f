//! The drums of the plain voice: noise and short tones, made once.
#![allow(clippy::float_arithmetic)]

use std::collections::BTreeMap;
use std::f32::consts::TAU;

use crate::RATE;
use crate::band::drum;
use crate::click;

/// A drum: what it sounds from its stroke on, and where it stands, −1 left to
/// 1 right.
#[derive(Debug)]
pub(crate) struct Drum {
    pub sound: Vec<f32>,
    pub place: f32,
}

/// A drum of the plain voice, for a small player elsewhere.
#[derive(Debug, Clone, PartialEq)]
pub struct PlainDrum {
    /// Its key (General MIDI).
    pub key: u8,
    /// Where it stands, −1 left to 1 right.
    pub place: f32,
    /// What sounds together.
    pub parts: Vec<DrumPart>,
}

/// A part of a drum's sound. It dies away from its stroke on, and a tone's
/// frequency falls three times as fast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DrumPart {
    /// A tone from one frequency to another, in hertz; loudness, and seconds
    /// to 37 %.
    Tone(f32, f32, f32, f32),
    /// Noise without its lows: how often they are taken away, loudness, and
    /// seconds to 37 %.
    Noise(u8, f32, f32),
}

/// Every drum that a band or a click strikes.
pub(crate) fn kit() -> BTreeMap<u8, Drum> {
    let made = plain_drums()
        .into_iter()
        .map(|PlainDrum { key, place, parts }| {
            let sound = sound(&parts, u64::from(key));
            (key, Drum { sound, place })
        });
    made.collect()
}

/// Every drum of the plain voice.
pub fn plain_drums() -> Vec<PlainDrum> {
    use DrumPart::{Noise, Tone};
    let cymbal = [
        Tone(3_187.0, 3_187.0, 0.05, 0.22),
        Tone(4_361.0, 4_361.0, 0.05, 0.2),
        Tone(5_923.0, 5_923.0, 0.06, 0.16),
        Tone(7_451.0, 7_451.0, 0.05, 0.12),
    ];
    let with =
        |parts: &[DrumPart]| -> Vec<DrumPart> { cymbal.iter().chain(parts).copied().collect() };
    let rows: [(u8, f32, Vec<DrumPart>); 11] = [
        (
            drum::BASS_DRUM,
            0.0,
            vec![
                Tone(130.0, 52.0, 1.0, 0.11),
                Tone(420.0, 190.0, 0.22, 0.018),
                Noise(1, 0.05, 0.008),
            ],
        ),
        (
            drum::SIDE_STICK,
            -0.15,
            vec![
                Tone(1_710.0, 1_710.0, 0.35, 0.012),
                Tone(840.0, 840.0, 0.3, 0.02),
                Noise(1, 0.2, 0.006),
            ],
        ),
        (
            drum::SNARE,
            -0.1,
            vec![
                Tone(210.0, 180.0, 0.4, 0.05),
                Tone(330.0, 300.0, 0.18, 0.04),
                Noise(1, 0.42, 0.075),
            ],
        ),
        (
            drum::CLOSED_HAT,
            0.35,
            vec![Noise(2, 0.3, 0.028), Tone(6_320.0, 6_320.0, 0.05, 0.03)],
        ),
        (
            drum::PEDAL_HAT,
            0.35,
            vec![Noise(2, 0.24, 0.02), Tone(4_210.0, 4_210.0, 0.06, 0.02)],
        ),
        (
            drum::LOW_TOM,
            0.25,
            vec![Tone(120.0, 88.0, 0.8, 0.16), Noise(1, 0.08, 0.012)],
        ),
        (
            drum::HIGH_TOM,
            -0.25,
            vec![Tone(205.0, 155.0, 0.7, 0.13), Noise(1, 0.08, 0.012)],
        ),
        (
            drum::CRASH,
            -0.35,
            with(&[Noise(2, 0.3, 0.5), Noise(1, 0.12, 0.2)]),
        ),
        (
            drum::RIDE,
            0.4,
            with(&[Noise(2, 0.09, 0.2), Tone(2_620.0, 2_620.0, 0.08, 0.05)]),
        ),
        (
            click::HIGH,
            0.0,
            vec![
                Tone(1_760.0, 1_700.0, 0.8, 0.012),
                Tone(4_480.0, 4_400.0, 0.15, 0.005),
            ],
        ),
        (
            click::LOW,
            0.0,
            vec![
                Tone(1_175.0, 1_130.0, 0.8, 0.012),
                Tone(3_010.0, 2_960.0, 0.15, 0.005),
            ],
        ),
    ];
    let drums = rows.into_iter();
    drums
        .map(|(key, place, parts)| PlainDrum { key, place, parts })
        .collect()
}

fn sound(parts: &[DrumPart], seed: u64) -> Vec<f32> {
    let rate = RATE as f32;
    let longest = parts.iter().map(|part| match part {
        DrumPart::Tone(_, _, _, decay) | DrumPart::Noise(_, _, decay) => *decay,
    });
    // 60 dB down
    let seconds = 6.9 * longest.fold(0.0f32, f32::max);
    let mut sound = vec![0.0f32; (seconds * rate) as usize];
    for (number, part) in (1..).zip(parts) {
        match *part {
            DrumPart::Tone(from, to, loud, decay) => {
                let mut turn = 0.0f32;
                for (at, value) in sound.iter_mut().enumerate() {
                    let gone = at as f32 / rate / decay;
                    *value += loud * (TAU * turn).sin() * (-gone).exp();
                    turn = (turn + (to + (from - to) * (-3.0 * gone).exp()) / rate).fract();
                }
            }
            DrumPart::Noise(times, loud, decay) => {
                let mut noise = Noise(seed * 977 + number);
                let mut before = [0.0f32; 2];
                for (at, value) in sound.iter_mut().enumerate() {
                    let mut now = noise.next();
                    for before in before.iter_mut().take(times.into()) {
                        let last = std::mem::replace(before, now);
                        now = 0.5 * (now - last);
                    }
                    *value += loud * now * 2.0 * (-(at as f32) / rate / decay).exp();
                }
            }
        }
    }
    let fade = (0.003 * rate) as usize;
    let length = sound.len();
    for (at, value) in sound[length.saturating_sub(fade)..].iter_mut().enumerate() {
        *value *= 1.0 - at as f32 / fade as f32;
    }
    // half a millisecond of rise, so that no stroke begins with a corner
    for (at, value) in sound.iter_mut().take(22).enumerate() {
        *value *= at as f32 / 22.0;
    }
    sound
}

/// Noise that is the same each time (SplitMix64).
#[derive(Debug)]
struct Noise(u64);

impl Noise {
    /// −1 to 1.
    fn next(&mut self) -> f32 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        (z >> 40) as f32 / (1u32 << 23) as f32 - 1.0
    }
}
