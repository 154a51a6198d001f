//! What an exercise plays, before any horn is thought of: which forms of the
//! figure, begun on which rungs, closing where.

use std::sync::{Arc, OnceLock};

use lesson::{Direction, Ending, Exercise, ExerciseKind, Figure, FigureMarks, Lesson, Span, Trade};
use rhythm::{Counting, Fraction, Meter};
use theory::{Form, Ladder, LineTone};

use crate::course::{Plan, Statement};
use crate::figure::Cell;
use crate::heights::{Heights, Reach};
use crate::literal::LiteralPhrase;

/// A composed line.
#[derive(Debug)]
pub(crate) enum Line {
    /// Statements of a figure.
    Figures(Box<FigureLine>),
    /// The scale itself.
    Scale(ScaleLine),
}

/// Statements of a figure: so many up, so many down.
#[derive(Debug)]
pub(crate) struct FigureLine {
    pub meter: Meter,
    /// The form said going up, and the one said coming down.
    pub rising: Cell,
    pub falling: Cell,
    /// Both as every second statement says them, where a study is broken.
    pub turned: Option<(Cell, Cell)>,
    pub heights: Heights,
    /// Quarters from one statement to the next, where the first ends, and
    /// what comes before its bar line.
    pub span: Fraction,
    pub ends_at: Fraction,
    pub pickup: Fraction,
    /// Whether the last statement closes with silence, where another's pickup
    /// would begin.
    pub closes_with_rest: bool,
    pub counting: Counting,
    pub course: Course,
    pub closes: bool,
    pub trade: Option<Trade>,
    pub marks: FigureMarks,
    /// The phrase that it is, where it is one note for note.
    pub literal: Option<LiteralPhrase>,
    /// All that is asked, worked out once for all keys and horns.
    pub whole: OnceLock<Option<Whole>>,
}

/// A line with every statement that is asked, as it is wherever it fits.
#[derive(Debug)]
pub(crate) struct Whole {
    pub plan: Plan,
    pub tones: Arc<[LineTone]>,
    /// Semitones above rung 0.
    pub reach: Reach,
}

/// Which rungs the statements are begun on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Course {
    /// Once from the root, or from the root above, or both.
    Once(Direction),
    /// On every rung of so many octaves.
    Octaves(i32, Direction),
    /// On every rung that fits.
    WholeHorn(Direction),
}

/// The scale in even eighths.
#[derive(Debug)]
pub(crate) struct ScaleLine {
    pub meter: Meter,
    pub heights: Heights,
    pub direction: Direction,
    /// Octaves from root to root; none for the whole horn.
    pub octaves: Option<i32>,
}

/// How long a line has become: statements (or, in a scale, notes) on the way
/// up and on the way down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Extent {
    pub ups: u16,
    pub downs: u16,
}

impl Line {
    /// Composes one exercise of a lesson.
    pub fn of(lesson: &Lesson, exercise: &Exercise, per_quarter: u32) -> Line {
        let scale = &lesson.scales[exercise.scale].scale;
        let heights = Heights::of(&Ladder::new(scale));
        let figure = exercise.figure.map(|at| &lesson.figures[at]);
        match (exercise.kind, figure) {
            (
                ExerciseKind::Figure
                | ExerciseKind::Sequence
                | ExerciseKind::Keys
                | ExerciseKind::Intervals
                | ExerciseKind::Runs
                | ExerciseKind::Trade,
                Some(figure),
            ) => Line::Figures(Box::new(FigureLine::of(
                figure,
                exercise,
                heights,
                per_quarter,
            ))),
            (_, figure) => Line::Scale(ScaleLine {
                meter: figure.map_or_else(Meter::common, |figure| figure.meter.clone()),
                heights,
                direction: exercise.direction,
                octaves: octaves(exercise.span),
            }),
        }
    }

    /// The figure's signs, if it has any.
    pub fn marks(&self) -> Option<&FigureMarks> {
        match self {
            Line::Figures(line) => {
                Some(&line.marks).filter(|marks| **marks != FigureMarks::default())
            }
            Line::Scale(_) => None,
        }
    }

