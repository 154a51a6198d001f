//! What the samples before one say of it: a linear prediction of up to eight.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::PI;

/// Samples that a prediction looks back at.
const ORDER: usize = 8;
/// Bits of a prediction's factors.
pub(crate) const PRECISION: u32 = 13;

/// Finds predictions of blocks; keeps what those of one length share.
#[derive(Debug, Default)]
pub(crate) struct Predictor {
    window: Vec<f64>,
    windowed: Vec<f64>,
}

impl Predictor {
    /// The best prediction of as many samples as pay.
    pub(crate) fn of(&mut self, samples: &[i32]) -> Option<Prediction> {
        let length = samples.len();
        if length < 4 * ORDER {
            return None;
        }
        if self.window.len() != length {
            self.window = (0..length).map(|at| window(at, length)).collect();
        }
        self.windowed.clear();
        let windowed = samples.iter().zip(&self.window);
        self.windowed
            .extend(windowed.map(|(sample, window)| f64::from(*sample) * window));
        let sums = correlation(&self.windowed);
        Prediction::of(&sums, length)
    }
}

/// Whole factors, and how far their sum is shifted.
#[derive(Debug)]
pub(crate) struct Prediction {
    pub factors: Vec<i32>,
    pub shift: u32,
}

impl Prediction {
    /// By Levinson's recursion; of all orders the one that promises the fewest
    /// bits.
    fn of(sums: &[f64; ORDER + 1], length: usize) -> Option<Prediction> {
        let mut error = sums[0];
        if error <= 0.0 {
            return None;
        }
        let mut factors = [0.0; ORDER];
        let mut best: Option<(f64, usize, [f64; ORDER])> = None;
        for order in 0..ORDER {
            let known: f64 = (0..order).map(|at| factors[at] * sums[order - at]).sum();
            let reflection = (sums[order + 1] - known) / error;
            let before = factors;
            factors[order] = reflection;
            for at in 0..order {
                factors[at] -= reflection * before[order - 1 - at];
            }
            error *= 1.0 - reflection * reflection;
            if error <= 0.0 || !error.is_finite() {
                break;
            }
            let each = (0.5 * (error / length as f64).log2()).max(0.0);
            let bits = each * (length - order) as f64 + f64::from(PRECISION) * (order + 1) as f64;
            if best.is_none_or(|(least, ..)| bits < least) {
                best = Some((bits, order + 1, factors));
            }
        }
        let (_, order, factors) = best?;
        Prediction::whole(&factors[..order])
    }

    /// Rounds factors; what is lost of one goes to the next.
    fn whole(factors: &[f64]) -> Option<Prediction> {
        let largest = factors
            .iter()
            .fold(0.0f64, |most, factor| most.max(factor.abs()));
        if largest <= 0.0 || !largest.is_finite() {
            return None;
        }
        let room = PRECISION as i32 - 2 - largest.log2().floor() as i32;
        let shift = u32::try_from(room.min(15)).ok()?;
        let scale = f64::from(1u32 << shift);
        let most = (1i32 << (PRECISION - 1)) - 1;
        let mut lost = 0.0;
        let factors = factors.iter().map(|factor| {
            lost += factor * scale;
            let rounded = (lost.round() as i32).clamp(-most - 1, most);
            lost -= f64::from(rounded);
            rounded
        });
        Some(Prediction {
            factors: factors.collect(),
            shift,
        })
    }

    /// What it leaves over; none where that is out of reach.
    pub(crate) fn leaves(&self, samples: &[i32], left_over: &mut Vec<i32>) -> Option<()> {
        let order = self.factors.len();
        let mut factors = [0i64; ORDER];
        for (place, factor) in factors.iter_mut().rev().zip(&self.factors) {
            *place = i64::from(*factor);
        }
        left_over.clear();
        left_over.reserve(samples.len());
        let shift = self.shift;
        let mut push = |value: i64| -> Option<()> {
            left_over.push(i32::try_from(value).ok()?);
            Some(())
        };
        for at in order..samples.len().min(ORDER) {
            let past = self.factors.iter().zip(samples[..at].iter().rev());
            let sum: i64 = past
                .map(|(factor, sample)| i64::from(*factor) * i64::from(*sample))
                .sum();
            push(i64::from(samples[at]) - (sum >> shift))?;
        }
        for window in samples.windows(ORDER + 1) {
            let past = factors.iter().zip(window);
            let sum: i64 = past
                .map(|(factor, sample)| factor * i64::from(*sample))
                .sum();
            push(i64::from(window[ORDER]) - (sum >> shift))?;
        }
        Some(())
    }
}

/// Flat in the middle, a quarter of it rising and falling like a cosine.
fn window(at: usize, length: usize) -> f64 {
    let side = length as f64 / 4.0;
    let near = (at.min(length - 1 - at)) as f64 + 0.5;
    if near >= side {
        1.0
    } else {
        0.5 - 0.5 * (PI * near / side).cos()
    }
}

/// How alike samples are to those so many before them.
fn correlation(samples: &[f64]) -> [f64; ORDER + 1] {
    let mut sums = [0.0; ORDER + 1];
    let whole = samples.len().saturating_sub(ORDER);
    for window in samples.windows(ORDER + 1) {
        let now = window[0];
        for (sum, later) in sums.iter_mut().zip(window) {
            *sum += now * later;
        }
    }
    for at in whole..samples.len() {
        for (lag, sum) in sums.iter_mut().enumerate() {
            *sum += samples[at] * samples.get(at + lag).copied().unwrap_or_default();
        }
    }
    sums
}
