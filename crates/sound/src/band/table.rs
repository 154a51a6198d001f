//! The patterns, by style (common practice). Times are sixteenths from the
//! bar line; the halves of quarters are played as the band swings.

use super::walk::Demand;
use crate::Style;

/// What the bass plays: when, how long, and what.
pub(crate) type BassStep = (u64, u64, Demand);

/// A bar of bass.
pub(crate) fn bass(style: Style, in_two: bool, closes: bool, quarters: u64) -> Vec<BassStep> {
    use Demand::{Again, Fifth, Root, Tone, Walk};
    if closes {
        return vec![(0, 4 * quarters, Root)];
    }
    let steps: &[BassStep] = match style {
        Style::Swing if in_two => &[(0, 8, Root), (8, 8, Tone)],
        Style::Swing => &[(0, 4, Walk), (4, 4, Walk), (8, 4, Walk), (12, 4, Walk)],
        Style::TwoBeat => &[(0, 6, Root), (8, 6, Fifth)],
        Style::Waltz if in_two => &[(0, 12, Root)],
        Style::Waltz => &[(0, 4, Walk), (4, 4, Walk), (8, 4, Walk)],
        Style::Bossa => &[(0, 6, Root), (6, 2, Fifth), (8, 6, Again), (14, 2, Tone)],
        Style::Funk => &[
            (0, 3, Root),
            (6, 1, Again),
            (7, 1, Tone),
            (10, 2, Again),
            (14, 2, Walk),
        ],
        Style::Shuffle => &[
            (0, 2, Walk),
            (2, 2, Again),
            (4, 2, Walk),
            (6, 2, Again),
            (8, 2, Walk),
            (10, 2, Again),
            (12, 2, Walk),
            (14, 2, Again),
        ],
        Style::Ballad => &[(0, 8, Root), (8, 6, Tone), (14, 2, Walk)],
        Style::EvenEighths => &[(0, 6, Root), (6, 6, Fifth), (12, 4, Walk)],
        Style::Drone | Style::Plain => &[],
    };
    steps.to_vec()
}

/// When the chords are struck, and how long they sound.
pub(crate) type CompStep = (u64, u64);

/// The bars of comping to choose from; in bossa the first and the second bar
/// of its pattern.
pub(crate) fn comping(style: Style) -> &'static [&'static [CompStep]] {
    match style {
        Style::Swing => &[
            &[(0, 3), (6, 2)],
            &[(6, 2), (12, 3)],
            &[(2, 2), (8, 3)],
            &[(0, 6), (10, 4)],
            &[(4, 2), (14, 2)],
        ],
        Style::TwoBeat => &[&[(4, 2), (12, 2)]],
        Style::Waltz => &[&[(4, 3), (8, 3)], &[(0, 3), (6, 4)], &[(6, 5)]],
        Style::Bossa => &[&[(0, 4), (6, 4), (12, 3)], &[(4, 4), (10, 5)]],
        Style::Funk => &[
            &[(2, 1), (10, 1)],
            &[(6, 1), (11, 1)],
            &[(0, 2), (7, 1), (10, 1)],
        ],
        Style::Shuffle => &[
            &[(4, 2), (12, 2)],
            &[(2, 1), (6, 1), (10, 1)],
            &[(0, 3), (6, 2)],
        ],
        Style::Ballad => &[&[(0, 15)], &[(0, 8), (8, 7)]],
        Style::EvenEighths => &[&[(0, 6), (6, 8)], &[(0, 4), (10, 5)], &[(6, 4), (12, 3)]],
        Style::Drone | Style::Plain => &[],
    }
}

/// General MIDI Level 1 percussion key map.
pub(crate) mod drum {
    pub(crate) const BASS_DRUM: u8 = 36;
    pub(crate) const SIDE_STICK: u8 = 37;
    pub(crate) const SNARE: u8 = 38;
    pub(crate) const CLOSED_HAT: u8 = 42;
    pub(crate) const PEDAL_HAT: u8 = 44;
    pub(crate) const LOW_TOM: u8 = 45;
    pub(crate) const CRASH: u8 = 49;
    pub(crate) const HIGH_TOM: u8 = 50;
    pub(crate) const RIDE: u8 = 51;
}

/// When which drum is struck, and how hard.
pub(crate) type DrumStep = (u64, u8, u8);