    /// The phrase that it is, where it is one note for note.
    pub fn literal(&self) -> Option<&LiteralPhrase> {
        match self {
            Line::Figures(line) => line.literal.as_ref(),
            Line::Scale(_) => None,
        }
    }

    /// Whether a root is added at its end.
    pub fn closes(&self) -> bool {
        match self {
            Line::Figures(line) => line.closes,
            Line::Scale(_) => false,
        }
    }

    pub fn heights(&self) -> &Heights {
        match self {
            Line::Figures(line) => &line.heights,
            Line::Scale(line) => &line.heights,
        }
    }

    pub fn meter(&self) -> &Meter {
        match self {
            Line::Figures(line) => &line.meter,
            Line::Scale(line) => &line.meter,
        }
    }

    /// Octaves of a scale, none for the whole horn; nothing for statements that
    /// are counted.
    pub fn asked_octaves(&self) -> Option<Option<i32>> {
        match self {
            Line::Scale(line) => Some(line.octaves),
            Line::Figures(line) => match line.course {
                Course::WholeHorn(_) => Some(None),
                Course::Once(_) | Course::Octaves(..) => None,
            },
        }
    }

    /// How it is counted aloud.
    pub fn counting(&self) -> Counting {
        match self {
            Line::Figures(line) => line.counting,
            Line::Scale(_) => Counting::default(),
        }
    }
}

impl FigureLine {
    fn of(figure: &Figure, exercise: &Exercise, heights: Heights, per_quarter: u32) -> FigureLine {
        let literal = figure
            .literal
            .as_ref()
            .map(|literal| LiteralPhrase::of(literal, &figure.count, per_quarter));
        let heights = literal
            .as_ref()
            .map_or(heights, |literal| Heights::of(&literal.ladder));
        let size = heights.size();
        let once = exercise.kind.says_once(exercise.say);
        let first = figure
            .count
            .slots
            .first()
            .map_or(Fraction::ZERO, |slot| slot.onset);
        let course = match octaves(exercise.span) {
            _ if once => Course::Once(exercise.direction),
            Some(octaves) => Course::Octaves(octaves, exercise.direction),
            None => Course::WholeHorn(exercise.direction),
        };
        let last = figure
            .count
            .slots
            .last()
            .map_or(first, |slot| slot.onset + slot.length);
        let (rising, falling) = match &literal {
            Some(literal) => (literal.cell.clone(), literal.cell.clone()),
            None => (
                Cell::of(figure, size, per_quarter),
                Cell::coming_down(figure, exercise.coming_down, size, per_quarter),
            ),
        };
        FigureLine {
            meter: figure.meter.clone(),
            turned: exercise
                .broken
                .then(|| (rising.reversed(), falling.reversed())),
            rising,
            falling,
            heights,
            span: figure.count.span,
            ends_at: last + figure.count.pickup,
            pickup: figure.count.pickup,
            closes_with_rest: figure.count.closes_with_rest,
            counting: figure.count.counting,
            course,
            closes: !once && exercise.ending == Ending::Root,
            trade: exercise.trade,
            marks: figure.marks.clone(),
            literal,
            whole: OnceLock::new(),
        }
    }

    /// All that is asked, whatever the horn; none for the whole horn, which
    /// only the horn can say.
    pub fn whole(&self) -> Option<&Whole> {
        let made = self.whole.get_or_init(|| {
            let plan = Plan::full(self)?;
            let tones = self.sounded(plan);
            let reach = self.reach(&tones)?;
            Some(Whole { plan, tones, reach })
        });
        made.as_ref()
    }

    /// What a statement says.
    pub fn cell(&self, statement: Statement) -> &Cell {
        match (statement.form, &self.turned) {
            (Form::Rising, Some((rising, _))) if statement.second => rising,
            (Form::Falling, Some((_, falling))) if statement.second => falling,
            (Form::Rising, _) => &self.rising,
            (Form::Falling, _) => &self.falling,
        }
    }
}

fn octaves(span: Span) -> Option<i32> {
    match span {
        Span::OneOctave => Some(1),
        Span::TwoOctaves => Some(2),
        Span::WholeHorn => None,
    }
}
