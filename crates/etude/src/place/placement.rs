//! A line in its place on a horn, or the tone that keeps it from one.

use std::sync::Arc;

use theory::{LineTone, Pitch};

use crate::compose::course::Extent;
use crate::remark::Remark;

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
    /// Octave jumps.
    pub jumps: u32,
    /// What became of it, where it isn't what was asked.
    pub remarks: Vec<Remark>,
}

impl Placement {
    /// What keeping together makes of a scale, or of the whole horn, beside
    /// what the horn could play alone: less is told as what it is.
    pub fn beside(mut self, alone: &Placement, asked: Option<Option<i32>>) -> Placement {
        if let Some(octaves) = asked
            && self.extent != alone.extent
        {
            let asked = octaves.map(octave_count);
            self.remarks = vec![Remark::AsFarAsAll { asked }];
        }
        self
    }
}

/// A line that fits nowhere: the tone that leaves the range in the octave
/// where it leaves it least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Misfit {
    pub root: Pitch,
    pub tone: LineTone,
}

/// Octaves as remarks tell them.
pub(crate) fn octave_count(octaves: i32) -> u8 {
    u8::try_from(octaves).unwrap_or(0)
}
