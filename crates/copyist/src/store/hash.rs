//! What a file holds, in a few letters: to know our own files again.

use std::fmt;
use std::str::FromStr;

use twox_hash::{XxHash3_128, xxhash3_128};

/// An XXH3 hash of 128 bits, printed as 32 hexadecimal letters. It tells an
/// edited file from ours, where nobody gains by making two that look the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hash(u128);

impl Hash {
    pub fn of(bytes: &[u8]) -> Hash {
        Hash(XxHash3_128::oneshot(bytes))
    }
}

/// Hashes what comes piece by piece.
#[derive(Default)]
pub struct Hasher(xxhash3_128::Hasher);

impl Hasher {
    pub fn take_in(&mut self, piece: &[u8]) {
        self.0.write(piece);
    }

    pub fn finish(self) -> Hash {
        Hash(self.0.finish_128())
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:032x}", self.0)
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
            Ok(Hash(number))
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

    /// The empty input of the reference implementation's published values.
    #[test]
    fn the_hash_is_xxh3() {
        assert_eq!(
            Hash::of(b"").to_string(),
            "99aa06d3014798d86001c324468d497f"
        );
    }

    #[test]
    fn other_words_are_no_hash() {
        for text in ["", "af", "+f1349b9f5f9a1a6a0404dea36dcc949", "é"] {
            assert_eq!(text.parse::<Hash>(), Err(NoHash), "{text}");
        }
    }
}
