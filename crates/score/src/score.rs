//! A sheet, and what can be asked of it.

use rhythm::{Fraction, Ticks};
use theory::Pitch;

use crate::{Chords, Element, Exercise, HeadLine, Imprint, Part};

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
    /// Notes, rests and slashes in order, and the ticks from the sheet's
    /// beginning at which each begins.
    pub fn elements(&self) -> impl Iterator<Item = (Ticks, &Element)> {
        let measures = self.part.measures.iter();
        let elements = measures.flat_map(|measure| &measure.elements);
        elements.scan(0, |end, element| {
            let begins = *end;
            *end += Ticks::from(element.written().length);
            Some((begins, element))
        })
    }

    /// Ticks in quarters.
    pub fn quarters(&self, ticks: Ticks) -> Fraction {
        Fraction::new(ticks, i64::from(self.divisions.max(1)))
    }

    /// The number of the exercise that a measure belongs to.
    pub fn exercise_of(&self, measure: usize) -> usize {
        let begun = self.exercises.partition_point(|one| one.first <= measure);
        begun.saturating_sub(1)
    }

    /// The exercise that begins with a measure.
    pub fn exercise_from(&self, measure: usize) -> Option<&Exercise> {
        self.exercises.iter().find(|one| one.first == measure)
    }

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
        self.elements().filter_map(|(_, element)| match element {
            Element::Note(note) => Some(note.pitch),
            Element::Rest(_) | Element::Slash(_) => None,
        })
    }
}

fn height(pitch: &Pitch) -> (i16, i16) {
    (pitch.midi(), pitch.steps())
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
    use super::*;
    use crate::sample::{exercise, note, rest, score};

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
    fn elements_are_timed_through_the_sheet() {
        let sheet = score(
            6,
            [vec![note("G4", 4), rest(2)], vec![], vec![note("A4", 9)]],
        );
        let begins: Vec<Ticks> = sheet.elements().map(|(at, _)| at).collect();
        assert_eq!(begins, [0, 4, 6]);
        assert_eq!(sheet.quarters(9), Fraction::new(3, 2));
        assert_eq!(score(0, []).quarters(2), Fraction::from(2));
    }

    #[test]
    fn measures_belong_to_the_exercise_begun_last() {
        let mut sheet = score(4, [const { Vec::new() }; 6]);
        assert_eq!((sheet.exercise_of(3), sheet.exercise_from(0)), (0, None));
        sheet.exercises = vec![exercise(0, 0), exercise(2, 2), exercise(3, 5)];
        let belong: Vec<usize> = (0..7).map(|at| sheet.exercise_of(at)).collect();
        assert_eq!(belong, [0, 0, 1, 1, 1, 2, 2]);
        let begin = |at: usize| sheet.exercise_from(at).map(|one| one.place);
        assert_eq!([0, 1, 2, 5].map(begin), [Some(0), None, Some(2), Some(3)]);
    }
}
