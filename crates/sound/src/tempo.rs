//! How fast: beats a minute of a value, and what a file says of it.

use rhythm::Fraction;

/// So many beats a minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Tempo {
    /// The beat, in quarters.
    pub beat: Fraction,
    /// Beats a minute.
    pub per_minute: u16,
}

impl Tempo {
    /// Microseconds a quarter takes, to the nearest, in the 24 bits that a
    /// file has for it (Standard MIDI Files 1.0, Set Tempo).
    pub(crate) fn micros_per_quarter(self) -> u32 {
        let quarters = self.scaled();
        let micros = (60_000_000 * quarters.1 + quarters.0 / 2) / quarters.0;
        micros.clamp(1, 0xFF_FFFF) as u32
    }

    /// Quarters a minute, rounded down.
    pub(crate) fn quarters_per_minute(self) -> u32 {
        let quarters = self.scaled();
        (quarters.0 / quarters.1).min(u64::from(u32::MAX)) as u32
    }

    /// Quarters a minute as numerator and denominator, neither 0.
    fn scaled(self) -> (u64, u64) {
        let number = |n: i64| n.unsigned_abs().clamp(1, 1 << 16);
        let per_minute = u64::from(self.per_minute.max(1));
        (
            per_minute * number(*self.beat.numer()),
            number(*self.beat.denom()),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn microseconds_to_the_quarter() {
        let check = |beat: (i64, i64), per_minute, micros, quarters| {
            let tempo = Tempo {
                beat: Fraction::new(beat.0, beat.1),
                per_minute,
            };
            assert_eq!(tempo.micros_per_quarter(), micros, "{tempo:?}");
            assert_eq!(tempo.quarters_per_minute(), quarters, "{tempo:?}");
        };
        // Standard MIDI Files 1.0: 500,000 is 120 quarters a minute.
        check((1, 1), 120, 500_000, 120);
        check((1, 1), 96, 625_000, 96);
        check((1, 1), 72, 833_333, 72);
        check((3, 2), 80, 500_000, 120);
        check((2, 1), 60, 500_000, 120);
        check((1, 2), 240, 500_000, 120);
        check((1, 1), 0, 0xFF_FFFF, 1);
        check((1, 1), 3, 0xFF_FFFF, 3);
        check((12, 1), u16::MAX, 76, 786_420);
    }
}
