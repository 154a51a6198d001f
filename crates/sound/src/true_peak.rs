//! The highest peak of the wave between samples (ITU-R BS.1770-4, annex 2:
//! four times as many samples, by a filter of 48 taps).
#![allow(clippy::float_arithmetic)]

use std::f32::consts::PI;

/// Samples to either side that a point between is made of.
const SIDE: usize = 6;
const POINTS: usize = 3;

/// Samples under this part of the highest so far aren't looked at between:
/// their peaks are not half as high again.
const NEAR: f32 = 0.7;

/// The peaks of a track of two channels, as it goes by.
#[derive(Debug)]
pub(crate) struct Peaks {
    filters: [[f32; 2 * SIDE]; POINTS],
    highest: f32,
    /// The last samples, left and right by turns.
    last: Vec<f32>,
}

impl Default for Peaks {
    fn default() -> Peaks {
        let filter = |point: usize| {
            let part = (point + 1) as f32 / (POINTS + 1) as f32;
            std::array::from_fn(|tap| {
                let x = tap as f32 - (SIDE - 1) as f32 - part;
                let window = 0.5 + 0.5 * (PI * x / SIDE as f32).cos();
                let sinc = if x == 0.0 {
                    1.0
                } else {
                    (PI * x).sin() / (PI * x)
                };
                sinc * window
            })
        };
        Peaks {
            filters: std::array::from_fn(filter),
            highest: 0.0,
            last: vec![0.0; 4 * SIDE],
        }
    }
}

impl Peaks {
    /// Takes in the next block, left and right by turns.
    pub(crate) fn take_in(&mut self, block: &[f32]) {
        let mut values = std::mem::take(&mut self.last);
        values.extend_from_slice(block);
        let loudest = block
            .iter()
            .fold(0.0f32, |peak, value| peak.max(value.abs()));
        self.highest = self.highest.max(loudest);
        let near = NEAR * self.highest;
        if loudest > near {
            for at in 2 * (SIDE - 1)..values.len().saturating_sub(2 * SIDE) {
                if values[at].abs() < near && values[at + 2].abs() < near {
                    continue;
                }
                let first = at - 2 * (SIDE - 1);
                for filter in &self.filters {
                    let taps = filter.iter().enumerate();
                    let sum: f32 = taps.map(|(tap, gain)| gain * values[first + 2 * tap]).sum();
                    self.highest = self.highest.max(sum.abs());
                }
            }
        }
        self.last = values.split_off(values.len().saturating_sub(4 * SIDE));
    }

    pub(crate) fn highest(&self) -> f32 {
        self.highest
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sine of a quarter of the rate whose samples all miss its peaks by an
    /// eighth of a turn: they are 3 dB lower.
    #[test]
    fn peaks_between_samples_are_found() {
        let mut peaks = Peaks::default();
        let block: Vec<f32> = (0..4_000)
            .flat_map(|at| {
                let value = 1_000.0 * (PI * (at as f32 / 2.0 + 0.25)).sin();
                [value, 0.0]
            })
            .collect();
        block.chunks(500).for_each(|block| peaks.take_in(block));
        assert!(
            (peaks.highest() - 1_000.0).abs() < 30.0,
            "{}",
            peaks.highest()
        );
    }
}
