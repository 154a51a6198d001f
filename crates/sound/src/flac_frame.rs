//! A block of samples as a FLAC frame (RFC 9639): two channels, each by a
//! linear prediction of up to eight samples or, where that is shorter, as it
//! is, and what is left over in Rice codes.
//!
//! The library that did this took several times as long: built for every
//! processor, it calls the system's library for each multiplication that is
//! also an addition.
use crate::bits::Bits;
use crate::flac_prediction::{PRECISION, Predictor};
use crate::flac_rice::Rice;

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
    channels: [Vec<i32>; 2],
    predictor: Predictor,
    left_over: Vec<i32>,
}

impl FrameWriter {
    pub(crate) fn new() -> FrameWriter {
        FrameWriter {
            channels: [Vec::new(), Vec::new()],
            predictor: Predictor::default(),
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
        let plan = self.predictor.of(samples).and_then(|prediction| {
            prediction.leaves(samples, &mut self.left_over)?;
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

#[cfg(test)]
// A wave to be written.
#[allow(clippy::float_arithmetic)]
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
