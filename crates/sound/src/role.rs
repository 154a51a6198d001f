//! Who plays.

/// Who plays.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The line as written.
    Line,
    /// The chords.
    Chords,
    /// A tonic that is held, and its fifth.
    Drone,
    /// The bass.
    Bass,
    /// The drums.
    Drums,
    /// The count-in, and the bars between keys.
    Count,
    /// The click through a sheet.
    Click,
}

impl Role {
    /// Every role, in order.
    pub const ALL: [Role; 7] = [
        Role::Line,
        Role::Chords,
        Role::Drone,
        Role::Bass,
        Role::Drums,
        Role::Count,
        Role::Click,
    ];

    /// Its MIDI channel, from 0. General MIDI keeps channel 10 for percussion,
    /// which drums, count and click share.
    pub const fn channel(self) -> u8 {
        match self {
            Role::Line => 0,
            Role::Chords => 1,
            Role::Bass => 2,
            Role::Drone => 3,
            Role::Drums | Role::Count | Role::Click => 9,
        }
    }
}
