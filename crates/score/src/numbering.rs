//! Measures numbered in order: the one pass for sheets, books and full scores.

use crate::Measure;

/// Numbers as they run on. Bars count from 1; a pickup before the first
/// measure is bar 0, any other is an extra one with a number of its own kind.
#[derive(Debug, Clone, Copy, Default)]
pub struct Numbering {
    measures: u32,
    bars: u32,
    extras: u32,
}

impl Numbering {
    /// Bars numbered so far, pickups not counted.
    pub fn bars(&self) -> u32 {
        self.bars
    }

    /// Numbers the next measure, which says itself whether it is a pickup.
    pub fn number(&mut self, measure: &mut Measure) {
        measure.extra = measure.implicit && self.measures > 0;
        measure.number = if measure.extra {
            self.extras += 1;
            self.extras
        } else if measure.implicit {
            0
        } else {
            self.bars += 1;
            self.bars
        };
        self.measures += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_and_pickups_are_numbered_apart() {
        let check = |pickups: &[bool], expected: &[&str]| {
            let mut numbering = Numbering::default();
            let labels: Vec<String> = pickups
                .iter()
                .map(|pickup| {
                    let mut measure = Measure {
                        implicit: *pickup,
                        ..Measure::default()
                    };
                    numbering.number(&mut measure);
                    measure.label().to_string()
                })
                .collect();
            assert_eq!(labels, expected);
            let bars = pickups.iter().filter(|pickup| !**pickup).count();
            assert_eq!(numbering.bars() as usize, bars);
        };
        // MusicXML 4.0 `measure`: a pickup before the first measure is number
        // 0, other implicit ones have an X before theirs.
        check(&[], &[]);
        check(&[false, false], &["1", "2"]);
        check(
            &[true, false, true, false, true, false],
            &["0", "1", "X1", "2", "X2", "3"],
        );
        check(&[false, true, false], &["1", "X1", "2"]);
    }
}
