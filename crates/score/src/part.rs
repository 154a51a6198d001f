//! The score and the part it holds.

use theory::{ChordSymbol, Clef, Instrument};

use crate::Measure;

/// One sheet: a single-line part with its head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Score {
    /// The lesson's title, the sheet's own.
    pub title: String,
    /// The line under it.
    pub subtitle: Option<String>,
    /// Lines at the head's left and right: class, level, `Written A · concert
    /// C`, the moves in words.
    pub head: Vec<String>,
    /// How the page is set.
    pub page: Page,
    /// Ticks to the quarter, 1 to 16,383, the same in every measure.
    pub divisions: u32,
    /// The chord symbols that occur, in written pitch; notes and rests point
    /// into them.
    pub chords: Vec<ChordSymbol>,
    /// The part.
    pub part: Part,
}

/// A single-line part in written pitch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// `Alto Saxophone in E♭`.
    pub name: String,
    /// `A. Sax.`
    pub abbreviation: String,
    /// The standard's sound id.
    pub sound_id: String,
    /// General MIDI program, 1 to 128.
    pub midi_program: u8,
    /// Its clef.
    pub clef: Clef,
    /// What to add to what is written; none for a part that sounds as written.
    pub transposition: Option<Transposition>,
    /// In order.
    pub measures: Vec<Measure>,
}

impl Part {
    /// Name, abbreviation, sound, program and clef of an instrument.
    pub fn of(instrument: &Instrument, transposition: Option<Transposition>) -> Part {
        Part {
            name: instrument.name.to_string(),
            abbreviation: instrument.abbreviation.to_string(),
            sound_id: instrument.sound_id.to_string(),
            midi_program: instrument.midi_program,
            clef: instrument.clef,
            transposition,
            measures: Vec::new(),
        }
    }
}

/// Written to sounding, as the standard splits it: letters and semitones
/// within the octave, all of one sign, and whole octaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Transposition {
    /// Letters, less the octaves.
    pub diatonic: i16,
    /// Semitones, less the octaves.
    pub chromatic: i16,
    /// Whole octaves.
    pub octave_change: i16,
}

impl Transposition {
    /// From the interval to add to a written pitch; none for a unison.
    pub fn of(written_to_sounding: theory::Interval) -> Option<Transposition> {
        if written_to_sounding == theory::Interval::UNISON {
            return None;
        }
        let semitones = written_to_sounding.semitones();
        let octave_change = semitones / 12;
        Some(Transposition {
            diatonic: written_to_sounding.steps() - 7 * octave_change,
            chromatic: semitones - 12 * octave_change,
            octave_change,
        })
    }

    /// The interval to add to a written pitch.
    pub fn interval(self) -> theory::Interval {
        theory::Interval::from_steps(
            self.diatonic + 7 * self.octave_change,
            self.chromatic + 12 * self.octave_change,
        )
    }
}

/// Paper and staff size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Page {
    /// Height of a five-line staff in tenths of a millimetre.
    pub staff_height: u16,
    /// Page width in tenths of a millimetre.
    pub width: u16,
    /// Page height in tenths of a millimetre.
    pub height: u16,
}
