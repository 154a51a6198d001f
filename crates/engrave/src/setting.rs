//! Bars on their way to be a line: what is to be set, and at which places.

use std::ops::Range;

use crate::line::{BarPoints, Plan};
use crate::place::Sp;
use crate::voice::{Bar, Voice};

/// Bars that are set on one line.
#[derive(Debug)]
pub(crate) struct LineSetting<'a> {
    pub voices: &'a [Voice<'a>],
    pub bars: Range<usize>,
    pub plan: &'a Plan,
    /// The places that the plan's points took.
    pub points: &'a [Sp],
}

impl<'a> LineSetting<'a> {
    /// The line's right end.
    pub fn right(&self) -> Sp {
        self.points.last().copied().unwrap_or(0)
    }

    /// Whether parts stand under each other.
    pub fn several(&self) -> bool {
        self.voices.len() > 1
    }

    /// A voice's bars with their plans.
    pub fn planned(
        &self,
        voice: &'a Voice<'a>,
    ) -> impl Iterator<Item = (&'a Bar<'a>, &'a BarPoints)> {
        voice.bars[self.bars.clone()].iter().zip(&self.plan.bars)
    }
}
