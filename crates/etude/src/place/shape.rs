//! Rule 6: the line on a horn. The whole exercise in one octave if one fits;
//! else it turns early, jumps, or is left out, as the lesson says.

use std::cmp::Ordering;
use std::sync::Arc;

use lesson::{Direction, Span, TooWide};
use theory::LineTone;

use crate::compose::course::{Extent, Plan, Statement, StatementCourse};
use crate::compose::line::{FigureLine, Line};
use crate::heights::{Reach, height};
use crate::place::horn::{Horn, midi};
use crate::place::jump::{self, OctaveChoice};
use crate::place::placement::{Misfit, Placement};
use crate::place::scale_run;
use crate::place::turn::{self, OneOctave};
use crate::remark::{Remark, Shortfall};

/// What a line becomes on one horn, before its octave is chosen; players who
/// keep together agree on one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Shape {
    /// Statements in one octave.
    OneOctave(OneOctave),
    /// Every statement, with jumps between, and those it makes alone.
    Jumping(Plan, OctaveChoice),
    /// So many notes up from rung 0 and then down, of so many octaves, or of
    /// the whole horn.
    Run(scale_run::Run),
}

/// What a line becomes on one horn.
pub(crate) fn shape(line: &Line, horn: Horn, too_wide: TooWide) -> Result<Shape, Misfit> {
    match line {
        Line::Scale(line) => scale_run::run(line, horn, too_wide).map(Shape::Run),
        Line::Figures(line) => figure_shape(line, horn, too_wide),
    }
}

fn figure_shape(line: &FigureLine, horn: Horn, too_wide: TooWide) -> Result<Shape, Misfit> {
    let Some(whole) = line.whole() else {
        return turn::whole_horn(line, horn)
            .map(Shape::OneOctave)
            .ok_or_else(|| least_misfit(line, horn));
    };
    let full = whole.plan;
    if horn.nearest_middle(whole.reach).is_some() {
        return Ok(Shape::OneOctave(OneOctave {
            plan: full,
            root: None,
            turned: false,
        }));
    }
    match too_wide {
        TooWide::LeaveOut => Err(misfit(line, horn, full)),
        TooWide::TurnEarly => turn::early(line, horn, full)
            .map(Shape::OneOctave)
            .ok_or_else(|| least_misfit(line, horn)),
        TooWide::Jump => match jump::path(line, &[horn], full) {
            Some(alone) => Ok(Shape::Jumping(full, alone)),
            None => Err(misfit(
                line,
                horn,
                jump::narrowest_failure(line, horn, full),
            )),
        },
    }
}

/// The shape that all of several horns can play, each horn given with its own
/// best: the smaller way up, the smaller way down.
pub(crate) fn together(line: &Line, horns: &[(Horn, Shape)]) -> Option<Shape> {
    let alone: Vec<Horn> = horns.iter().map(|(horn, _)| *horn).collect();
    if let Line::Scale(line) = line {
        return scale_run::together(line, &alone).map(Shape::Run);
    }
    let mut shapes = horns.iter().map(|(_, shape)| shape.clone());
    let first = shapes.next()?;
    let mut joint = shapes.fold(first, Shape::smaller);
    let horns = alone;
    // The smaller way down may begin lower than a horn's own did: take
    // statements off until it suits them all.
    loop {
        let fits = match (&joint, line) {
            (Shape::Jumping(plan, _), Line::Figures(line)) => {
                jump::path(line, &horns, *plan).is_some()
            }
            _ => horns
                .iter()
                .all(|horn| settle(line, *horn, &joint, &horns).is_some()),
        };
        if fits {
            return Some(joint);
        }
        joint = joint.shorter()?;
    }
}

impl Shape {
    fn smaller(self, other: Shape) -> Shape {
        match (self, other) {
            (Shape::OneOctave(level), Shape::OneOctave(other)) => Shape::OneOctave(OneOctave {
                plan: smaller_plan(level.plan, other.plan),
                root: None,
                turned: level.turned || other.turned,
            }),
            (shape @ (Shape::Jumping(..) | Shape::Run(_)), _) | (_, shape) => shape,
        }
    }

    /// One statement less, the way down first; none when nothing is left.
    fn shorter(self) -> Option<Shape> {
        match self {
            Shape::OneOctave(OneOctave { plan, .. }) => {
                let (ups, downs) = match (plan.ups, plan.downs) {
                    (0, 0 | 1) | (1, 0) => return None,
                    (ups, 0) => (ups - 1, 0),
                    (ups, downs) => (ups, downs - 1),
                };
                Some(Shape::OneOctave(OneOctave {
                    plan: Plan { ups, downs, ..plan },
                    root: None,
                    turned: true,
                }))
            }
            Shape::Jumping(..) | Shape::Run(_) => None,
        }
    }
}

fn smaller_plan(one: Plan, other: Plan) -> Plan {
    let ups = one.ups.min(other.ups);
    let turn = match one.ups.cmp(&other.ups) {
        Ordering::Less => one.turn,
        Ordering::Greater => other.turn,
        Ordering::Equal => one.turn.min(other.turn),
    };
    // A way up that one of them cuts short closes where it began; a way down
    // closes where all of them can.
    let closing = if ups > 0 {
        one.closing.min(other.closing)
    } else {
        one.closing.max(other.closing)
    };
    Plan {
        ups,
        downs: one.downs.min(other.downs),
        turn,
        closing,
    }
}

