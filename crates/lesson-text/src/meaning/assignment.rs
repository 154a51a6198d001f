//! Which figure on which scale each exercise plays.
//!
//! A figure whose words name degrees goes other ways on other scales: each way
//! becomes a figure of its own, and so does each variant.

use lesson::{Exercise, Figure, KindName};

use crate::limit;
use crate::meaning::exercise_maker::ExerciseMaker;
use crate::meaning::exercise_numbers::{ExerciseNumbers, variants_span};
use crate::meaning::material::Material;
use crate::meaning::players::meant_for;
use crate::meaning::progression::Progression;
use crate::meaning::setting::Setting;
use crate::mistakes::report::Report;
use crate::mistakes::saying::Unclear;
use crate::typed::exercise::ExerciseText;
use crate::typed::figures::figure::FigureText;
use crate::typed::lesson_text::LessonText;

/// The exercises of a lesson that names none.
const USUAL: [KindName; 3] = [KindName::Scale, KindName::Figure, KindName::Sequence];

/// What a lesson's exercises come to.
pub(crate) struct Assignment {
    pub figures: Vec<Figure>,
    pub exercises: Vec<Exercise>,
    /// What of series of variants was left out.
    pub remarks: Vec<String>,
}

/// The figures and exercises of a lesson; `None` where any is unclear.
pub(crate) fn assign(
    text: &LessonText,
    progression: Option<&Progression>,
    setting: &Setting<'_>,
    report: &mut Report<'_>,
) -> Option<Assignment> {
    let unsaid: Vec<ExerciseText>;
    let exercises = match text.exercises.as_deref()? {
        [] => {
            unsaid = usual(text, progression, report)?;
            unsaid.as_slice()
        }
        said => said,
    };
    let mut material = Material::new(text);
    let numbers: Vec<Option<ExerciseNumbers>> = exercises
        .iter()
        .map(|exercise| material.numbers(exercise, report))
        .collect();
    let figures = numbered(&mut material, exercises, &numbers, progression, report);
    let whom: Vec<_> = exercises
        .iter()
        .map(|exercise| meant_for(&exercise.only_for, setting, report))
        .collect();
    let mut remarks = Vec::new();
    let mut finished = Vec::new();
    for (index, text) in exercises.iter().enumerate() {
        let maker = ExerciseMaker {
            text,
            numbers: numbers[index].as_ref()?,
            figure: figures[index].ok()?,
            only_for: whom[index].clone().ok()?,
            progression,
            setting,
        };
        let (exercises, left_out) = maker.exercises(&mut material, report)?;
        finished.extend(exercises);
        remarks.extend(left_out.into_iter().map(|remark| {
            let kind = maker.numbers.kind.word();
            format!("exercise {} ({kind}): {remark}", index + 1)
        }));
        few_enough(&finished, text, report)?;
    }
    material.one_clock(report);
    Some(Assignment {
        figures: material.into_figures(),
        exercises: finished,
        remarks,
    })
}

/// The exercises of a lesson that says none.
fn usual(
    text: &LessonText,
    progression: Option<&Progression>,
    report: &mut Report<'_>,
) -> Option<Vec<ExerciseText>> {
    let figures = text.figures.as_deref();
    let none = figures.is_some_and(<[FigureText]>::is_empty);
    if none && progression.is_none() {
        let help = "write [figure] alone on a line and moves = \"start, step up, …\" below it";
        let message = "the lesson has no figure and no exercise";
        report.missing(&text.span, message, help);
        return None;
    }
    let first = figures.and_then(<[FigureText]>::first);
    let literal = first.is_some_and(|figure| figure.literal);
    let kinds = match (progression, none) {
        (Some(_), true) => &[KindName::GuideTones][..],
        (Some(_), false) => &[KindName::Changes],
        (None, _) if literal => &[KindName::Figure],
        (None, _) => &USUAL,
    };
    Some(kinds.iter().copied().map(ExerciseText::plain).collect())
}

/// The number of each exercise's figure among the lesson's; none where it plays
/// none, or one on each chord's scale.
fn numbered(
    material: &mut Material<'_>,
    exercises: &[ExerciseText],
    numbers: &[Option<ExerciseNumbers>],
    progression: Option<&Progression>,
    report: &mut Report<'_>,
) -> Vec<Result<Option<usize>, Unclear>> {
    let mut figures = vec![Err(Unclear); numbers.len()];
    let by_kind = numbers.iter().enumerate();
    let mut by_kind: Vec<(usize, &ExerciseNumbers)> = by_kind
        .filter_map(|(at, numbers)| Some((at, numbers.as_ref()?)))
        .collect();
    // A scale takes only the meter of its figure, on whatever scale that is
    // played elsewhere: so scales come last.
    by_kind.sort_by_key(|(_, numbers)| numbers.kind == KindName::Scale);
    for (at, numbers) in by_kind {
        figures[at] = if numbers.kind.row().over_changes {
            // Resolved on each chord's scale, once all others are.
            with_changes(&exercises[at], numbers.kind, progression, report)
                .map(|()| None)
                .ok_or(Unclear)
        } else {
            material.figure_of(&exercises[at], numbers, report)
        };
    }
    figures
}

/// Tells where variants make more exercises than a lesson holds.
fn few_enough(finished: &[Exercise], text: &ExerciseText, report: &mut Report<'_>) -> Option<()> {
    if finished.len() <= limit::EXERCISES {
        return Some(());
    }
    let message = format!(
        "with these variants the lesson has {} exercises",
        finished.len()
    );
    let most = limit::EXERCISES;
    let help = format!("a lesson has at most {most}: name fewer variants");
    report.mistake(&variants_span(text), message, help);
    None
}

/// An exercise over changes needs some.
fn with_changes(
    text: &ExerciseText,
    kind: KindName,
    progression: Option<&Progression>,
    report: &mut Report<'_>,
) -> Option<()> {
    if progression.is_none() {
        report.missing(
            &text.kind.said().map_or(0..0, |said| said.span.clone()),
            format!("an exercise of the kind {} needs changes", kind.word()),
            "write [changes] alone on a line, and bars = \"| C7 | F7 |\" below it",
        );
    }
    progression.map(|_| ())
}
