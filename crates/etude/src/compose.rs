//! What an exercise plays, before any horn is thought of: which forms of the
//! figure, begun on which rungs, closing where.

use std::sync::{Arc, OnceLock};

use lesson::{
    ComingDown, Direction, Ending, Exercise, ExerciseKind, Figure, FigureMarks, Lesson, Once,
    ScaleRun, Sequence, Span, TooWide, Trade,
};
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
    pub when_too_wide: TooWide,
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
    pub when_too_wide: TooWide,
}

/// How long a line has become: statements (or, in a scale, notes) on the way
/// up and on the way down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Extent {
    pub ups: u16,
    pub downs: u16,
}

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
        let asked = Asked {
            course: Course::Once(once.direction),
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
            asked,
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
            | ExerciseKind::Changes(_)
            | ExerciseKind::GuideTones(_)
            | ExerciseKind::Targets(_) => (false, None),
        };
        let asked = Asked {
            course: match octaves(sequence.span) {
                Some(octaves) => Course::Octaves(octaves, sequence.direction),
                None => Course::WholeHorn(sequence.direction),
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
            asked,
            heights,
            per_quarter,
        )))
    }

    /// What happens where it doesn't fit.
    pub fn when_too_wide(&self) -> TooWide {
        match self {
            Line::Figures(line) => line.when_too_wide,
            Line::Scale(line) => line.when_too_wide,
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

/// Which statements of a figure are asked.
struct Asked {
    course: Course,
    coming_down: ComingDown,
    when_too_wide: TooWide,
    closes: bool,
    broken: bool,
    trade: Option<Trade>,
}

impl FigureLine {
    fn of(figure: &Figure, asked: Asked, heights: Heights, per_quarter: u32) -> FigureLine {
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
                Cell::coming_down(figure, asked.coming_down, size, per_quarter),
            ),
        };
        FigureLine {
            meter: figure.meter.clone(),
            turned: asked
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
            course: asked.course,
            closes: asked.closes,
            when_too_wide: asked.when_too_wide,
            trade: asked.trade,
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

/// The scale of an exercise in semitones.
fn heights(lesson: &Lesson, exercise: &Exercise) -> Heights {
    Heights::of(&Ladder::new(&lesson.scales[exercise.scale].scale))
}

fn octaves(span: Span) -> Option<i32> {
    match span {
        Span::OneOctave => Some(1),
        Span::TwoOctaves => Some(2),
        Span::WholeHorn => None,
    }
}
