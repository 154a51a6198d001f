//! Changes: a chord progression as it stands on a lead sheet.

use rhythm::{Fraction, Meter};
use theory::{ChordSymbol, KeySignature};

use crate::Named;

/// A chord progression with its repeats.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changes {
    /// What it is called, if that is said.
    pub title: Option<String>,
    /// The key it begins in, if that is said.
    pub key: Option<KeySignature>,
    /// Whether chords and key are concert or written.
    pub named: Named,
    /// What is played, in order.
    pub sections: Vec<Section>,
}

/// A stretch of bars that is played once or several times.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// Its name or rehearsal mark.
    pub name: Option<String>,
    /// The bars of every time.
    pub bars: Vec<Bar>,
    /// How it goes on at each time; a time that no ending names goes straight
    /// on to the next section or back to the first bar.
    pub endings: Vec<NumberedEnding>,
    /// How often it is played: at least 1.
    pub times: u16,
}

/// A first ending, a second ending and so on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberedEnding {
    /// The times it is played at, counted from 1.
    pub at_times: Vec<u16>,
    /// Its bars.
    pub bars: Vec<Bar>,
}

/// A bar and its chords.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// Its number as it is printed.
    pub number: String,
    /// Its meter.
    pub meter: Meter,
    /// Where in its meter it begins, in quarters: 0 but for a pickup and for
    /// the second half of a bar that a repeat cuts in two.
    pub from: Fraction,
    /// Its length in quarters; for a full bar that of its meter.
    pub length: Fraction,
    /// Its chords in order, each until the next; what sounded before goes on
    /// until the first.
    pub chords: Vec<PlacedChord>,
}

/// A chord at its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlacedChord {
    /// Quarters from the bar line; in a bar that begins later than its bar
    /// line too, so that a pickup's chord on beat 4 is at 3.
    pub at: Fraction,
    /// What is played; N.C. is a chord without tones.
    pub symbol: ChordSymbol,
}

impl Changes {
    /// Quarters before the first bar line; 0 without a pickup.
    pub fn pickup(&self) -> Fraction {
        self.played()
            .next()
            .filter(|bar| bar.from > Fraction::ZERO)
            .map_or(Fraction::ZERO, |bar| bar.length)
    }

    /// The bars in the order they are played, repeats and endings followed.
    pub fn played(&self) -> impl Iterator<Item = &Bar> {
        self.begun().map(|(_, bar)| bar)
    }

    /// The same, each with the name of the section that begins with it.
    pub fn begun(&self) -> impl Iterator<Item = (Option<&str>, &Bar)> {
        self.sections.iter().flat_map(|section| {
            (1..=section.times).flat_map(|time| {
                let names = std::iter::once(section.name.as_deref()).chain(std::iter::repeat(None));
                names.zip(section.at_time(time))
            })
        })
    }
}

impl Section {
    /// Its bars in the order they are played.
    pub fn played(&self) -> impl Iterator<Item = &Bar> {
        (1..=self.times).flat_map(|time| self.at_time(time))
    }

    /// Its bars at one of its times.
    fn at_time(&self, time: u16) -> impl Iterator<Item = &Bar> {
        let ending = self
            .endings
            .iter()
            .find(move |ending| ending.at_times.contains(&time));
        let ending = ending.map_or(&[][..], |ending| &ending.bars);
        self.bars.iter().chain(ending)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bars(numbers: &[&str]) -> Vec<Bar> {
        let bar = |number: &&str| Bar {
            number: (*number).to_owned(),
            meter: Meter::common(),
            from: Fraction::ZERO,
            length: Fraction::from(4),
            chords: Vec::new(),
        };
        numbers.iter().map(bar).collect()
    }

    /// Endings as "1,2: 3 4".
    fn check(numbers: &[&str], endings: &[(&[u16], &[&str])], times: u16, expected: &str) {
        let ending = |(at_times, numbers): &(&[u16], &[&str])| NumberedEnding {
            at_times: at_times.to_vec(),
            bars: bars(numbers),
        };
        let section = Section {
            name: None,
            bars: bars(numbers),
            endings: endings.iter().map(ending).collect(),
            times,
        };
        let played: Vec<&str> = section.played().map(|bar| bar.number.as_str()).collect();
        assert_eq!(played.join(" "), expected);
    }

    #[test]
    fn repeats_and_endings_are_followed() {
        check(&["1", "2"], &[], 1, "1 2");
        check(&["1", "2"], &[], 3, "1 2 1 2 1 2");
        check(
            &["1"],
            &[(&[1], &["2"]), (&[2], &["3", "4"])],
            2,
            "1 2 1 3 4",
        );
        check(
            &["1"],
            &[(&[1, 2], &["2"]), (&[3], &["3"])],
            3,
            "1 2 1 2 1 3",
        );
        check(&["1"], &[(&[1], &["2"])], 2, "1 2 1");
    }

    #[test]
    fn a_pickup_is_a_first_bar_that_begins_late() {
        let changes = |from: i64| {
            let mut bars = bars(&["0", "1"]);
            bars[0].from = Fraction::from(from);
            bars[0].length = Fraction::from(4 - from);
            Changes {
                title: None,
                key: None,
                named: Named::Concert,
                sections: vec![Section {
                    name: None,
                    bars,
                    endings: Vec::new(),
                    times: 1,
                }],
            }
        };
        assert_eq!(changes(3).pickup(), Fraction::from(1));
        assert_eq!(changes(0).pickup(), Fraction::ZERO);
    }
}
