//! What a player asks for: how fast, how often, which tracks.

use crate::{Role, Style, Swing, Tuning};

/// Beats a minute where neither the sheet nor the take says.
pub const DEFAULT_TEMPO: u16 = 90;

/// One way to play a sheet, or several joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Take {
    /// Beats a minute, of the beat that the sheet's tempo marks count, else
    /// of the meter's felt beat (an odd meter's unit); in place of every mark.
    /// None keeps the marks.
    pub tempo: Option<u16>,
    /// How swing eighths are played where the sheet asks for them.
    pub swing: Swing,
    /// Bars clicked before the first note. A sheet's pickup sounds in the
    /// last of them; where it would take more than half of the only one,
    /// one is added.
    pub count_in: u8,
    /// How often each sheet is played before the next; at least once.
    pub times: u8,
    /// Which tracks there are.
    pub tracks: Tracks,
    /// Whether every call is followed by the same length without the line,
    /// for the student to answer. A call is the fewest whole statements that
    /// fill whole bars.
    pub answer: bool,
    /// The A above middle C.
    pub tuning: Tuning,
    /// How the band plays; as is usual where none is said.
    pub style: Option<Style>,
    /// Which beats are clicked through the sheet; where it isn't said, all
    /// where no drums play, and none where they do.
    pub click: Option<Click>,
    /// How loud each plays.
    pub levels: Levels,
}

/// Which beats are clicked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Click {
    /// The beats of the meter, and the units of an odd one.
    AllBeats,
    /// The second and the fourth of four; all beats in other meters.
    TwoAndFour,
    /// The bar line.
    BeatOne,
    /// None.
    None,
}

/// How loud each plays, in hundredths of its usual amplitude; 0 to 150.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Levels {
    /// The line.
    pub line: u8,
    /// Chords, and the drone.
    pub chords: u8,
    /// The bass.
    pub bass: u8,
    /// The drums.
    pub drums: u8,
    /// The click, in the count-in too.
    pub click: u8,
}

impl Default for Levels {
    fn default() -> Levels {
        Levels {
            line: 100,
            chords: 100,
            bass: 100,
            drums: 100,
            click: 100,
        }
    }
}

impl Levels {
    /// A role's.
    pub const fn of(self, role: Role) -> u8 {
        match role {
            Role::Line => self.line,
            Role::Chords | Role::Drone => self.chords,
            Role::Bass => self.bass,
            Role::Drums => self.drums,
            Role::Count | Role::Click => self.click,
        }
    }
}

impl Default for Take {
    fn default() -> Take {
        Take {
            tempo: None,
            swing: Swing::default(),
            count_in: 1,
            times: 1,
            tracks: Tracks::ALL,
            answer: false,
            tuning: Tuning::default(),
            style: None,
            click: None,
            levels: Levels::default(),
        }
    }
}

/// Which tracks a take has. Bars of click (the count-in, the bar between
/// keys) are heard whatever `click` says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tracks {
    /// The line as written.
    pub line: bool,
    /// The chords.
    pub chords: bool,
    /// The bass.
    pub bass: bool,
    /// The drums.
    pub drums: bool,
    /// A click throughout.
    pub click: bool,
}

impl Tracks {
    /// Everything.
    pub const ALL: Tracks = Tracks {
        line: true,
        chords: true,
        bass: true,
        drums: true,
        click: true,
    };
    /// To play along with: everything but the line.
    pub const BACKING: Tracks = Tracks {
        line: false,
        ..Tracks::ALL
    };
    /// The line, with nothing under it.
    pub const LINE_ALONE: Tracks = Tracks {
        line: true,
        chords: false,
        bass: false,
        drums: false,
        click: false,
    };
}
