//! What a file holds, in a few letters: to know our own files again.

use std::fmt;
use std::str::FromStr;

/// The first half of a BLAKE3 hash, printed as 32 hexadecimal letters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hash([u8; 16]);

impl Hash {
    pub fn of(bytes: &[u8]) -> Hash {
        let mut half = [0; 16];
        half.copy_from_slice(&blake3::hash(bytes).as_bytes()[..16]);
        Hash(half)
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// The text is no hash.
#[derive(Debug, PartialEq, Eq)]
pub struct NoHash;

impl FromStr for Hash {
    type Err = NoHash;

    fn from_str(text: &str) -> Result<Hash, NoHash> {
        let digits = text.len() == 32 && text.bytes().all(|letter| letter.is_ascii_hexdigit());
        let number = u128::from_str_radix(text, 16).map_err(|_| NoHash)?;
        if digits {
            Ok(Hash(number.to_be_bytes()))
        } else {
            Err(NoHash)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_is_read_back() {
        let hash = Hash::of(b"a sheet");
        assert_eq!(hash.to_string().parse(), Ok(hash));
        assert_ne!(hash, Hash::of(b"a Sheet"));
    }

    /// The empty input of BLAKE3's published test vectors.
    #[test]
    fn the_hash_is_blake3() {
        assert_eq!(
            Hash::of(b"").to_string(),
            "af1349b9f5f9a1a6a0404dea36dcc949"
        );
    }

    #[test]
    fn other_words_are_no_hash() {
        for text in ["", "af", "+f1349b9f5f9a1a6a0404dea36dcc949", "é"] {
            assert_eq!(text.parse::<Hash>(), Err(NoHash), "{text}");
        }
    }
}
