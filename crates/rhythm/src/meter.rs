//! Meters: how long a bar is, where its beats and groups fall.

use std::str::FromStr;

use crate::Fraction;

/// How a meter is felt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MeterKind {
    /// Beats halve: 2/4, 3/4, 4/4, 2/2, 3/2.
    Simple,
    /// Beats third: 6/8, 9/8, 12/8, 6/4; 3/8 is one such beat.
    Compound,
    /// Groups of two and three: 5/4, 5/8, 7/8; or groups a lesson sets.
    Odd,
}

/// A meter: `4/4`, `6/8`, `5/4 = 2+3`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Meter {
    upper: u16,
    lower: u16,
    groups: Vec<u16>,
    kind: MeterKind,
}

impl Meter {
    /// The upper number.
    pub fn upper(&self) -> u16 {
        self.upper
    }

    /// The lower number: 1, 2, 4, 8, 16, 32.
    pub fn lower(&self) -> u16 {
        self.lower
    }

    /// How it is felt.
    pub fn kind(&self) -> MeterKind {
        self.kind
    }

    /// Felt beats or groups, in units of the lower number: 4/4 is [1, 1, 1,
    /// 1], 6/8 [3, 3], 7/8 [2, 2, 3].
    pub fn groups(&self) -> &[u16] {
        &self.groups
    }

    /// Length of a bar in quarters.
    pub fn bar(&self) -> Fraction {
        Fraction::new(4 * i64::from(self.upper), i64::from(self.lower))
    }

    /// Length of the unit the lower number names, in quarters.
    pub fn unit(&self) -> Fraction {
        Fraction::new(4, i64::from(self.lower))
    }

    /// Where felt beats (simple, compound) or groups (odd) begin in a bar, in
    /// quarters from the bar line, first 0.
    pub fn beats(&self) -> Vec<Fraction> {
        todo!()
    }

    /// The strong beats of a bar: the bar line; also mid-bar in 4/4, 6/8 and
    /// 12/8 (and their kin), and each group's start in odd meters.
    pub fn strong_beats(&self) -> Vec<Fraction> {
        todo!()
    }
}

/// Why a text is no meter: a sentence for the teacher.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct MeterParseError(pub String);

impl FromStr for Meter {
    type Err = MeterParseError;
    fn from_str(text: &str) -> Result<Meter, MeterParseError> {
        todo!()
    }
}
