//! The practice tracks of a lesson.

/// What a lesson says of its tracks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Track {
    /// Bars of click before the first note: 1 or 2.
    pub count_in: u8,
    /// How often the sheet is played without a pause, at least once.
    pub times: u8,
    /// The tracks wanted besides the one of everything, each once.
    pub forms: Vec<TrackForm>,
    /// The A above middle C, in hertz, 392 to 494.
    pub tuning: u16,
    /// How the band plays; none for what is usual.
    pub style: Option<TrackStyle>,
    /// Which beats are clicked; none for what is usual.
    pub click: Option<TrackClick>,
    /// How loud each plays.
    pub levels: Loudness,
}

impl Default for Track {
    fn default() -> Track {
        Track {
            count_in: 1,
            times: 1,
            forms: Vec::new(),
            tuning: 440,
            style: None,
            click: None,
            levels: Loudness::default(),
        }
    }
}

/// How the band of a track plays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TrackStyle {
    /// A walking bass and a ride cymbal.
    Swing,
    /// A bass on 1 and 3.
    TwoBeat,
    /// In three.
    Waltz,
    /// Even eighths over a clave.
    Bossa,
    /// Sixteenths, a backbeat.
    Funk,
    /// Long and short on every beat.
    Shuffle,
    /// Slow, in two.
    Ballad,
    /// Even eighths on the cymbal.
    EvenEighths,
    /// A tonic held, and its fifth.
    Drone,
    /// A chord and a bass note to the bar.
    Plain,
}

/// Which beats of a track are clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TrackClick {
    /// Every beat.
    AllBeats,
    /// The second and fourth of four.
    TwoAndFour,
    /// The first.
    BeatOne,
    /// None.
    None,
}

/// How loud each plays, in hundredths of the usual, 0 to 150.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Loudness {
    /// The line.
    pub line: u8,
    /// The chords.
    pub chords: u8,
    /// The bass.
    pub bass: u8,
    /// The drums.
    pub drums: u8,
    /// The click.
    pub click: u8,
}

impl Default for Loudness {
    fn default() -> Loudness {
        Loudness {
            line: 100,
            chords: 100,
            bass: 100,
            drums: 100,
            click: 100,
        }
    }
}

/// A way to practise with a track.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TrackForm {
    /// Everything but the line.
    Backing,
    /// The line with nothing under it.
    LineAlone,
    /// Each call is followed by the same length without the line.
    Answer,
    /// Everything, well under the sheet's tempo.
    Slow,
    /// One track of all of a player's keys.
    AllKeys,
}
