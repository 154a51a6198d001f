//! How the band plays.

use rhythm::{Meter, MeterKind};

/// How chords, bass and drums accompany a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Style {
    /// A walking bass and a ride cymbal.
    Swing,
    /// A bass on 1 and 3.
    TwoBeat,
    /// In three.
    Waltz,
    /// Even eighths over a clave on the side stick.
    Bossa,
    /// Sixteenths, a backbeat.
    Funk,
    /// Long and short on every beat, a backbeat.
    Shuffle,
    /// Slow, in two, lightly.
    Ballad,
    /// Even eighths on the cymbal.
    EvenEighths,
    /// The tonic held, and its fifth where the scale has a perfect one, to
    /// play in tune with.
    Drone,
    /// A chord and a bass note to the bar.
    Plain,
}

impl Style {
    /// Whether there is a pattern in a meter; without one it is played plain.
    /// Patterns are of four quarters (common and cut time), the waltz's of
    /// three.
    pub fn fits(self, meter: &Meter) -> bool {
        let simple = meter.kind() == MeterKind::Simple;
        match self {
            Style::Drone | Style::Plain => true,
            Style::Waltz => simple && meter.upper() == 3 && meter.lower() == 4,
            Style::Swing
            | Style::TwoBeat
            | Style::Bossa
            | Style::Funk
            | Style::Shuffle
            | Style::Ballad
            | Style::EvenEighths => {
                simple && matches!((meter.upper(), meter.lower()), (4, 4) | (2, 2))
            }
        }
    }

    /// What is played where nobody says: over changes a waltz in three
    /// quarters, swing where eighths swing, else even eighths; under any
    /// other exercise a drone.
    pub fn usual(over_changes: bool, meter: &Meter, swings: bool) -> Style {
        match (over_changes, swings) {
            (false, _) => Style::Drone,
            (true, _) if Style::Waltz.fits(meter) => Style::Waltz,
            (true, true) => Style::Swing,
            (true, false) => Style::EvenEighths,
        }
    }

    /// Whether drums play.
    pub const fn has_drums(self) -> bool {
        !matches!(self, Style::Drone | Style::Plain)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meters_with_a_pattern() {
        let check = |style: Style, meters: &str, fits: bool| {
            for meter in meters.split(' ') {
                assert_eq!(
                    style.fits(&meter.parse().unwrap()),
                    fits,
                    "{style:?} {meter}"
                );
            }
        };
        check(Style::Swing, "4/4 2/2", true);
        check(Style::Swing, "3/4 2/4 5/4 6/8 12/8 7/8", false);
        check(Style::Waltz, "3/4", true);
        check(Style::Waltz, "4/4 6/8 3/8", false);
        check(Style::Drone, "4/4 3/4 7/8", true);
        check(Style::Plain, "5/4 6/8", true);
    }

    #[test]
    fn what_nobody_says() {
        let check = |changes, meter: &str, swings, style| {
            let meter = meter.parse().unwrap();
            assert_eq!(Style::usual(changes, &meter, swings), style);
        };
        check(false, "4/4", true, Style::Drone);
        check(true, "3/4", true, Style::Waltz);
        check(true, "4/4", true, Style::Swing);
        check(true, "4/4", false, Style::EvenEighths);
    }
}
