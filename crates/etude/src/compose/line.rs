//! What an exercise plays, before any horn is thought of: statements of a
//! figure or a scale, the tones they sound, and how far those reach.

use std::sync::{Arc, OnceLock};

use lesson::{Direction, FigureMarks, Span, TooWide, Trade};
use rhythm::{Counting, Fraction, Meter};
use theory::{Form, LineTone, Rung, Tone};

use crate::compose::course::{Plan, Statement, StatementCourse, span};
use crate::compose::figure::{Cell, CellTone};
use crate::compose::literal::LiteralPhrase;
use crate::heights::{Heights, Reach, height};

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
    pub length: Fraction,
    pub ends_at: Fraction,
    pub pickup: Fraction,
    /// Whether the last statement closes with silence, where another's pickup
    /// would begin.
    pub closes_with_rest: bool,
    pub counting: Counting,
    pub course: StatementCourse,
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

impl Line {
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

    /// How far it goes, where that isn't counted in statements.
    pub fn goal(&self) -> Option<Span> {
        match self {
            Line::Scale(line) => Some(span(line.octaves)),
            Line::Figures(line) => match line.course {
                StatementCourse::WholeHorn(_) => Some(Span::WholeHorn),
                StatementCourse::Once(_) | StatementCourse::Octaves(..) => None,
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
    /// What its course asks for, whatever the horn; none for the whole horn.
    pub fn full(&self) -> Option<Plan> {
        Plan::full(self.course, self.heights.size(), self.closes)
    }

    /// All that is asked, whatever the horn; none for the whole horn, which
    /// only the horn can say.
    pub fn whole(&self) -> Option<&Whole> {
        let made = self.whole.get_or_init(|| {
            let plan = self.full()?;
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

    /// The tones of statements in order, and of the closing root; an ornament
    /// at a statement's end leads to what comes next.
    pub fn tones(&self, statements: &[Statement], closing: Option<i32>) -> Vec<LineTone> {
        let mut tones = Vec::with_capacity(statements.len() * self.rising.notes.len() + 1);
        for (place, statement) in statements.iter().enumerate() {
            let cell = self.cell(*statement);
            let own = LineTone {
                tone: Tone::Rung(Rung(statement.base + cell.first_rung())),
                form: statement.form,
            };
            let next = match (statements.get(place + 1), closing) {
                (Some(next), _) => {
                    let first = self.cell(*next).first_rung();
                    LineTone {
                        tone: Tone::Rung(Rung(next.base + first)),
                        form: next.form,
                    }
                }
                (None, Some(root)) => LineTone {
                    tone: Tone::Rung(Rung(root)),
                    form: statement.form,
                },
                // Nothing follows: the ornament leads back to where it began.
                (None, None) => own,
            };
            push_cell(cell, *statement, next, &mut tones);
        }
        if let Some(root) = closing {
            let form = statements
                .last()
                .map_or(Form::Rising, |statement| statement.form);
            tones.push(LineTone {
                tone: Tone::Rung(Rung(root)),
                form,
            });
        }
        tones
    }

    /// The tones of a plan in order.
    pub fn sounded(&self, plan: Plan) -> Arc<[LineTone]> {
        let statements: Vec<Statement> = plan.statements().collect();
        self.tones(&statements, plan.closing).into()
    }

    /// How far tones reach, in semitones above rung 0.
    pub fn reach(&self, tones: &[LineTone]) -> Option<Reach> {
        Reach::of(tones.iter().map(|tone| height(&self.heights, *tone)))
    }

    /// How far one statement reaches by itself; ornaments that lead out of it
    /// count with what they lead to.
    pub fn statement_reach(&self, statement: Statement) -> Reach {
        let rung = |rung: i32| self.heights.at(statement.base + rung, statement.form);
        let mut reach: Option<Reach> = None;
        // From the end backwards, where what an ornament leads to is known.
        let mut target = None;
        for note in self.cell(statement).notes.iter().rev() {
            let height = match (note.tone, target) {
                (CellTone::Rung(at), _) => {
                    target = Some(rung(at));
                    rung(at)
                }
                (CellTone::Above, Some(target)) => target + 1,
                (CellTone::Below, Some(target)) => target - 1,
                // It leads out of the statement.
                (CellTone::Above | CellTone::Below, None) => continue,
            };
            let own = Reach {
                low: height,
                high: height,
            };
            reach = Some(reach.map_or(own, |reach| reach.and(own)));
        }
        reach.unwrap_or(Reach { low: 0, high: 0 })
    }
}

fn push_cell(cell: &Cell, statement: Statement, next: LineTone, tones: &mut Vec<LineTone>) {
    let from = tones.len();
    for note in &cell.notes {
        let (tone, form) = match note.tone {
            CellTone::Rung(rung) => (Tone::Rung(Rung(statement.base + rung)), statement.form),
            CellTone::Above => (Tone::Above(Rung(0)), statement.form),
            CellTone::Below => (Tone::Below(Rung(0)), statement.form),
        };
        tones.push(LineTone { tone, form });
    }
    // Targets become known from the end backwards.
    let mut target = next;
    for tone in tones[from..].iter_mut().rev() {
        match (tone.tone, target.tone) {
            (Tone::Rung(_), _) => target = *tone,
            (Tone::Above(_), Tone::Rung(rung)) => {
                *tone = LineTone {
                    tone: Tone::Above(rung),
                    form: target.form,
                }
            }
            (Tone::Below(_), Tone::Rung(rung)) => {
                *tone = LineTone {
                    tone: Tone::Below(rung),
                    form: target.form,
                }
            }
            _ => {}
        }
    }
}
