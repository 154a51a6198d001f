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
}

impl Default for Track {
    fn default() -> Track {
        Track {
            count_in: 1,
            times: 1,
            forms: Vec::new(),
            tuning: 440,
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
