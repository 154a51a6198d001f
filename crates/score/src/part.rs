//! A part, and how it sounds.

use theory::{Clef, Instrument};

use crate::Measure;

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

#[cfg(test)]
mod tests {
    use theory::{ClefSign, Interval};

    use super::*;
    use crate::sample::score;

    #[test]
    fn transpositions_are_split_as_the_standard_does() {
        let check = |steps, semitones, expected: Option<(i16, i16, i16)>| {
            let interval = Interval::from_steps(steps, semitones);
            let split = Transposition::of(interval);
            assert_eq!(
                split.map(|t| (t.diatonic, t.chromatic, t.octave_change)),
                expected,
                "{steps} {semitones}"
            );
            assert_eq!(
                split.map_or(Interval::UNISON, Transposition::interval),
                interval
            );
        };
        // MusicXML 4.0 `transpose`, and the intervals of common horns.
        check(0, 0, None);
        check(-1, -2, Some((-1, -2, 0)));
        check(-2, -3, Some((-2, -3, 0)));
        check(-4, -7, Some((-4, -7, 0)));
        check(-5, -9, Some((-5, -9, 0)));
        check(2, 3, Some((2, 3, 0)));
        check(-7, -12, Some((0, 0, -1)));
        check(7, 12, Some((0, 0, 1)));
        check(-8, -14, Some((-1, -2, -1)));
        check(-12, -21, Some((-5, -9, -1)));
        check(-15, -26, Some((-1, -2, -2)));
        // Concert B written D flat by a B flat horn, and an octave lower.
        check(-2, -2, Some((-2, -2, 0)));
        check(-9, -14, Some((-2, -2, -1)));
    }

    #[test]
    fn a_part_takes_what_is_printed_from_its_instrument() {
        let part = score(4, []).part;
        assert_eq!(
            (part.name.as_str(), part.abbreviation.as_str()),
            ("Tenor Recorder", "T. Rec.")
        );
        assert_eq!(
            (part.sound_id.as_str(), part.midi_program),
            ("wind.flutes.recorder.tenor", 75)
        );
        assert_eq!((part.clef.sign, part.clef.line), (ClefSign::G, 2));
        assert_eq!(part.transposition, None);
    }
}
