//! Meters: how long a bar is, where its beats and groups fall.

use std::fmt;

use crate::Fraction;

/// How a meter is felt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MeterKind {
    /// Beats halve: 2/4, 3/4, 4/4, 2/2, 3/2.
    Simple,
    /// Beats third: 6/8, 9/8, 12/8, 6/4; 3/8 is one such beat.
    Compound,
    /// Groups of two and three: 5/4, 5/8, 7/8; or groups a lesson sets.
    Odd,
}

/// A meter: `4/4`, `6/8`, `5/4 = 2+3`.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Meter {
    upper: u16,
    lower: u16,
    groups: Vec<u16>,
    kind: MeterKind,
}

impl Meter {
    /// Of parts that fit together: `groups` add up to `upper`.
    pub(crate) fn new(upper: u16, lower: u16, groups: Vec<u16>, kind: MeterKind) -> Meter {
        Meter {
            upper,
            lower,
            groups,
            kind,
        }
    }

    /// The upper number.
    pub fn upper(&self) -> u16 {
        self.upper
    }

    /// The lower number: 1, 2, 4, 8, 16, 32.
    pub fn lower(&self) -> u16 {
        self.lower
    }

    /// How it is felt.
    pub fn kind(&self) -> MeterKind {
        self.kind
    }

    /// Felt beats or groups, in units of the lower number: 4/4 is [1, 1, 1,
    /// 1], 6/8 [3, 3], 7/8 [2, 2, 3].
    pub fn groups(&self) -> &[u16] {
        &self.groups
    }

    /// Length of a bar in quarters.
    pub fn bar(&self) -> Fraction {
        Fraction::new(4 * i64::from(self.upper), i64::from(self.lower))
    }

    /// Length of the unit the lower number names, in quarters.
    pub fn unit(&self) -> Fraction {
        Fraction::new(4, i64::from(self.lower))
    }

    /// Length of a felt beat in quarters: the unit, three of it in compound
    /// meters. Groups of odd meters are not equally long: their beat is the
    /// unit, which their numbers count.
    pub fn beat(&self) -> Fraction {
        match self.kind {
            MeterKind::Compound => self.unit() * 3,
            MeterKind::Simple | MeterKind::Odd => self.unit(),
        }
    }

    /// Where felt beats (simple, compound) or groups (odd) begin in a bar, in
    /// quarters from the bar line, first 0.
    pub fn beats(&self) -> Vec<Fraction> {
        let mut units = 0;
        self.groups
            .iter()
            .map(|group| {
                let at = self.unit() * units;
                units += i64::from(*group);
                at
            })
            .collect()
    }

    /// The strong beats of a bar: the bar line; also mid-bar in 4/4, 6/8 and
    /// 12/8 (and their kin), and each group's start in odd meters.
    pub fn strong_beats(&self) -> Vec<Fraction> {
        match self.kind {
            MeterKind::Odd => self.beats(),
            MeterKind::Simple | MeterKind::Compound => {
                let mut strong = vec![Fraction::ZERO];
                strong.extend(self.middle());
                strong
            }
        }
    }

    /// Mid-bar where it is a strong beat, in quarters.
    pub(crate) fn middle(&self) -> Option<Fraction> {
        let halves = match self.kind {
            MeterKind::Simple => self.upper == 4,
            MeterKind::Compound => self.groups.len().is_multiple_of(2),
            MeterKind::Odd => false,
        };
        halves.then(|| self.bar() / 2)
    }
}

impl fmt::Display for Meter {
    /// As it is printed: `7/8`, without its groups.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.upper, self.lower)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fractions(times: &[Fraction]) -> String {
        let words: Vec<String> = times.iter().map(ToString::to_string).collect();
        words.join(" ")
    }

    /// A meter, its kind's first letter, its beats and its strong beats in
    /// quarters.
    fn check(text: &str, kind: char, beats: &str, strong: &str) {
        let meter: Meter = text.parse().unwrap();
        let letter = format!("{:?}", meter.kind()).chars().next().unwrap();
        assert_eq!(letter, kind, "{text}");
        assert_eq!(fractions(&meter.beats()), beats, "{text}");
        assert_eq!(fractions(&meter.strong_beats()), strong, "{text}");
    }

    #[test]
    fn beats_and_strong_beats() {
        // Beats and grouping: Harvard Dictionary (from memory), beside
        // music21's TimeSignature; strong beats: common practice.
        check("2/4", 'S', "0 1", "0");
        check("3/4", 'S', "0 1 2", "0");
        check("4/4", 'S', "0 1 2 3", "0 2");
        check("2/2", 'S', "0 2", "0");
        check("3/2", 'S', "0 2 4", "0");
        check("4/8", 'S', "0 1/2 1 3/2", "0 1");
        check("3/8", 'C', "0", "0");
        check("6/8", 'C', "0 3/2", "0 3/2");
        check("9/8", 'C', "0 3/2 3", "0");
        check("12/8", 'C', "0 3/2 3 9/2", "0 3");
        check("6/4", 'C', "0 3", "0 3");
        check("5/4", 'O', "0 2", "0 2");
        check("5/8", 'O', "0 1", "0 1");
        check("7/8", 'O', "0 1 2", "0 1 2");
        check("7/8 = 3+2+2", 'O', "0 3/2 5/2", "0 3/2 5/2");
        check("7/4", 'O', "0 2 4", "0 2 4");
        check("8/8", 'O', "0 3/2 3", "0 3/2 3");
    }
}
