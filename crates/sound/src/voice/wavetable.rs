//! One period of a tone, softly and loudly, made once for each key.
#![allow(clippy::float_arithmetic)]

use std::collections::BTreeMap;
use std::f64::consts::TAU;
use std::sync::Arc;

use super::timbre::{Partials, Timbre};
use crate::{RATE, Tuning};

/// Samples of a period, a power of two.
const LENGTH: usize = 2_048;
/// Bits of a phase that choose between two samples.
pub(crate) const FINE: u32 = 32 - LENGTH.ilog2();

/// Partials above this would fold back. Hertz.
const HIGHEST: f64 = 18_000.0;

/// A period of a tone: its soft and its loud form side by side, of the same
/// energy, and the first again at the end.
#[derive(Debug)]
pub(crate) struct Wave {
    pub values: Vec<[f32; 2]>,
    /// What a phase of 32 bits goes on by in a sample.
    pub step: f64,
}

/// The waves of one timbre, by MIDI key.
#[derive(Debug)]
pub(crate) struct Waves {
    timbre: &'static Timbre,
    tuning: Tuning,
    made: BTreeMap<u8, Arc<Wave>>,
    sine: Vec<f32>,
}

impl Waves {
    pub(crate) fn new(timbre: &'static Timbre, tuning: Tuning) -> Waves {
        let sine = (0..LENGTH).map(|at| (TAU * at as f64 / LENGTH as f64).sin() as f32);
        Waves {
            timbre,
            tuning,
            made: BTreeMap::new(),
            sine: sine.collect(),
        }
    }

    pub(crate) fn of(&mut self, key: u8) -> Arc<Wave> {
        if let Some(wave) = self.made.get(&key) {
            return Arc::clone(wave);
        }
        let frequency = self.tuning.frequency(key);
        let wave = Arc::new(Wave {
            values: self.period(frequency),
            step: frequency / f64::from(RATE) * 2f64.powi(32),
        });
        self.made.insert(key, Arc::clone(&wave));
        wave
    }

    fn period(&self, frequency: f64) -> Vec<[f32; 2]> {
        let mut values = vec![[0.0f32; 2]; LENGTH + 1];
        for (form, loudness) in self.loudness(frequency).into_iter().enumerate() {
            let energy: f32 = loudness.iter().map(|one| one * one).sum();
            let scale = if energy > 0.0 {
                energy.sqrt().recip()
            } else {
                0.0
            };
            for (number, loudness) in (1..).zip(loudness) {
                for (at, value) in values.iter_mut().enumerate() {
                    value[form] += scale * loudness * self.sine[at * number % LENGTH];
                }
            }
        }
        values
    }

    /// How loud each partial is, softly and loudly.
    fn loudness(&self, frequency: f64) -> [Vec<f32>; 2] {
        let room = (HIGHEST / frequency).floor().max(1.0) as usize;
        match self.timbre.partials {
            Partials::Listed(soft, loud) => {
                [soft, loud].map(|listed| listed.iter().take(room).copied().collect())
            }
            Partials::Falling(soft, loud, until) => {
                let count = (f64::from(until) / frequency).floor().max(1.0) as usize;
                [soft, loud].map(|power| {
                    let of = |number: usize| (number as f32).powf(-power);
                    (1..=count.min(room)).map(of).collect()
                })
            }
        }
    }
}
