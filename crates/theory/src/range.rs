//! How far an instrument reaches, and where its registers meet.

use crate::{Letter, Pitch};

/// Lowest and highest written pitch, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Range {
    /// Lowest written pitch.
    pub low: Pitch,
    /// Highest written pitch.
    pub high: Pitch,
}

impl Range {
    /// C0 to C9: as far as any range may go.
    pub const WIDEST: Range = Range {
        low: Pitch::new(Letter::C, 0, 0),
        high: Pitch::new(Letter::C, 0, 9),
    };

    /// Whether a written pitch lies in it, by sound.
    pub fn holds(&self, pitch: Pitch) -> bool {
        (self.low.midi()..=self.high.midi()).contains(&pitch.midi())
    }

    /// Twice its middle, in MIDI numbers, so that halves stay whole.
    pub fn twice_middle(&self) -> i32 {
        i32::from(self.low.midi()) + i32::from(self.high.midi())
    }
}

/// The horn's own crossing between registers, written: the clarinet's B flat
/// to B, the saxophone's C sharp to D. `below` is the last pitch under it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct RegisterBreak {
    /// The highest written pitch of the lower register.
    pub below: Pitch,
}
