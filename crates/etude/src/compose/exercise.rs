//! Composes what an exercise plays: which forms of the figure, begun on which
//! rungs, closing where.

use std::sync::OnceLock;

use lesson::{
    ComingDown, Ending, Exercise, ExerciseKind, Figure, Lesson, Once, ScaleRun, Sequence, TooWide,
    Trade,
};
use rhythm::{Fraction, Meter};
use theory::Ladder;

use crate::compose::course::{StatementCourse, octaves};
use crate::compose::figure::Cell;
use crate::compose::line::{FigureLine, Line, ScaleLine};
use crate::compose::literal::LiteralPhrase;
use crate::heights::Heights;

impl Line {
    /// The scale of an exercise.
    pub fn run(lesson: &Lesson, exercise: &Exercise, run: &ScaleRun) -> Line {
        let figure = run.meter.map(|at| &lesson.figures[at]);
        Line::Scale(ScaleLine {
            meter: figure.map_or_else(Meter::common, |figure| figure.meter.clone()),
            heights: heights(lesson, exercise),
            direction: run.direction,
            octaves: octaves(run.span),
            when_too_wide: run.when_too_wide,
        })
    }

    /// A figure said once.
    pub fn once(lesson: &Lesson, exercise: &Exercise, once: &Once, per_quarter: u32) -> Line {
        let request = Request {
            course: StatementCourse::Once(once.direction),
            coming_down: once.coming_down,
            when_too_wide: once.when_too_wide,
            closes: false,
            broken: false,
            trade: None,
        };
        let figure = &lesson.figures[once.figure];
        let heights = heights(lesson, exercise);
        Line::Figures(Box::new(FigureLine::of(
            figure,
            request,
            heights,
            per_quarter,
        )))
    }

    /// A figure on degree after degree.
    pub fn sequence(
        lesson: &Lesson,
        exercise: &Exercise,
        sequence: &Sequence,
        per_quarter: u32,
    ) -> Line {
        let (broken, trade) = match &exercise.kind {
            ExerciseKind::Intervals(study) | ExerciseKind::Runs(study) => (study.broken, None),
            ExerciseKind::Trade(_, trade) => (false, Some(*trade)),
            ExerciseKind::Scale(_)
            | ExerciseKind::Figure(_)
            | ExerciseKind::Sequence(_)
            | ExerciseKind::Keys(_)
            | ExerciseKind::Changes(..)
            | ExerciseKind::GuideTones(_)
            | ExerciseKind::Targets(_) => (false, None),
        };
        let request = Request {
            course: match octaves(sequence.span) {
                Some(octaves) => StatementCourse::Octaves(octaves, sequence.direction),
                None => StatementCourse::WholeHorn(sequence.direction),
            },
            coming_down: sequence.coming_down,
            when_too_wide: sequence.when_too_wide,
            closes: sequence.ending == Ending::Root,
            broken,
            trade,
        };
        let figure = &lesson.figures[sequence.figure];
        let heights = heights(lesson, exercise);
        Line::Figures(Box::new(FigureLine::of(
            figure,
            request,
            heights,
            per_quarter,
        )))
    }
}

/// Which statements of a figure are asked.
struct Request {
    course: StatementCourse,
    coming_down: ComingDown,
    when_too_wide: TooWide,
    closes: bool,
    broken: bool,
    trade: Option<Trade>,
}

impl FigureLine {
    fn of(figure: &Figure, request: Request, heights: Heights, per_quarter: u32) -> FigureLine {
        let literal = figure
            .literal
            .as_ref()
            .map(|literal| LiteralPhrase::of(literal, &figure.count, per_quarter));
        let heights = literal
            .as_ref()
            .map_or(heights, |literal| Heights::of(&literal.ladder));
        let size = heights.size();
        let first = figure
            .count
            .slots
            .first()
            .map_or(Fraction::ZERO, |slot| slot.onset);
        let last = figure
            .count
            .slots
            .last()
            .map_or(first, |slot| slot.onset + slot.length);
        let (rising, falling) = match &literal {
            Some(literal) => (literal.cell.clone(), literal.cell.clone()),
            None => (
                Cell::of(figure, size, per_quarter),
                Cell::coming_down(figure, request.coming_down, size, per_quarter),
            ),
        };
        FigureLine {
            meter: figure.meter.clone(),
            turned: request
                .broken
                .then(|| (rising.reversed(), falling.reversed())),
            rising,
            falling,
            heights,
            length: figure.count.length,
            ends_at: last + figure.count.pickup,
            pickup: figure.count.pickup,
            closes_with_rest: figure.count.closes_with_rest,
            counting: figure.count.counting,
            course: request.course,
            closes: request.closes,
            when_too_wide: request.when_too_wide,
            trade: request.trade,
            marks: figure.marks.clone(),
            literal,
            whole: OnceLock::new(),
        }
    }
}

/// The scale of an exercise in semitones.
fn heights(lesson: &Lesson, exercise: &Exercise) -> Heights {
    Heights::of(&Ladder::new(&lesson.scales[exercise.scale].scale))
}
