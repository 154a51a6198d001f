//! Where lines are placed: a range, and the roots in it.

use theory::{Pitch, PitchName, Range};

use crate::heights::Reach;

/// Where a line is placed: on which written root, in which written range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Horn {
    pub root: PitchName,
    pub range: Range,
}

impl Horn {
    /// The range in MIDI numbers.
    pub fn reach(self) -> Reach {
        Reach::of_range(self.range)
    }

    /// The roots from well below the range to well above it, lowest first.
    pub fn roots(self) -> impl DoubleEndedIterator<Item = Pitch> {
        let octaves = self.range.low.octave() - 4..=self.range.high.octave() + 4;
        octaves.map(move |octave| self.root.at(octave))
    }

    /// The lowest root in the range.
    pub fn lowest_root(self) -> Option<Pitch> {
        self.roots().find(|root| self.range.holds(*root))
    }

    /// The roots from which a reach lies in the range, lowest first.
    pub fn fitting(self, reach: Reach) -> impl Iterator<Item = Pitch> {
        let range = self.reach();
        self.roots()
            .filter(move |root| reach.up(midi(*root)).within(range))
    }

    /// The root from which a reach lies in the range, its middle nearest the
    /// range's; a tie goes lower.
    pub fn nearest_middle(self, reach: Reach) -> Option<Pitch> {
        let range = self.reach();
        self.fitting(reach)
            .min_by_key(|root| (reach.up(midi(*root)).twice_middle() - range.twice_middle()).abs())
    }

    /// The root from which a reach leaves the range least.
    pub fn least_outside(self, reach: Reach) -> Pitch {
        let range = self.reach();
        let outside = |root: &Pitch| {
            let there = reach.up(midi(*root));
            (range.low - there.low).max(0) + (there.high - range.high).max(0)
        };
        self.roots().min_by_key(outside).unwrap_or(self.root.at(4))
    }
}

/// A pitch's MIDI number.
pub(crate) fn midi(pitch: Pitch) -> i32 {
    i32::from(pitch.midi())
}
