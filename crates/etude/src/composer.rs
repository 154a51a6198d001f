//! All the sheets of a lesson, each composed on its own from what they share.

use lesson::Lesson;
use rhythm::TickError;
use theory::{Interval, PitchName};

use crate::{LeftOut, Sheet};

/// One sheet to be made: a player in a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SheetPlan {
    /// Which player of the lesson.
    pub player: usize,
    /// Place of the key in the lesson's order, from 1; gaps stay where a
    /// player leaves keys out.
    pub number: u16,
    /// The concert root.
    pub concert: PitchName,
    /// The written root.
    pub written: PitchName,
    /// Written to sounding, with the letters that the two names give.
    pub written_to_sounding: Interval,
}

/// Composes the sheets of one lesson. What all keys share is worked out once.
#[derive(Debug)]
pub struct Composer<'a> {
    lesson: &'a Lesson,
    plans: Vec<SheetPlan>,
}

impl<'a> Composer<'a> {
    /// Prepares a lesson.
    ///
    /// # Errors
    /// When its rhythms need finer ticks than readers take.
    pub fn new(lesson: &'a Lesson) -> Result<Composer<'a>, TickError> {
        Ok(Composer { lesson, plans: Vec::new() })
    }

    /// The lesson.
    pub fn lesson(&self) -> &'a Lesson {
        self.lesson
    }

    /// Every sheet, player by player in the lesson's order, keys in order.
    pub fn plans(&self) -> &[SheetPlan] {
        &self.plans
    }

    /// Composes one sheet; the same plan gives the same sheet on any thread.
    ///
    /// # Errors
    /// When an exercise fits nowhere on the horn in that key.
    pub fn compose(&self, plan: &SheetPlan) -> Result<Sheet, LeftOut> {
        todo!("{plan:?}")
    }
}
