//! What an exercise leaves to its student: bars to answer in, what is hidden,
//! how much is given.

use lesson::{ExerciseKind, Given, Hide, Label, Trade};

use super::{Hall, Part};
use crate::exercise::ExerciseText;
use crate::limit;
use crate::report::Report;
use crate::said::Saying;

impl Hall<'_> {
    /// The bars of a `trade`: as many statements as are said, and as many bars
    /// to answer in as they take.
    pub(crate) fn trade(
        &self,
        exercise: &ExerciseText,
        part: &Part,
        figure: Option<usize>,
        report: &mut Report<'_>,
    ) -> Option<Option<Trade>> {
        if part.kind != ExerciseKind::Trade {
            return Some(None);
        }
        let figure = &self.figures.get(figure?)?.figure;
        // The fewest statements that fill whole bars.
        let share = figure.count.span / figure.meter.bar();
        let (bars, statements) = (*share.numer(), *share.denom());
        let written = exercise.written.or(bars)?;
        if let Saying::Said(said) = &exercise.written
            && said.value % bars != 0
        {
            let takes = match (statements, bars) {
                (1, 1) => "each takes 1 bar".to_owned(),
                (1, bars) => format!("each takes {bars} bars"),
                (several, 1) => format!("{several} of them take 1 bar"),
                (several, bars) => format!("{several} of them take {bars} bars"),
            };
            let help = if bars > *limit::BARS.end() {
                "leave it out".to_owned()
            } else {
                format!("write written = {bars}, or a multiple of it")
            };
            report.mistake(
                &said.place,
                format!(
                    "written = {} doesn't hold whole statements of the figure: {takes}",
                    said.value
                ),
                help,
            );
            return None;
        }
        Some(Some(Trade {
            statements: u16::try_from(statements * written / bars).ok()?,
            bars: u16::try_from(exercise.slashes.or(written)?).ok()?,
        }))
    }

    /// What is left out of an exercise, if it is there.
    pub(crate) fn hide(
        &self,
        exercise: &ExerciseText,
        part: &Part,
        usual: &Saying<Vec<Label>>,
        report: &mut Report<'_>,
    ) -> Option<Option<Hide>> {
        let Some(said) = exercise.hide.said() else {
            return exercise.hide.maybe();
        };
        let labels = match &exercise.labels {
            Saying::Unsaid => usual,
            own => own,
        };
        let (there, what, help) = match said.value {
            Hide::Notes => return Some(Some(Hide::Notes)),
            Hide::Degrees => (
                labels.or(Vec::new())?.contains(&Label::Degrees),
                "no row of degrees is asked for",
                "write labels = [\"degrees\"] too, for the answers",
            ),
            Hide::Chords => (
                !exercise.chord.is_unsaid()
                    || self
                        .scales?
                        .get(part.scale)?
                        .scale
                        .as_ref()?
                        .chord
                        .is_some(),
                "no chord is shown over it",
                "write chord = and the chord, or leave it out",
            ),
        };
        if !there {
            let message = format!("hide has nothing to leave out: {what}");
            report.mistake(&said.place, message, help);
        }
        there.then_some(Some(said.value))
    }
}

/// What is given of an exercise that the student writes out.
pub(crate) fn given(text: &ExerciseText) -> Option<Option<Given>> {
    let bars = match text.given.maybe()? {
        Some(bars) => Given::Bars(u16::try_from(bars).ok()?),
        None => Given::First,
    };
    Some(text.writes_out.then_some(bars))
}
