//! What an exercise leaves to its student: bars to answer in, what is hidden,
//! how much is given.

use lesson::{Direction, Exercise, ExerciseKind, Given, Hide, Label, Span, Trade};
use theory::Ladder;

use crate::limit;
use crate::meaning::exercise_numbers::ExerciseNumbers;
use crate::meaning::material::Material;
use crate::meaning::setting::Setting;
use crate::mistakes::report::Report;
use crate::mistakes::saying::{Saying, Spanned, Unclear};
use crate::typed::exercise::ExerciseText;

impl Material<'_> {
    /// The bars of a `trade`: as many statements as are said, and as many bars
    /// to answer in as they take.
    pub(crate) fn trade(
        &self,
        exercise: &ExerciseText,
        figure: usize,
        report: &mut Report<'_>,
    ) -> Option<Trade> {
        let figure = &self.figures.get(figure)?.figure;
        // The fewest statements that fill whole bars.
        let share = figure.count.length / figure.meter.bar();
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
                &said.span,
                format!(
                    "written = {} doesn't hold whole statements of the figure: {takes}",
                    said.value
                ),
                help,
            );
            return None;
        }
        Some(Trade {
            statements: u16::try_from(statements * written / bars).ok()?,
            bars: u16::try_from(exercise.slashes.or(written)?).ok()?,
        })
    }

    /// A worksheet of which everything is given asks nothing. How long it is
    /// depends on the horn where it goes over the whole of it: then the sheet
    /// itself shows.
    pub(crate) fn asks_something(
        &self,
        text: &ExerciseText,
        exercise: &Exercise,
        setting: &Setting<'_>,
        report: &mut Report<'_>,
    ) -> Option<()> {
        let (players, keys) = (setting.players?, setting.keys?);
        let given = exercise.given?;
        let plays = |at: &usize| {
            exercise
                .only_for
                .as_ref()
                .is_none_or(|who| who.contains(at))
        };
        let figure = &self.figures.get(exercise.kind.figure()?)?.figure;
        let through_keys = matches!(exercise.kind, ExerciseKind::Keys(_));
        let once = matches!(exercise.kind.material(), lesson::Material::Once(_));
        let size = Ladder::new(self.scale_at(exercise.scale)?).size();
        for (_, player) in players.iter().enumerate().filter(|(at, _)| plays(at)) {
            let keys = if through_keys {
                let own = exercise.keys.as_ref().or(player.keys.as_ref());
                own.unwrap_or(keys).classes().len()
            } else {
                1
            };
            let statements = keys as i64 * statements(exercise, size)?;
            let closing = i64::from(!once);
            let bars = figure.count.length * statements / figure.meter.bar();
            let bars = bars.ceil().to_integer() + closing;
            let left = match given {
                Given::First => statements > 1 || bars > 1,
                Given::Bars(given) => bars > i64::from(given),
            };
            if left {
                continue;
            }
            let own = exercise.keys.is_none() && player.keys.is_some();
            let who = match &player.name {
                Some(name) if own => format!(" for {name}"),
                _ => String::new(),
            };
            let (span, message) = match (&text.given, given) {
                (Saying::Said(said), Given::Bars(given)) => (
                    &said.span,
                    format!(
                        "this worksheet asks nothing{who}: it has {bars} bars, and {given} are given"
                    ),
                ),
                _ => (
                    &text.kind.said()?.span,
                    format!(
                        "this worksheet asks nothing{who}: the figure is said once, and that is given"
                    ),
                ),
            };
            let help = if through_keys {
                "name more keys, or give fewer bars"
            } else {
                "give fewer bars, or let the line be longer"
            };
            report.mistake(span, message, help);
            return None;
        }
        Some(())
    }

    /// What is left out of an exercise, if it is there.
    pub(crate) fn hide(
        &self,
        exercise: &ExerciseText,
        numbers: &ExerciseNumbers,
        setting: &Setting<'_>,
        report: &mut Report<'_>,
    ) -> Result<Option<Hide>, Unclear> {
        match exercise.hide.said() {
            Some(said) => self
                .hidden(said, exercise, numbers, setting, report)
                .map(Some)
                .ok_or(Unclear),
            None => exercise.hide.maybe(),
        }
    }

    fn hidden(
        &self,
        said: &Spanned<Hide>,
        exercise: &ExerciseText,
        numbers: &ExerciseNumbers,
        setting: &Setting<'_>,
        report: &mut Report<'_>,
    ) -> Option<Hide> {
        let labels = match &exercise.labels {
            Saying::Unsaid => setting.labels.clone(),
            own => own.or(Vec::new()),
        };
        let (there, what, help) = match said.value {
            Hide::Notes => return Some(Hide::Notes),
            Hide::Degrees => (
                labels?.contains(&Label::Degrees),
                "no row of degrees is asked for",
                "write labels = [\"degrees\"] too, for the answers",
            ),
            Hide::Chords if !shows_chords(exercise, setting)? => (
                false,
                "chord_symbols = false leaves them out",
                "keep one of the two",
            ),
            Hide::Chords => (
                !exercise.chord.is_unsaid()
                    || self
                        .literal(numbers.figure)
                        .is_some_and(|phrase| !phrase.chords.is_empty())
                    || self
                        .scales?
                        .get(numbers.scale)?
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
            report.mistake(&said.span, message, help);
        }
        there.then_some(said.value)
    }
}

/// Whether chord symbols stand over an exercise.
pub(crate) fn shows_chords(exercise: &ExerciseText, setting: &Setting<'_>) -> Option<bool> {
    exercise.chord_symbols.or(setting.chord_symbols?)
}

/// How many statements an exercise has, on a horn that holds it; none where
/// that is the horn's to say.
fn statements(exercise: &Exercise, size: i32) -> Option<i64> {
    let ways = |direction| match direction {
        Direction::UpAndDown => 2,
        Direction::Up | Direction::Down => 1,
    };
    match exercise.kind.material() {
        lesson::Material::Once(once) => Some(ways(once.direction)),
        lesson::Material::Sequence(sequence) => {
            let octaves = match sequence.span {
                Span::OneOctave => 1,
                Span::TwoOctaves => 2,
                Span::WholeHorn => return None,
            };
            Some(ways(sequence.direction) * (octaves * i64::from(size) + 1))
        }
        lesson::Material::Run(_)
        | lesson::Material::Changes(..)
        | lesson::Material::GuideTones(_)
        | lesson::Material::Targets(_) => None,
    }
}

/// What is given of an exercise that the student writes out.
pub(crate) fn given(text: &ExerciseText) -> Result<Option<Given>, Unclear> {
    let bars = match text.given.maybe()? {
        Some(bars) => Given::Bars(u16::try_from(bars).map_err(|_| Unclear)?),
        None => Given::First,
    };
    Ok(text.writes_out.then_some(bars))
}
