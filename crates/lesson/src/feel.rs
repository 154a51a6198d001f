//! Straight or swung eighths.

/// How eighths are felt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Feel {
    /// As written.
    #[default]
    Straight,
    /// Long–short.
    Swing(Swing),
}

/// How unevenly a track plays swing eighths; a sheet only says swing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Swing {
    /// The first eighth of a pair to the second: from as long to three times
    /// as long, in whole numbers from 1 to 12.
    Ratio {
        /// Parts of the first.
        long: u8,
        /// Parts of the second.
        short: u8,
    },
    /// Narrower as the tempo rises.
    ByTempo,
}

impl Default for Swing {
    fn default() -> Swing {
        Swing::Ratio { long: 2, short: 1 }
    }
}
