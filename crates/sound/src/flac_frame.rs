//! A block of samples as a FLAC frame (RFC 9639): two channels, each by a
//! linear prediction of up to eight samples or, where that is shorter, as it
//! is, and what is left over in Rice codes.
//!
//! The library that did this took several times as long: built for every
//! processor, it calls the system's library for each multiplication that is
//! also an addition.
#![allow(clippy::float_arithmetic)]

use std::f64::consts::PI;

use crate::bits::Bits;

/// Samples that a prediction looks back at.
const ORDER: usize = 8;
/// Bits of a prediction's factors.
const PRECISION: u32 = 13;
/// A block is parted into two to this many pieces at most.
const PARTS: u32 = 5;
/// The largest parameter that four bits say.
const MOST_RICE: u32 = 14;

/// How a frame's second channel is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Pair {
    /// Left and right.
    Apart,
    /// The middle of both and their difference.
    Middle,
}

/// What all blocks of one length share.
#[derive(Debug)]
pub(crate) struct FrameWriter {
    window: Vec<f64>,
    channels: [Vec<i32>; 2],
    windowed: Vec<f64>,
    left_over: Vec<i32>,
}

impl FrameWriter {
    pub(crate) fn new() -> FrameWriter {
        FrameWriter {
            window: Vec::new(),
            channels: [Vec::new(), Vec::new()],
            windowed: Vec::new(),
            left_over: Vec::new(),
        }
    }

    /// Writes a block of 16 bits, left and right by turns, as the frame of
    /// that number.
    pub(crate) fn write(&mut self, block: &[i16], number: u32, bits: &mut Bits) {
        let length = block.len() / 2;
        let [first, second] = &mut self.channels;
        first.clear();
        second.clear();
        for frame in block.chunks_exact(2) {
            first.push(frame[0].into());
            second.push(frame[1].into());
        }
        let pair = pair(first, second);
        if pair == Pair::Middle {
            for (left, right) in first.iter_mut().zip(second.iter_mut()) {
                (*left, *right) = ((*left + *right) >> 1, *left - *right);
            }
        }
        head(length, pair, number, bits);
        let channels = std::mem::take(&mut self.channels);
        for (channel, width) in channels
            .iter()
            .zip([16, if pair == Pair::Middle { 17 } else { 16 }])
        {
            self.subframe(channel, width, bits);
        }
        self.channels = channels;
        bits.align();
        let sum = bits.crc_16();
        bits.put(sum.into(), 16);
    }

    fn subframe(&mut self, samples: &[i32], width: u32, bits: &mut Bits) {
        let first = samples.first().copied().unwrap_or_default();
        if samples.iter().all(|sample| *sample == first) {
            bits.put(0, 8);
            bits.put_signed(first, width);
            return;
        }
        let plan = self.prediction(samples).and_then(|prediction| {
            predict(samples, &prediction, &mut self.left_over)?;
            let order = prediction.factors.len();
            let rice = Rice::of(&self.left_over, samples.len(), order);
            Some((prediction, rice))
        });
        let verbatim = width as usize * samples.len();
        match plan {
            Some((prediction, rice)) if (rice.bits as usize) < verbatim => {
                let order = prediction.factors.len();
                bits.put(u64::from(0b0100_0000 | (order as u32 - 1) << 1), 8);
                for sample in &samples[..order] {
                    bits.put_signed(*sample, width);
                }
                bits.put(u64::from(PRECISION - 1), 4);
                bits.put_signed(prediction.shift as i32, 5);
                for factor in &prediction.factors {
                    bits.put_signed(*factor, PRECISION);
                }
                rice.write(&self.left_over, samples.len(), order, bits);
            }
            _ => {
                bits.put(0b0000_0010, 8);
                samples
                    .iter()
                    .for_each(|sample| bits.put_signed(*sample, width));
            }
        }
    }

