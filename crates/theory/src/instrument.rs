//! Instruments: how they are written, how they sound, how far they reach.

use std::borrow::Cow;

use crate::{Interval, Level, NameError, Pitch};

/// A clef's sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ClefSign {
    /// G clef.
    G,
    /// F clef.
    F,
    /// C clef.
    C,
}

/// A clef on its line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Clef {
    /// Its sign.
    pub sign: ClefSign,
    /// Line of the staff, 1 lowest.
    pub line: u8,
    /// −1 for the treble clef with an 8 below.
    pub octave_change: i8,
}

/// The family an instrument belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Family {
    Woodwind,
    Brass,
    Strings,
    Plucked,
    Keyboard,
    Percussion,
    Voice,
    Generic,
}

/// Lowest and highest written pitch, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Range {
    /// Lowest written pitch.
    pub low: Pitch,
    /// Highest written pitch.
    pub high: Pitch,
}

impl Range {
    /// Whether a written pitch lies in it, by sound.
    pub fn holds(&self, pitch: Pitch) -> bool {
        (self.low.midi()..=self.high.midi()).contains(&pitch.midi())
    }

    /// Twice its middle, in MIDI numbers, so that halves stay whole.
    pub fn twice_middle(&self) -> i32 {
        i32::from(self.low.midi()) + i32::from(self.high.midi())
    }
}

/// The horn's own crossing between registers, written: the clarinet's B flat
/// to B, the saxophone's C sharp to D. `below` is the last pitch under it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct RegisterBreak {
    /// The highest written pitch of the lower register.
    pub below: Pitch,
}

/// An instrument of the catalogue, or one that a lesson defines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Instrument {
    /// Stable id: `alto-saxophone`. Also the name of its folder.
    pub id: Cow<'static, str>,
    /// What is printed: `Alto Saxophone in E♭`.
    pub name: Cow<'static, str>,
    /// What is printed before later systems: `A. Sax.`.
    pub abbreviation: Cow<'static, str>,
    /// Its family.
    pub family: Family,
    /// The clef it reads.
    pub clef: Clef,
    /// What to add to the written pitch to get the sound.
    pub written_to_sounding: Interval,
    /// Written ranges of beginner, intermediate and advanced players.
    pub ranges: [Range; 3],
    /// All that can be got out of it.
    pub extreme: Range,
    /// Its registers' crossing, where it has a notorious one.
    pub register_break: Option<RegisterBreak>,
    /// General MIDI program, 1 to 128.
    pub midi_program: u8,
    /// The standard's sound id: `wind.reed.saxophone.alto`.
    pub sound_id: Cow<'static, str>,
}

impl Instrument {
    /// Every instrument of the catalogue, in the order they are listed.
    pub fn catalogue() -> Vec<Instrument> {
        todo!()
    }

    /// By id, name or alias.
    ///
    /// # Errors
    /// A name that no instrument has, with near misses, or that several have.
    pub fn named(text: &str) -> Result<Instrument, NameError> {
        todo!()
    }

    /// The names that also find it, besides id and name.
    pub fn aliases(&self) -> Vec<&'static str> {
        todo!()
    }

    /// The written range at a level.
    pub fn range(&self, level: Level) -> Range {
        self.ranges[level as usize]
    }
}
