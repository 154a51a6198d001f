//! A note of the band, and how its velocity breathes.

/// A note of the band, in the track's ticks from the sheet's beginning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Hit {
    pub at: u64,
    pub end: u64,
    pub key: u8,
    pub velocity: u8,
    /// Whether it is struck again where a passage begins while it sounds.
    pub lasts: bool,
}

/// A number from a bar and a place in it, 0 to 4: what takes the stiffness
/// from velocities and choices, the same each time.
pub fn ripple(bar: usize, place: u64) -> u8 {
    let mixed = (bar as u64 * 31 + place + 7).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    ((mixed >> 40) % 5) as u8
}

/// A velocity that breathes: it swells over four bars and ripples.
pub fn velocity(base: u8, bar: usize, place: u64) -> u8 {
    const SWELL: [u8; 4] = [0, 2, 4, 2];
    let swell = SWELL[bar % 4];
    (base + swell + ripple(bar, place))
        .saturating_sub(4)
        .clamp(1, 127)
}
