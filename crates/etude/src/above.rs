//! What stands above an exercise: its letter, tempo, loudness and feel, its
//! heading and the teacher's text.

use std::sync::{Arc, PoisonError};

use lesson::{Dynamic, Exercise, Feel, Tempo};
use rhythm::Meter;
use score::{Direction, TempoMark};

use crate::composer::Composer;
use crate::notate::heading;
use crate::notate::measures::beat_value;
use crate::notate::sentence::{Shown, sentence};
use crate::plan::SheetPlan;

/// What stands on a sheet so far and holds on.
#[derive(Debug, Default)]
pub(crate) struct InForce {
    /// Whether an exercise stands on it.
    begun: bool,
    tempo: Option<(Tempo, Direction)>,
    dynamic: Option<Dynamic>,
}

impl Composer<'_> {
    /// What stands over the first bar of an exercise, from above down to the
    /// music: renderers stack them in this order.
    pub(crate) fn over_first(
        &self,
        exercise: &Exercise,
        (letter, heading): (Option<&str>, &str),
        meter: &Meter,
        in_force: &mut InForce,
    ) -> Vec<Direction> {
        let letter = letter.map(|letter| Direction::Rehearsal(letter.to_owned()));
        let mut over = Vec::from_iter(letter);
        over.extend(self.signs(exercise, meter, in_force));
        if !heading.is_empty() {
            over.push(Direction::Heading(heading.to_owned().into()));
        }
        over.extend(exercise.text.iter().cloned().map(Direction::Text));
        over
    }

    /// What is said over an exercise for a player.
    pub(crate) fn words(&self, at: usize, plan: &SheetPlan, shown: Shown) -> Arc<str> {
        let mut words = self.words.lock().unwrap_or_else(PoisonError::into_inner);
        let said = words.entry((plan.player, at, shown)).or_insert_with(|| {
            let player = &self.lesson.players[plan.player];
            sentence(self.lesson, &self.lesson.exercises[at], player, shown).into()
        });
        Arc::clone(said)
    }

    /// Tempo, loudness and feel, where they aren't already in force.
    fn signs(&self, exercise: &Exercise, meter: &Meter, in_force: &mut InForce) -> Vec<Direction> {
        let mut signs = self.tempo_mark(exercise, meter, &mut in_force.tempo);
        let own = exercise.dynamic.or(self.lesson.dynamic);
        if own != in_force.dynamic
            && let Some(own) = own
        {
            signs.push(Direction::Dynamic(own.letters()));
        }
        in_force.dynamic = own;
        if !in_force.begun && matches!(self.lesson.feel, Feel::Swing(_)) {
            signs.push(Direction::Swing);
        }
        in_force.begun = true;
        signs
    }

    /// The tempo mark, where it isn't already in force, and a ladder's boxes.
    fn tempo_mark(
        &self,
        exercise: &Exercise,
        meter: &Meter,
        shown: &mut Option<(Tempo, Direction)>,
    ) -> Vec<Direction> {
        let Some(tempo) = exercise.tempo.or(self.lesson.tempo) else {
            return Vec::new();
        };
        let mark = Direction::Tempo(TempoMark {
            beat: beat_value(meter),
            per_minute: tempo.slowest(),
        });
        let now = Some((tempo, mark.clone()));
        let before = std::mem::replace(shown, now.clone());
        if before == now {
            return Vec::new();
        }
        [mark].into_iter().chain(heading::boxes(tempo)).collect()
    }
}