/// A bar of drums; every second one may differ.
pub(crate) fn drums(style: Style, second: bool) -> &'static [DrumStep] {
    use drum::{BASS_DRUM, CLOSED_HAT, PEDAL_HAT, RIDE, SIDE_STICK, SNARE};
    match style {
        Style::Swing => &[
            (0, RIDE, 74),
            (4, RIDE, 84),
            (6, RIDE, 64),
            (8, RIDE, 74),
            (12, RIDE, 84),
            (14, RIDE, 64),
            (4, PEDAL_HAT, 72),
            (12, PEDAL_HAT, 72),
            (0, BASS_DRUM, 34),
            (4, BASS_DRUM, 30),
            (8, BASS_DRUM, 34),
            (12, BASS_DRUM, 30),
        ],
        Style::TwoBeat => &[
            (0, BASS_DRUM, 60),
            (8, BASS_DRUM, 58),
            (4, PEDAL_HAT, 74),
            (12, PEDAL_HAT, 74),
            (4, SNARE, 38),
            (12, SNARE, 38),
            (0, RIDE, 66),
            (4, RIDE, 72),
            (8, RIDE, 66),
            (12, RIDE, 72),
        ],
        Style::Waltz => &[
            (0, RIDE, 80),
            (4, RIDE, 70),
            (6, RIDE, 60),
            (8, RIDE, 72),
            (4, PEDAL_HAT, 66),
            (8, PEDAL_HAT, 66),
            (0, BASS_DRUM, 44),
        ],
        // the clave lies over two bars
        Style::Bossa if !second => &[
            (0, CLOSED_HAT, 62),
            (2, CLOSED_HAT, 50),
            (4, CLOSED_HAT, 56),
            (6, CLOSED_HAT, 50),
            (8, CLOSED_HAT, 62),
            (10, CLOSED_HAT, 50),
            (12, CLOSED_HAT, 56),
            (14, CLOSED_HAT, 50),
            (0, BASS_DRUM, 60),
            (6, BASS_DRUM, 48),
            (8, BASS_DRUM, 60),
            (14, BASS_DRUM, 48),
            (0, SIDE_STICK, 66),
            (6, SIDE_STICK, 62),
            (12, SIDE_STICK, 66),
        ],
        Style::Bossa => &[
            (0, CLOSED_HAT, 62),
            (2, CLOSED_HAT, 50),
            (4, CLOSED_HAT, 56),
            (6, CLOSED_HAT, 50),
            (8, CLOSED_HAT, 62),
            (10, CLOSED_HAT, 50),
            (12, CLOSED_HAT, 56),
            (14, CLOSED_HAT, 50),
            (0, BASS_DRUM, 60),
            (6, BASS_DRUM, 48),
            (8, BASS_DRUM, 60),
            (14, BASS_DRUM, 48),
            (4, SIDE_STICK, 66),
            (10, SIDE_STICK, 62),
        ],
        Style::Funk => &[
            (0, CLOSED_HAT, 70),
            (2, CLOSED_HAT, 56),
            (4, CLOSED_HAT, 66),
            (6, CLOSED_HAT, 56),
            (8, CLOSED_HAT, 70),
            (10, CLOSED_HAT, 56),
            (12, CLOSED_HAT, 66),
            (14, CLOSED_HAT, 56),
            (0, BASS_DRUM, 82),
            (6, BASS_DRUM, 66),
            (10, BASS_DRUM, 74),
            (4, SNARE, 84),
            (7, SNARE, 34),
            (9, SNARE, 32),
            (12, SNARE, 84),
        ],
        Style::Shuffle => &[
            (0, RIDE, 72),
            (2, RIDE, 58),
            (4, RIDE, 76),
            (6, RIDE, 58),
            (8, RIDE, 72),
            (10, RIDE, 58),
            (12, RIDE, 76),
            (14, RIDE, 58),
            (0, BASS_DRUM, 64),
            (4, BASS_DRUM, 50),
            (8, BASS_DRUM, 64),
            (12, BASS_DRUM, 50),
            (4, SNARE, 74),
            (12, SNARE, 74),
        ],
        Style::Ballad => &[
            (0, RIDE, 58),
            (4, RIDE, 54),
            (8, RIDE, 58),
            (12, RIDE, 54),
            (14, RIDE, 42),
            (4, PEDAL_HAT, 52),
            (12, PEDAL_HAT, 52),
            (0, BASS_DRUM, 36),
        ],
        Style::EvenEighths => &[
            (0, RIDE, 72),
            (2, RIDE, 56),
            (4, RIDE, 66),
            (6, RIDE, 56),
            (8, RIDE, 72),
            (10, RIDE, 56),
            (12, RIDE, 66),
            (14, RIDE, 56),
            (4, PEDAL_HAT, 62),
            (12, PEDAL_HAT, 62),
            (0, BASS_DRUM, 56),
            (6, BASS_DRUM, 46),
            (12, SIDE_STICK, 60),
        ],
        Style::Drone | Style::Plain => &[],
    }
}

/// What the last beat of a section has in place of its own, from that beat
/// on.
pub(crate) const FILL: [DrumStep; 4] = [
    (0, drum::SNARE, 66),
    (2, drum::SNARE, 54),
    (2, drum::HIGH_TOM, 60),
    (3, drum::LOW_TOM, 62),
];
