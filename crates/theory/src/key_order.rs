//! Rule 2: the orders in which the twelve keys are taken.

/// The step of a cycle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Cycle {
    HalfSteps,
    WholeSteps,
    MinorThirds,
    MajorThirds,
    Fourths,
    Fifths,
}

/// An order of the twelve keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum KeyOrder {
    /// By equal steps; a cycle that closes early goes on a half step higher.
    Cycle {
        /// Its step.
        cycle: Cycle,
        /// Whether it falls.
        down: bool,
    },
    /// Fisher–Yates from the end over half steps up, SplitMix64, index =
    /// value mod (i + 1).
    Shuffled {
        /// Printed on the sheet, so that it can be made again.
        seed: u64,
    },
}

impl KeyOrder {
    /// Every order that needs no seed, and `shuffled` with seed 1.
    pub fn all() -> Vec<KeyOrder> {
        todo!()
    }

    /// The words of a lesson: `fourths`, `whole steps down`, `shuffled`.
    pub fn words(&self) -> String {
        todo!()
    }

    /// From a lesson's words (`shuffled` with seed 1).
    pub fn from_words(text: &str) -> Option<KeyOrder> {
        todo!()
    }

    /// The twelve pitch classes, from the pitch class `from`; each once.
    pub fn classes(&self, from: u8) -> [u8; 12] {
        todo!()
    }
}
