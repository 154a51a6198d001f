//! Bits, one after another, and the sums that guard a FLAC frame.

/// Bytes being filled, highest bit first.
#[derive(Debug, Default)]
pub(crate) struct Bits {
    bytes: Vec<u8>,
    waiting: u64,
    count: u32,
}

impl Bits {
    /// Begins anew.
    pub(crate) fn begin(&mut self) {
        self.bytes.clear();
        (self.waiting, self.count) = (0, 0);
    }

    /// Puts the lowest bits of a value, 32 at most.
    pub(crate) fn put(&mut self, value: u64, count: u32) {
        self.waiting = self.waiting << count | value;
        self.count += count;
        while self.count >= 8 {
            self.count -= 8;
            self.bytes.push((self.waiting >> self.count) as u8);
        }
        self.waiting &= (1 << self.count) - 1;
    }

    /// The same of a value with a sign.
    pub(crate) fn put_signed(&mut self, value: i32, count: u32) {
        let mask = (1u64 << count) - 1;
        self.put(i64::from(value).cast_unsigned() & mask, count);
    }

    pub(crate) fn put_zeros(&mut self, mut count: u32) {
        while count > 32 {
            self.put(0, 32);
            count -= 32;
        }
        self.put(0, count);
    }

    /// Fills the last byte.
    pub(crate) fn align(&mut self) {
        self.put(0, (8 - self.count % 8) % 8);
    }

    /// The sum of the bytes so far: x⁸ + x² + x + 1.
    pub(crate) fn crc_8(&self) -> u8 {
        self.bytes
            .iter()
            .fold(0, |sum, byte| CRC_8[usize::from(sum ^ byte)])
    }

    /// The sum of the bytes so far: x¹⁶ + x¹⁵ + x² + 1.
    pub(crate) fn crc_16(&self) -> u16 {
        self.bytes.iter().fold(0, |sum, byte| {
            sum << 8 ^ CRC_16[usize::from((sum >> 8) as u8 ^ byte)]
        })
    }

    pub(crate) fn bytes(&self) -> &[u8] {
        &self.bytes
    }
}

static CRC_8: [u8; 256] = crc_8();
static CRC_16: [u16; 256] = crc_16();

const fn crc_8() -> [u8; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut sum = byte as u8;
        let mut bit = 0;
        while bit < 8 {
            sum = sum << 1 ^ if sum & 0x80 != 0 { 0x07 } else { 0 };
            bit += 1;
        }
        table[byte] = sum;
        byte += 1;
    }
    table
}

const fn crc_16() -> [u16; 256] {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut sum = (byte as u16) << 8;
        let mut bit = 0;
        while bit < 8 {
            sum = sum << 1 ^ if sum & 0x8000 != 0 { 0x8005 } else { 0 };
            bit += 1;
        }
        table[byte] = sum;
        byte += 1;
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The check values of both sums over the digits 1 to 9, as the catalogue
    /// of parametrised CRC algorithms has them (CRC-8/SMBUS, CRC-16/UMTS).
    #[test]
    fn sums() {
        let mut bits = Bits::default();
        b"123456789"
            .iter()
            .for_each(|byte| bits.put((*byte).into(), 8));
        assert_eq!((bits.crc_8(), bits.crc_16()), (0xF4, 0xFEE8));
    }

    #[test]
    fn bits_go_highest_first() {
        let mut bits = Bits::default();
        bits.put(0b101, 3);
        bits.put_signed(-1, 5);
        bits.put_zeros(70);
        bits.put(1, 1);
        bits.align();
        let mut expected = vec![0b1011_1111];
        expected.extend([0; 8]);
        expected.push(0b0000_0010);
        assert_eq!(bits.bytes(), expected);
    }
}
