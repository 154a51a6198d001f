//! What sounds when, in whole ticks: everything a file or a voice needs.

use crate::clock::Clock;
use crate::role::Role;
use crate::take::Levels;
use crate::tuning::Tuning;

/// A track as it is played. Times are ticks from its beginning.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct Performance {
    /// The first sheet's title.
    pub title: String,
    /// The part's name.
    pub part: String,
    /// General MIDI program of the line, 1 to 128.
    pub program: u8,
    /// The tuning note.
    pub tuning: Tuning,
    /// Ticks to the quarter, 480 to 32,767.
    pub per_quarter: u16,
    /// Where the last bar ends.
    pub end: u32,
    /// Microseconds a quarter takes, 24 bits, from each time on.
    pub tempos: Vec<(u32, u32)>,
    /// Meters, each from a bar line on.
    pub meters: Vec<(u32, MeterMark)>,
    /// Key signatures in sounding pitch.
    pub keys: Vec<(u32, KeyMark)>,
    /// The lines at the head of each sheet, where it begins.
    pub heads: Vec<(u32, String)>,
    /// Headings and rehearsal letters.
    pub markers: Vec<(u32, String)>,
    /// Labels under the line.
    pub lyrics: Vec<(u32, String)>,
    /// Where the count-in ends; 0 without one.
    pub counted_in: u32,
    /// How loud each plays.
    pub levels: Levels,
    /// The roles of the take with what they play, in this order: line,
    /// chords, drone, bass, drums, count, click.
    pub roles: Vec<(Role, Vec<Strike>)>,
}

impl Performance {
    /// Microseconds from the beginning to a tick, rounded down.
    pub fn microseconds(&self, tick: u32) -> u64 {
        self.clock().microseconds(tick)
    }

    /// Its tempos, ready to be asked.
    pub(crate) fn clock(&self) -> Clock {
        Clock::of(self.per_quarter, &self.tempos)
    }

    /// What a role plays; nothing if the take has it not.
    pub fn strikes(&self, role: Role) -> &[Strike] {
        self.roles
            .iter()
            .find(|(one, _)| *one == role)
            .map_or(&[], |(_, strikes)| strikes)
    }
}

/// A note as it is played: it lasts at least a tick, and ends before the
/// same key sounds again in its role, or as it does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub struct Strike {
    /// Where it begins.
    pub onset: u32,
    /// Where it ends.
    pub end: u32,
    /// MIDI number, 0 to 127; for drums and click a General MIDI percussion
    /// key.
    pub key: u8,
    /// 1 to 127.
    pub velocity: u8,
    /// How it is played.
    pub touch: Touch,
    /// The written note that it is; none in what accompanies.
    pub note: Option<NoteOf>,
}

impl Strike {
    /// A note that accompanies, unless it would last less than a tick.
    pub(crate) fn of(onset: u64, end: u64, key: u8, velocity: u8) -> Option<Strike> {
        (onset < end).then_some(Strike {
            onset: onset as u32,
            end: end as u32,
            key,
            velocity,
            touch: Touch::Plain,
            note: None,
        })
    }
}

/// How a note of the line is played. What accompanies is plain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Touch {
    /// As it comes: let go a little before its end.
    #[default]
    Plain,
    /// Short; its end says it already.
    Staccato,
    /// Held to its end.
    Tenuto,
    /// Held to its end, where the next follows without a new attack.
    Slurred,
}

/// A written note.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NoteOf {
    /// The sheet, from 0, in the order they were given.
    pub sheet: u16,
    /// The note on it, from 0, tied ones being one.
    pub note: u32,
}

/// A meter as a file says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct MeterMark {
    /// The upper number.
    pub upper: u8,
    /// The lower number, a power of two.
    pub lower: u8,
    /// MIDI clocks to the felt beat, 24 to the quarter.
    pub clocks: u8,
}

/// A key signature as a file says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct KeyMark {
    /// Sharps positive, flats negative, −7 to 7.
    pub fifths: i8,
    /// Whether it is written as a minor key.
    pub minor: bool,
}
