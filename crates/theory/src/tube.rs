//! The tube of a brass instrument, and what makes it longer.

use crate::Pitch;

/// What makes a brass instrument's tube longer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Lengthening {
    /// Three valves: the second lowers by a half step, the first by two, the
    /// third by three.
    Valves,
    /// A slide with seven positions, a half step apart.
    Slide,
}

/// A brass instrument's tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Tube {
    /// The sounding pitch of its first partial at its shortest: no valve
    /// down, the slide in.
    pub fundamental: Pitch,
    /// How it gets longer.
    pub lengthening: Lengthening,
}
