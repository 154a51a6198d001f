//! Rule 1: what the twelve roots are called, at concert pitch and on a horn's
//! sheet, and the transposition that follows from the two names.

use crate::{Interval, PitchName, Scale};

/// Which way a tie between two names goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Preference {
    /// C#, F#, G#.
    Sharps,
    /// Db, Gb, Ab.
    Flats,
}

/// The concert name of a sounding root (pitch class, C = 0).
pub fn concert_root(class: u8, scale: &Scale, prefer: Option<Preference>) -> PitchName {
    todo!()
}

/// The written name of a concert root on a horn.
pub fn written_root(
    concert: PitchName,
    written_to_sounding: Interval,
    scale: &Scale,
    prefer: Option<Preference>,
) -> PitchName {
    todo!()
}

/// The written-to-sounding interval that a sheet prints: as many semitones as
/// the horn's own, its letters those between the two names (concert B for a B
/// flat horn written D flat: −2 letters, −2 semitones).
pub fn transposition(written: PitchName, concert: PitchName, written_to_sounding: Interval) -> Interval {
    todo!()
}
