//! The score and the part it holds.

use theory::{Clef, Instrument, Pitch};

use crate::{Chords, Element, Exercise, HeadLine, Imprint, Measure};

/// One sheet: a single-line part with its head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Score {
    /// The lesson's title, the sheet's own.
    pub title: String,
    /// The line under it.
    pub subtitle: Option<String>,
    /// What the teacher says on every sheet of the lesson.
    pub imprint: Imprint,
    /// Lines at the head's left and right: class, level, `Written A · concert
    /// C`, the moves in words.
    pub head: Vec<HeadLine>,
    /// How the page is set.
    pub page: Page,
    /// Ticks to the quarter, 1 to 16,383, the same in every measure.
    pub divisions: u32,
    /// The chords that occur; notes and rests point into them.
    pub chords: Chords,
    /// What each exercise is played over, by the numbers that notes' origins
    /// have.
    pub exercises: Vec<Exercise>,
    /// The part.
    pub part: Part,
}

impl Score {
    /// Bars as a player counts them: pickups are none.
    pub fn bars(&self) -> usize {
        self.part
            .measures
            .iter()
            .filter(|measure| !measure.implicit)
            .count()
    }

    /// The lowest written pitch by sound, and of two that sound alike the
    /// lower on the staff; none for a sheet without a note.
    pub fn lowest(&self) -> Option<Pitch> {
        self.pitches().min_by_key(height)
    }

    /// The highest written pitch by sound, and of two that sound alike the
    /// higher on the staff; none for a sheet without a note.
    pub fn highest(&self) -> Option<Pitch> {
        self.pitches().max_by_key(height)
    }

    /// Every written pitch in order, ties not joined.
    pub(crate) fn pitches(&self) -> impl Iterator<Item = Pitch> {
        self.part
            .measures
            .iter()
            .flat_map(|measure| &measure.elements)
            .filter_map(|element| match element {
                Element::Note(note) => Some(note.pitch),
                Element::Rest(_) | Element::Slash(_) => None,
            })
    }
}

fn height(pitch: &Pitch) -> (i16, i16) {
    (pitch.midi(), pitch.steps())
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

#[cfg(test)]
mod tests {
    use theory::{ClefSign, Interval};

    use super::*;
    use crate::sample::{note, rest, score};

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
    fn bars_lowest_and_highest() {
        let mut sheet = score(
            4,
            [
                vec![note("G4", 4)],
                vec![rest(4), note("E#4", 4), note("F4", 4), note("A5", 4)],
            ],
        );
        sheet.part.measures[0].implicit = true;
        assert_eq!(sheet.bars(), 1);
        assert_eq!(sheet.lowest(), "E#4".parse().ok());
        assert_eq!(sheet.highest(), "A5".parse().ok());
        let silent = score(4, [vec![rest(16)], vec![rest(16)]]);
        assert_eq!(
            (silent.bars(), silent.lowest(), silent.highest()),
            (2, None, None)
        );
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
