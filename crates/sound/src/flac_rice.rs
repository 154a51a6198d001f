//! Small numbers in few bits: Rice codes, in pieces with a parameter each.

use crate::bits::Bits;

/// A block is parted into two to this many pieces at most.
const PARTS: u32 = 5;
/// The largest parameter that four bits say.
const MOST_RICE: u32 = 14;

/// How what is left over is coded: in how many pieces, each with its
/// parameter.
#[derive(Debug)]
pub(crate) struct Rice {
    order: u32,
    parameters: Vec<u32>,
    /// Bits of it all.
    pub bits: u64,
}

impl Rice {
    /// Of a block of so many samples, the first of which are said as they are.
    pub(crate) fn of(left_over: &[i32], length: usize, skipped: usize) -> Rice {
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

    pub(crate) fn write(&self, left_over: &[i32], length: usize, skipped: usize, bits: &mut Bits) {
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
