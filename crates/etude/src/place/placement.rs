//! A line in its place on a horn, or the tone that keeps it from one.

use std::sync::Arc;

use lesson::Span;
use theory::{LineTone, Pitch};

use crate::compose::course::Extent;
use crate::remark::{Remark, Shortfall};

/// A line on a horn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Placement {
    /// The pitch of rung 0.
    pub root: Pitch,
    /// All roots that would do as well, lowest first.
    pub roots: Vec<Pitch>,
    /// Its tones in order.
    pub tones: Arc<[LineTone]>,
    pub extent: Extent,
    /// What became of it, where it isn't what was asked.
    pub remarks: Vec<Remark>,
}

impl Placement {
    /// What keeping together makes of a scale, or of the whole horn, beside
    /// what the horn could play alone: less is told as what it is.
    pub fn beside(mut self, alone: &Placement, goal: Option<Span>) -> Placement {
        if let Some(asked) = goal
            && self.extent != alone.extent
        {
            self.remarks = vec![Remark::Shortfall(Shortfall::AsFarAsAll { asked })];
        }
        self
    }

    /// Octave jumps.
    pub fn jumps(&self) -> u32 {
        let jumps = self.remarks.iter().filter(|one| **one == Remark::Jump);
        jumps.count() as u32
    }
}

/// A line that fits nowhere: the tone that leaves the range in the octave
/// where it leaves it least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Misfit {
    pub root: Pitch,
    pub tone: LineTone,
}