/// A shape in its octave on one horn; `all` are the horns that keep together
/// (only that one, if it plays alone).
pub(crate) fn settle(line: &Line, horn: Horn, shape: &Shape, all: &[Horn]) -> Option<Placement> {
    match (line, shape) {
        (Line::Scale(line), Shape::Run(run)) => scale_run::settle(line, horn, *run),
        (Line::Figures(line), Shape::OneOctave(level)) => in_one_octave(line, horn, *level),
        (Line::Figures(line), Shape::Jumping(plan, alone)) => {
            let choice = if all.len() == 1 {
                alone.clone()
            } else {
                jump::path(line, all, *plan)?
            };
            let place = all.iter().position(|one| *one == horn)?;
            Some(with_jumps(line, *plan, &choice, place))
        }
        _ => None,
    }
}

fn in_one_octave(line: &FigureLine, horn: Horn, level: OneOctave) -> Option<Placement> {
    let OneOctave { plan, root, turned } = level;
    let (tones, reach) = match line.whole() {
        Some(whole) if whole.plan == plan => (Arc::clone(&whole.tones), whole.reach),
        _ => {
            let tones = line.sounded(plan);
            let reach = line.reach(&tones)?;
            (tones, reach)
        }
    };
    let (root, roots) = match root {
        Some(root) => (root, vec![root]),
        None => (horn.nearest_middle(reach)?, horn.fitting(reach).collect()),
    };
    let remarks = if turned {
        vec![Remark::Shortfall(shortfall(line, plan))]
    } else {
        Vec::new()
    };
    Some(Placement {
        root,
        roots,
        tones,
        extent: plan.extent(),
        remarks,
    })
}

fn with_jumps(line: &FigureLine, plan: Plan, choice: &OctaveChoice, horn: usize) -> Placement {
    let size = line.heights.size();
    let shifted = plan.statements().zip(&choice.shifts);
    let statements: Vec<Statement> = shifted
        .map(|(statement, shift)| Statement {
            base: statement.base + shift * size,
            ..statement
        })
        .collect();
    let last = choice.shifts.last().copied().unwrap_or(0);
    let closing = plan.closing.map(|root| root + last * size);
    let jumps = choice.shifts.windows(2).filter(|pair| pair[0] != pair[1]);
    Placement {
        root: choice.roots[horn],
        roots: vec![choice.roots[horn]],
        tones: line.tones(&statements, closing).into(),
        extent: plan.extent(),
        remarks: jumps.map(|_| Remark::Jump).collect(),
    }
}

/// What a line that turns early is less than was asked.
fn shortfall(line: &FigureLine, plan: Plan) -> Shortfall {
    let (direction, full) = match line.course {
        StatementCourse::Once(Direction::UpAndDown) => return Shortfall::ComingDown,
        // The whole horn is as much as fits, but for a way that is lost.
        StatementCourse::WholeHorn(Direction::UpAndDown) if plan.downs == 0 => {
            return Shortfall::WayDown;
        }
        StatementCourse::WholeHorn(_) => {
            return Shortfall::AsFarAsAll {
                asked: Span::WholeHorn,
            };
        }
        StatementCourse::Once(direction) | StatementCourse::Octaves(_, direction) => {
            (direction, line.full())
        }
    };
    let full = full.unwrap_or(plan).extent();
    let Extent { ups, downs } = plan.extent();
    Shortfall::Statements {
        ups,
        downs,
        of: full.ups.max(full.downs),
        both_ways: direction == Direction::UpAndDown,
    }
}

/// The least that a line must play: its first statement, then that with the
/// closing root.
fn least(line: &FigureLine) -> [Plan; 2] {
    let down = match line.course {
        StatementCourse::Once(direction)
        | StatementCourse::Octaves(_, direction)
        | StatementCourse::WholeHorn(direction) => direction == Direction::Down,
    };
    let turn = line.full().map_or(0, |full| full.turn);
    let first = Plan {
        ups: i32::from(!down),
        downs: i32::from(down),
        turn,
        closing: None,
    };
    let closing = line.closes.then_some(0);
    [first, Plan { closing, ..first }]
}

/// The misfit of a line for which no shape was found after all.
pub(crate) fn misfit_of(line: &Line, horn: Horn) -> Misfit {
    match line {
        Line::Figures(line) => least_misfit(line, horn),
        Line::Scale(line) => scale_run::misfit(line, horn),
    }
}

/// The misfit of the least that a line must play, so that the note it names is
/// one that the horn hasn't got.
fn least_misfit(line: &FigureLine, horn: Horn) -> Misfit {
    let [first, closed] = least(line);
    let fits = |plan: Plan| {
        let reach = line.reach(&line.sounded(plan));
        reach.is_some_and(|reach| horn.nearest_middle(reach).is_some())
    };
    misfit(line, horn, if fits(first) { closed } else { first })
}

/// The tone of a plan that is furthest outside the range.
fn misfit(line: &FigureLine, horn: Horn, plan: Plan) -> Misfit {
    let tones = line.sounded(plan);
    let reach = line.reach(&tones).unwrap_or(Reach { low: 0, high: 0 });
    let root = horn.least_outside(reach);
    let range = horn.reach();
    let outside = |tone: &&LineTone| {
        let at = height(&line.heights, **tone) + midi(root);
        (range.low - at).max(at - range.high)
    };
    let first = LineTone {
        tone: theory::Tone::Rung(theory::Rung(0)),
        form: theory::Form::Rising,
    };
    // The first of equals, as a player would meet it.
    let worst = tones
        .iter()
        .rev()
        .max_by_key(outside)
        .copied()
        .unwrap_or(first);
    Misfit { root, tone: worst }
}