    /// The best prediction of as many samples as pay.
    fn prediction(&mut self, samples: &[i32]) -> Option<Prediction> {
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

/// A frame's head, and what guards it.
fn head(length: usize, pair: Pair, number: u32, bits: &mut Bits) {
    bits.begin();
    // mark, blocks of one length; the length in 16 bits at the end, 44.1 kHz
    bits.put(0b1111_1111_1111_1000, 16);
    bits.put(0b0111_1001, 8);
    let channels = match pair {
        Pair::Apart => 0b0001,
        Pair::Middle => 0b1010,
    };
    // 16 bits a sample
    bits.put(channels << 4 | 0b1000, 8);
    coded_number(number, bits);
    bits.put(length as u64 - 1, 16);
    let sum = bits.crc_8();
    bits.put(sum.into(), 8);
}

/// A number as UTF-8 codes one, which goes up to 31 bits here.
fn coded_number(number: u32, bits: &mut Bits) {
    if number < 0x80 {
        bits.put(number.into(), 8);
        return;
    }
    let more = (2..=6)
        .find(|bytes| number < 1 << (5 * bytes + 1))
        .unwrap_or(6);
    let first = 6 * (more - 1);
    let mark = 0xFFu32 << (8 - more) & 0xFF;
    bits.put(u64::from(mark | number >> first), 8);
    for byte in (0..more - 1).rev() {
        bits.put(u64::from(0x80 | number >> (6 * byte) & 0x3F), 8);
    }
}

/// Which pair leaves less over, by second differences.
fn pair(left: &[i32], right: &[i32]) -> Pair {
    let [mut apart, mut middle] = [0u64; 2];
    for (left, right) in left.windows(3).zip(right.windows(3)) {
        let second = |of: &[i32]| of[2] - 2 * of[1] + of[0];
        let (left, right) = (second(left), second(right));
        apart += u64::from(left.unsigned_abs()) + u64::from(right.unsigned_abs());
        middle += u64::from(((left + right) >> 1).unsigned_abs())
            + u64::from((left - right).unsigned_abs());
    }
    if middle < apart {
        Pair::Middle
    } else {
        Pair::Apart
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

/// Whole factors, and how far their sum is shifted.
#[derive(Debug)]
struct Prediction {
    factors: Vec<i32>,
    shift: u32,
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
}

/// What a prediction leaves over; none where that is out of reach.
fn predict(samples: &[i32], prediction: &Prediction, left_over: &mut Vec<i32>) -> Option<()> {
    let order = prediction.factors.len();
    let mut factors = [0i64; ORDER];
    for (place, factor) in factors.iter_mut().rev().zip(&prediction.factors) {
        *place = i64::from(*factor);
    }
    left_over.clear();
    left_over.reserve(samples.len());
    let shift = prediction.shift;
    let mut push = |value: i64| -> Option<()> {
        left_over.push(i32::try_from(value).ok()?);
        Some(())
    };
    for at in order..samples.len().min(ORDER) {
        let past = prediction.factors.iter().zip(samples[..at].iter().rev());
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

/// How what is left over is coded: in how many pieces, each with its
/// parameter.
#[derive(Debug)]
struct Rice {
    order: u32,
    parameters: Vec<u32>,
    /// Bits of it all.
    bits: u64,
}

impl Rice {
    fn of(left_over: &[i32], length: usize, skipped: usize) -> Rice {
        let finest = (0..=PARTS)
            .rev()
            .find(|order| length.is_multiple_of(1 << order) && length >> order > skipped)
            .unwrap_or(0);
        let mut sums: Vec<u64> = pieces(left_over, length, skipped, finest)
            .map(|piece| piece.iter().map(|value| u64::from(folded(*value))).sum())
            .collect();
        let mut best: Option<Rice> = None;
        for order in (0..=finest).rev() {
            let mut bits = 10;
            let parameters = sums.iter().enumerate().map(|(place, sum)| {
                let count = (length >> order) as u64 - if place == 0 { skipped as u64 } else { 0 };
                let (parameter, cost) = parameter(*sum, count);
                bits += cost + 4;
                parameter
            });
            let parameters: Vec<u32> = parameters.collect();
            if best.as_ref().is_none_or(|best| bits < best.bits) {
                best = Some(Rice {
                    order,
                    parameters,
                    bits,
                });
            }
            sums = sums.chunks(2).map(|pair| pair.iter().sum()).collect();
        }
        best.unwrap_or(Rice {
            order: 0,
            parameters: vec![0],
            bits: u64::MAX,
        })
    }

    fn write(&self, left_over: &[i32], length: usize, skipped: usize, bits: &mut Bits) {
        bits.put(0, 2);
        bits.put(self.order.into(), 4);
        let pieces = pieces(left_over, length, skipped, self.order);
        for (piece, parameter) in pieces.zip(&self.parameters) {
            bits.put(u64::from(*parameter), 4);
            for value in piece {
                let value = folded(*value);
                bits.put_zeros(value >> parameter);
                let low = u64::from(value) & ((1 << parameter) - 1);
                bits.put(1 << parameter | low, parameter + 1);
            }
        }
    }
}

/// The pieces of a block, the first without what a prediction begins from.
fn pieces(
    left_over: &[i32],
    length: usize,
    skipped: usize,
    order: u32,
) -> impl Iterator<Item = &[i32]> {
    let each = length >> order;
    (0..1usize << order).map(move |place| {
        let from = (place * each).saturating_sub(skipped);
        let to = ((place + 1) * each - skipped).min(left_over.len());
        left_over.get(from..to).unwrap_or_default()
    })
}

/// The parameter that is best for values of a sum, and the bits it comes to.
fn parameter(sum: u64, count: u64) -> (u32, u64) {
    let mean = sum.checked_div(count).unwrap_or_default();
    let near = mean.max(1).ilog2();
    let bits = |parameter: u32| count * u64::from(parameter + 1) + (sum >> parameter);
    let around = near.saturating_sub(1)..=near + 1;
    let costs = around
        .map(|parameter| parameter.min(MOST_RICE))
        .map(|one| (bits(one), one));
    costs
        .min()
        .map_or((0, u64::MAX), |(bits, parameter)| (parameter, bits))
}

/// 0, −1, 1, −2, 2 … as 0, 1, 2, 3, 4 …
fn folded(value: i32) -> u32 {
    (value << 1 ^ value >> 31).cast_unsigned()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// A file of one stream of blocks, its description without sizes or sum.
    fn file(samples: &[i16], block: usize) -> Vec<u8> {
        let mut description = Bits::default();
        for (value, count) in [(block as u64, 16), (block as u64, 16), (0, 24), (0, 24)] {
            description.put(value, count);
        }
        description.put(44_100, 20);
        description.put(1, 3);
        description.put(15, 5);
        description.put(0, 4);
        description.put(samples.len() as u64 / 2, 32);
        let mut bytes = b"fLaC\x80\0\0\x22".to_vec();
        bytes.extend(description.bytes());
        bytes.extend([0; 16]);
        let (mut writer, mut bits) = (FrameWriter::new(), Bits::default());
        for (number, block) in (0..).zip(samples.chunks(2 * block)) {
            writer.write(block, number, &mut bits);
            bytes.extend(bits.bytes());
        }
        bytes
    }

    fn check(samples: &[i16], block: usize) {
        let bytes = file(samples, block);
        let mut reader = claxon::FlacReader::new(bytes.as_slice()).unwrap();
        let read: Vec<i16> = reader
            .samples()
            .map(|value| value.unwrap() as i16)
            .collect();
        assert!(read == samples, "{} samples", samples.len());
    }

    #[test]
    fn whatever_there_is_comes_back() {
        check(&[0; 400], 96);
        check(&[i16::MIN; 400], 96);
        let loud: Vec<i16> = (0..9_000)
            .map(|at| if at % 3 == 0 { i16::MAX } else { i16::MIN })
            .collect();
        check(&loud, 4_096);
        // a click in silence, and frames past 127
        let mut click = vec![0; 60_000];
        click[30_000] = 20_000;
        check(&click, 96);
        let wave: Vec<i16> = (0..30_000)
            .map(|at| (9_000.0 * (f64::from(at / 2) * 0.05).sin()) as i16 + (at % 2) as i16)
            .collect();
        check(&wave, 4_096);
        assert!(file(&wave, 4_096).len() < wave.len());
    }

    proptest! {
        #[test]
        fn any_samples_come_back(
            samples in prop::collection::vec(any::<[i16; 2]>(), 1..600),
            block in 32usize..300,
            narrow in 0u32..15,
        ) {
            let samples: Vec<i16> = samples.concat().into_iter().map(|value| value >> narrow).collect();
            check(&samples, block);
        }
    }
}
