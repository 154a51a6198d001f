//! Swing: eighths written straight and played long–short.
//!
//! Which eighths are moved is decided in `timeline`; here is by how much.

use std::fmt;

/// How swing eighths are played. Only sheets that say swing swing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Swing {
    /// Even, whatever the sheet says.
    Straight,
    /// At one ratio.
    Ratio(SwingRatio),
    /// Narrower as the tempo rises (common practice: the faster, the more
    /// even): by quarters a minute, 2:1 up to 120, 5:3 up to 160, 3:2 up to
    /// 200, 4:3 up to 240, 5:4 up to 280, even beyond.
    ByTempo,
}

impl Default for Swing {
    fn default() -> Swing {
        Swing::Ratio(SwingRatio::default())
    }
}

impl Swing {
    /// The ratio at so many quarters a minute.
    pub(crate) fn at(self, quarters_per_minute: u32) -> SwingRatio {
        match self {
            Swing::Straight => SwingRatio::EVEN,
            Swing::Ratio(ratio) => ratio,
            Swing::ByTempo => BY_TEMPO
                .into_iter()
                .find(|(fastest, _)| quarters_per_minute <= *fastest)
                .map_or(SwingRatio::EVEN, |(_, ratio)| ratio),
        }
    }
}

/// Quarters a minute up to which a ratio holds.
const BY_TEMPO: [(u32, SwingRatio); 5] = [
    (120, ratio(2, 1)),
    (160, ratio(5, 3)),
    (200, ratio(3, 2)),
    (240, ratio(4, 3)),
    (280, ratio(5, 4)),
];

const fn ratio(long: u8, short: u8) -> SwingRatio {
    SwingRatio { long, short }
}

/// Length of the first eighth of a pair to the second's: 2:1 by default.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SwingRatio {
    long: u8,
    short: u8,
}

impl Default for SwingRatio {
    fn default() -> SwingRatio {
        ratio(2, 1)
    }
}

impl SwingRatio {
    /// Even eighths.
    pub const EVEN: SwingRatio = ratio(1, 1);

    /// From two whole numbers, 1 to 12; the first at least as long as the
    /// second and at most three times as long. None for others.
    pub const fn new(long: u8, short: u8) -> Option<SwingRatio> {
        let fits = short >= 1 && long <= 12 && long >= short && long as u16 <= 3 * short as u16;
        if fits { Some(ratio(long, short)) } else { None }
    }

    /// Parts of the first eighth.
    pub const fn long(self) -> u8 {
        self.long
    }

    /// Parts of the second eighth.
    pub const fn short(self) -> u8 {
        self.short
    }

    /// Parts of the pair.
    pub(crate) fn parts(self) -> u64 {
        u64::from(self.long) + u64::from(self.short)
    }
}

/// `2:1`
impl fmt::Display for SwingRatio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.long, self.short)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn narrower_as_the_tempo_rises() {
        let check = |tempo, expected: &str| {
            assert_eq!(Swing::ByTempo.at(tempo).to_string(), expected, "{tempo}");
            assert_eq!(Swing::default().at(tempo).to_string(), "2:1");
            assert_eq!(Swing::Straight.at(tempo).to_string(), "1:1");
        };
        check(0, "2:1");
        check(120, "2:1");
        check(121, "5:3");
        check(160, "5:3");
        check(200, "3:2");
        check(240, "4:3");
        check(280, "5:4");
        check(281, "1:1");
        check(u32::MAX, "1:1");
    }

    #[test]
    fn ratios_a_player_would_play() {
        let check = |long, short, fits| {
            assert_eq!(
                SwingRatio::new(long, short).is_some(),
                fits,
                "{long}:{short}"
            );
        };
        check(2, 1, true);
        check(3, 1, true);
        check(1, 1, true);
        check(12, 11, true);
        check(4, 1, false);
        check(1, 2, false);
        check(0, 0, false);
        check(2, 0, false);
        check(13, 12, false);
        check(255, 255, false);
    }
}
