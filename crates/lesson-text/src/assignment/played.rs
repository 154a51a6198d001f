//! An exercise with everything decided.

use lesson::{ComingDown, Ending, Exercise, ExerciseKind, Say, Span};

use super::student::{given, shows_chords};
use super::{Material, Part, Setting};
use crate::exercise::ExerciseText;
use crate::over::over;
use crate::progression::Progression;
use crate::report::Report;
use crate::said::Saying;

/// What an exercise says, and what it plays.
pub(super) struct Played<'a> {
    pub text: &'a ExerciseText,
    pub part: &'a Part,
    /// Its figure among the lesson's.
    pub figure: Option<usize>,
    /// For whom it is; none for all.
    pub only_for: Option<Vec<usize>>,
    pub setting: &'a Setting<'a>,
}

impl Played<'_> {
    /// An exercise over changes.
    pub(super) fn over_changes(
        &self,
        material: &mut Material<'_>,
        progression: &Progression,
        report: &mut Report<'_>,
    ) -> Option<Exercise> {
        let over = over(material, self.text, self.part, progression, report)?;
        let first = over.choruses.first()?.figures.first();
        let figure = first.and_then(|(_, figures)| figures.first().copied());
        Some(Exercise {
            scale: progression.home,
            over: Some(over),
            hide: self.text.hide.maybe()?,
            ..self.exercise(figure)?
        })
    }

    /// An exercise for each variant of its figure, and what is to be said of
    /// those left out.
    pub(super) fn variants(
        &self,
        material: &mut Material<'_>,
        report: &mut Report<'_>,
    ) -> Option<(Vec<Exercise>, Vec<String>)> {
        let (text, part) = (self.text, self.part);
        let (played, left_out) = material.variants(text, part, self.figure, report)?;
        let hide = material.hide(text, part, self.setting, report)?;
        let mut exercises = Vec::with_capacity(played.len());
        for (place, figure) in played.into_iter().enumerate() {
            let trade = material.trade(text, part, figure, report)?;
            let exercise = Exercise {
                trade,
                hide,
                ..self.exercise(figure)?
            };
            material.asks_something(text, &exercise, self.setting, report);
            exercises.push(match place {
                0 => exercise,
                // What the teacher says of them all stands over the first.
                _ => Exercise {
                    heading: None,
                    text: Vec::new(),
                    ..exercise
                },
            });
        }
        Some((exercises, left_out))
    }

    fn exercise(&self, figure: Option<usize>) -> Option<Exercise> {
        let (text, part, setting) = (self.text, self.part, self.setting);
        let span = match part.kind {
            ExerciseKind::Scale => Span::WholeHorn,
            ExerciseKind::Figure
            | ExerciseKind::Sequence
            | ExerciseKind::Keys
            | ExerciseKind::Intervals
            | ExerciseKind::Runs
            | ExerciseKind::Trade
            | ExerciseKind::Changes
            | ExerciseKind::GuideTones
            | ExerciseKind::Targets => Span::OneOctave,
        };
        let say = text.say.or(Say::default())?;
        let own_keys = match &text.keys {
            Saying::Unsaid => None,
            said => Some(said.said()?.value.keys(setting.keys?)),
        };
        Some(Exercise {
            kind: part.kind,
            say,
            broken: text.broken.or(false)?,
            only_for: self.only_for.clone(),
            heading: text.heading.maybe()?,
            text: text.text.clone()?,
            words: text.words.or(Vec::new())?,
            scale: part.scale,
            figure,
            direction: text.direction.or(part.kind.usual_direction(say))?,
            coming_down: text.coming_down.or(ComingDown::default())?,
            span: text.span.or(span)?,
            when_too_wide: text.when_too_wide.or(Default::default())?,
            ending: text.ending.or(Ending::default())?,
            chord: text.chord.maybe()?,
            chord_symbols: shows_chords(text, setting)?,
            level: text.level.maybe()?,
            keys: own_keys,
            tempo: text.tempo.maybe()?,
            labels: text.labels.maybe()?,
            dynamic: text.dynamic.maybe()?,
            breath: text.breath.maybe()?,
            trade: None,
            given: given(text)?,
            hide: None,
            over: None,
        })
    }
}
