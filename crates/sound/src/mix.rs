//! Where voices are added up, and then made as loud as they may be.
// A sum of waves is no whole number until it is rounded once, at the end.
#![allow(clippy::float_arithmetic)]

use crate::{Channels, Samples};

/// The loudest sample, one decibel below what 16 bits hold: no player clips
/// it.
const PEAK: f32 = 0.891;

/// A track being added up.
#[derive(Debug)]
pub(crate) struct Mix {
    channels: Channels,
    values: Vec<f32>,
}

impl Mix {
    /// Silence.
    pub(crate) fn new(channels: Channels, frames: usize) -> Mix {
        Mix {
            channels,
            values: vec![0.0; frames * usize::from(channels.count())],
        }
    }

    pub(crate) fn frames(&self) -> usize {
        self.values.len() / usize::from(self.channels.count())
    }

    /// Adds what a voice sounds from a frame on; `place` is −1 left to 1
    /// right. What lies past the end is not heard.
    pub(crate) fn add(&mut self, from: usize, place: f32, voice: impl Iterator<Item = f64>) {
        let (left, right) = (1.0 - place.max(0.0), 1.0 + place.min(0.0));
        match self.channels {
            Channels::Mono => {
                let heard = self.values.iter_mut().skip(from);
                heard
                    .zip(voice)
                    .for_each(|(value, sound)| *value += sound as f32);
            }
            Channels::Stereo => {
                let heard = self.values.chunks_exact_mut(2).skip(from);
                for (frame, sound) in heard.zip(voice) {
                    frame[0] += left * sound as f32;
                    frame[1] += right * sound as f32;
                }
            }
        }
    }

    /// Adds two channels from a frame on; one channel takes their mean.
    pub(crate) fn add_both(&mut self, from: usize, left: &[f32], right: &[f32]) {
        let both = left.iter().zip(right);
        match self.channels {
            Channels::Mono => {
                let heard = self.values.iter_mut().skip(from);
                heard
                    .zip(both)
                    .for_each(|(value, (left, right))| *value += (left + right) / 2.0);
            }
            Channels::Stereo => {
                let heard = self.values.chunks_exact_mut(2).skip(from);
                for (frame, (left, right)) in heard.zip(both) {
                    frame[0] += left;
                    frame[1] += right;
                }
            }
        }
    }

    /// Fades the last frames out, for voices that ring past the end.
    pub(crate) fn fade_out(&mut self, frames: usize) {
        let frames = frames.min(self.frames());
        let count = usize::from(self.channels.count());
        let last = self.values.rchunks_exact_mut(count).take(frames);
        for (number, frame) in last.enumerate() {
            frame
                .iter_mut()
                .for_each(|value| *value *= number as f32 / frames as f32);
        }
    }

    /// Rounds to samples, the loudest at [`PEAK`].
    pub(crate) fn samples(self) -> Samples {
        let loudest = self
            .values
            .iter()
            .fold(0.0f32, |peak, value| peak.max(value.abs()));
        let gain = if loudest > 0.0 && loudest.is_finite() {
            PEAK * f32::from(i16::MAX) / loudest
        } else {
            0.0
        };
        let round = |value: &f32| (gain * value).round() as i16;
        Samples {
            channels: self.channels,
            values: self.values.iter().map(round).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mixed(channels: Channels, voices: &[(usize, f32, &[f64])]) -> Vec<i16> {
        let mut mix = Mix::new(channels, 4);
        for (from, place, voice) in voices {
            mix.add(*from, *place, voice.iter().copied());
        }
        mix.samples().values
    }

    #[test]
    fn voices_add_up_to_the_peak() {
        let peak = 29_195; // 0.891 of 32,767
        assert_eq!(mixed(Channels::Mono, &[]), [0; 4]);
        assert_eq!(
            mixed(
                Channels::Mono,
                &[(1, 0.0, &[1.0, -2.0]), (2, 0.5, &[-2.0, 0.0, 9.0])]
            ),
            [0, peak / 4, -peak, 0].map(|value| if value == peak / 4 { 7_299 } else { value })
        );
        assert_eq!(
            mixed(
                Channels::Stereo,
                &[(0, 0.0, &[1.0]), (1, 1.0, &[1.0]), (2, -0.5, &[1.0])]
            ),
            [peak, peak, 0, peak, peak, 14_598, 0, 0]
        );
        assert_eq!(
            mixed(Channels::Mono, &[(0, 0.0, &[f64::NAN, 1e-9])])[1],
            peak
        );
    }

    #[test]
    fn the_end_fades_to_nothing() {
        let mut mix = Mix::new(Channels::Mono, 5);
        mix.add(0, 0.0, [1.0; 5].into_iter());
        mix.fade_out(3);
        let values = mix.samples().values;
        assert_eq!((values[0], values[1], values[4]), (29_195, 29_195, 0));
        assert!(values.is_sorted_by(|a, b| a >= b));
    }
}
