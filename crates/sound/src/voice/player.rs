//! What renders a performance, each role by itself.

use crate::{FontError, Role};

/// What a role sounds, by itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stem {
    pub role: Role,
    /// Where it stands, −1 left to 1 right; none where it has two channels of
    /// its own.
    pub place: Option<f32>,
    /// How loud it is among what accompanies, as amplitude.
    pub gain: f32,
}

impl Stem {
    pub(crate) fn channels(&self) -> usize {
        if self.place.is_some() { 1 } else { 2 }
    }
}

/// Renders a performance from its beginning, block by block.
pub(crate) trait Player {
    /// What there is to be heard.
    fn stems(&self) -> Vec<Stem>;

    /// Renders the next frames, each stem into its own buffer of zeros: one
    /// value a frame, or two by turns.
    ///
    /// # Errors
    /// When a SoundFont breaks while it plays.
    fn render(&mut self, frames: usize, stems: &mut [Vec<f32>]) -> Result<(), FontError>;
}
