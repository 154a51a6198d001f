//! How loud a sound is, in LUFS (ITU-R BS.1770-4): two filters, mean squares
//! of blocks of 400 milliseconds that overlap by three quarters, two gates.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::PI;

use crate::RATE;

/// Frames of a quarter block.
const QUARTER: usize = RATE as usize / 10;

/// Signals that are measured side by side.
const LANES: usize = 8;

/// The filters' coefficients: b₀ b₁ b₂, then a₁ a₂.
type Biquad = [f32; 5];

/// Measures several signals at once, block by block.
#[derive(Debug)]
pub(crate) struct Meter {
    filters: [Biquad; 2],
    /// Of each row of signals, each filter's memory.
    memory: Vec<[[[f32; LANES]; 2]; 2]>,
    /// Squares summed in the quarter under way.
    sums: Vec<[f32; LANES]>,
    filled: usize,
    /// Of each quarter done, each signal's mean square.
    pub quarters: Vec<Vec<f32>>,
    signals: usize,
}

impl Meter {
    pub(crate) fn new(signals: usize) -> Meter {
        let rows = signals.div_ceil(LANES);
        Meter {
            filters: [shelf(), high_pass()],
            memory: vec![[[[0.0; LANES]; 2]; 2]; rows],
            sums: vec![[0.0; LANES]; rows],
            filled: 0,
            quarters: Vec::new(),
            signals,
        }
    }

    /// Takes in the next values of every signal, as many of each; `value`
    /// gives that of a signal at a frame.
    pub(crate) fn take_in(&mut self, frames: usize, value: impl Fn(usize, usize) -> f32) {
        let mut at = 0;
        while at < frames {
            let stop = frames.min(at + QUARTER - self.filled);
            for (row, (memory, sums)) in self.memory.iter_mut().zip(&mut self.sums).enumerate() {
                let [first, second] = &self.filters;
                for frame in at..stop {
                    let mut lanes = [0.0f32; LANES];
                    for (lane, place) in lanes.iter_mut().enumerate() {
                        *place = value(row * LANES + lane, frame);
                    }
                    filter(first, &mut memory[0], &mut lanes);
                    filter(second, &mut memory[1], &mut lanes);
                    for (sum, value) in sums.iter_mut().zip(lanes) {
                        *sum += value * value;
                    }
                }
                // what dies away in the filters must not slow them
                for value in memory.iter_mut().flatten().flatten() {
                    if value.abs() < 1e-15 {
                        *value = 0.0;
                    }
                }
            }
            self.filled += stop - at;
            if self.filled == QUARTER {
                let means = self.sums.iter().flatten().take(self.signals);
                self.quarters
                    .push(means.map(|sum| sum / QUARTER as f32).collect());
                self.sums.iter_mut().for_each(|sums| *sums = [0.0; LANES]);
                self.filled = 0;
            }
            at = stop;
        }
    }
}

fn filter(filter: &Biquad, memory: &mut [[f32; LANES]; 2], lanes: &mut [f32; LANES]) {
    let [b0, b1, b2, a1, a2] = *filter;
    for lane in 0..LANES {
        let value = lanes[lane];
        let out = b0 * value + memory[0][lane];
        memory[0][lane] = b1 * value - a1 * out + memory[1][lane];
        memory[1][lane] = b2 * value - a2 * out;
        lanes[lane] = out;
    }
}

/// The loudness of mean squares of quarters, over the gates, in LUFS; none
/// where all is silent.
pub(crate) fn loudness(quarters: &[f64]) -> Option<f64> {
    let blocks: Vec<f64> = quarters
        .windows(4)
        .map(|block| block.iter().sum::<f64>() / 4.0)
        .collect();
    let above = |gate: f64| -> Option<f64> {
        let over = blocks.iter().filter(|block| level(**block) > gate);
        let (sum, count) = over.fold((0.0, 0u32), |(sum, count), block| (sum + block, count + 1));
        (count > 0).then(|| sum / f64::from(count))
    };
    let absolute = above(-70.0)?;
    above(level(absolute) - 10.0).map(level)
}

fn level(mean_square: f64) -> f64 {
    -0.691 + 10.0 * mean_square.max(1e-30).log10()
}

/// The first filter, a shelf for the head. Its frequency, gain and quality are
/// those that give the standard's coefficients at 48 kHz.
fn shelf() -> Biquad {
    const HERTZ: f64 = 1_681.974_450_955_533;
    const GAIN: f64 = 3.999_843_853_973_347;
    const QUALITY: f64 = 0.707_175_236_955_419_6;
    let k = (PI * HERTZ / f64::from(RATE)).tan();
    let high = 10f64.powf(GAIN / 20.0);
    let band = high.powf(0.499_666_774_154_541_6);
    let a0 = 1.0 + k / QUALITY + k * k;
    [
        (high + band * k / QUALITY + k * k) / a0,
        2.0 * (k * k - high) / a0,
        (high - band * k / QUALITY + k * k) / a0,
        2.0 * (k * k - 1.0) / a0,
        (1.0 - k / QUALITY + k * k) / a0,
    ]
    .map(|value| value as f32)
}

/// The second filter, which takes the lowest away.
fn high_pass() -> Biquad {
    const HERTZ: f64 = 38.135_470_876_024_44;
    const QUALITY: f64 = 0.500_327_037_323_877_3;
    let k = (PI * HERTZ / f64::from(RATE)).tan();
    let a0 = 1.0 + k / QUALITY + k * k;
    [
        1.0,
        -2.0,
        1.0,
        2.0 * (k * k - 1.0) / a0,
        (1.0 - k / QUALITY + k * k) / a0,
    ]
    .map(|value| value as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// EBU Tech 3341, cases 1 and 2: a sine of 1 kHz in both channels at −23
    /// dBFS is −23 LUFS. The same at 44.1 kHz, and for other frequencies the
    /// standard's curve.
    #[test]
    fn sines_are_as_loud_as_the_standard_says() {
        let check = |hertz: f64, decibels: f64, expected: f64| {
            let mut meter = Meter::new(2);
            let frames = 3 * RATE as usize;
            let gain = 10f64.powf(decibels / 20.0);
            meter.take_in(frames, |signal, frame| {
                let turn = 2.0 * PI * hertz * frame as f64 / f64::from(RATE);
                if signal < 2 {
                    (gain * turn.sin()) as f32
                } else {
                    0.0
                }
            });
            let quarters: Vec<f64> = meter
                .quarters
                .iter()
                .map(|means| means.iter().map(|mean| f64::from(*mean)).sum())
                .collect();
            let found = loudness(&quarters).unwrap();
            assert!((found - expected).abs() < 0.1, "{hertz}: {found}");
        };
        check(1_000.0, -23.0, -23.0);
        check(1_000.0, -33.0, -33.0);
        assert_eq!(loudness(&[0.0; 20]), None);
        assert_eq!(loudness(&[]), None);
    }

    /// Silence between is not counted (the relative gate).
    #[test]
    fn gates() {
        let loud = 0.01;
        let with_pauses: Vec<f64> = (0..100)
            .map(|at| if at < 50 { loud } else { 0.0 })
            .collect();
        let (alone, paused) = (
            loudness(&[loud; 50]).unwrap(),
            loudness(&with_pauses).unwrap(),
        );
        assert!((alone - paused).abs() < 0.2, "{alone} {paused}");
    }
}
