//! The tempo.

/// Beats a minute, of the meter's felt beat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Tempo {
    /// One tempo.
    At(u16),
    /// A ladder of tempos to climb.
    Ladder {
        /// The slowest.
        from: u16,
        /// The fastest.
        to: u16,
        /// The step between.
        by: u16,
    },
}

impl Tempo {
    /// The tempo printed as a mark: the only one, or the slowest.
    pub fn slowest(self) -> u16 {
        match self {
            Tempo::At(beats) | Tempo::Ladder { from: beats, .. } => beats,
        }
    }

    /// The tempos practised, slowest first: a ladder's steps and, where they
    /// miss it, its top.
    pub fn steps(self) -> Vec<u16> {
        match self {
            Tempo::At(beats) => vec![beats],
            Tempo::Ladder { from, to, by } => {
                let below = (from..to).step_by(usize::from(by.max(1)));
                below.chain([to]).collect()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ladder_ends_on_its_top() {
        let check = |from, to, by, steps: &[u16]| {
            assert_eq!(Tempo::Ladder { from, to, by }.steps(), steps);
        };
        check(60, 100, 20, &[60, 80, 100]);
        check(60, 90, 20, &[60, 80, 90]);
        check(60, 61, 1, &[60, 61]);
        check(60, 61, 0, &[60, 61]);
        check(60, 60, 5, &[60]);
        assert_eq!(Tempo::At(96).steps(), [96]);
    }
}
