//! What is printed of a line on all its sheets alike.

use lesson::Label;
use rhythm::{BarPieces, Counting, Meter, Ticks};
use theory::Level;

/// What is known of a line's sheets, all alike.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Print<'a> {
    /// Rows of labels under the notes.
    pub rows: &'a [Label],
    pub level: Level,
    pub large: bool,
    /// Meters by the ticks they begin at; the first holds before that too.
    pub meters: &'a [(Ticks, &'a Meter)],
    /// How the line is counted aloud.
    pub counting: Counting,
    pub per_quarter: u32,
}

impl<'a> Print<'a> {
    /// The meter of a bar.
    pub fn meter(&self, bar: &BarPieces) -> &'a Meter {
        let after = self.meters.partition_point(|(at, _)| *at <= bar.start);
        self.meters[after.saturating_sub(1)].1
    }
}
