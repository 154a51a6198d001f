//! The statements of a line in order, the tones they sound, and how far those
//! reach.

use std::sync::Arc;

use lesson::Direction;
use theory::{Form, LineTone, Rung, Tone};

use crate::compose::{Course, Extent, FigureLine};
use crate::figure::{Cell, CellTone};
use crate::heights::{Heights, Reach};

/// One statement: the rung its root stands on, and the form it is said in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Statement {
    pub base: i32,
    pub form: Form,
    /// Whether it is the second, fourth … of its way.
    pub second: bool,
}

/// Which statements a line makes: `ups` from rung 0 upward, then `downs` from
/// `turn` downward, then the closing root.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Plan {
    pub ups: i32,
    pub downs: i32,
    pub turn: i32,
    pub closing: Option<i32>,
}

impl Plan {
    /// What a course asks for, whatever the horn; none for the whole horn,
    /// which only the horn can say.
    pub fn full(line: &FigureLine) -> Option<Plan> {
        let size = line.heights.size();
        let (top, direction) = match line.course {
            Course::WholeHorn(_) => return None,
            Course::Octaves(octaves, direction) => (octaves * size, direction),
            Course::Once(direction) => {
                let (ups, downs) = match direction {
                    Direction::Up => (1, 0),
                    Direction::Down => (0, 1),
                    Direction::UpAndDown => (1, 1),
                };
                return Some(Plan {
                    ups,
                    downs,
                    turn: size,
                    closing: None,
                });
            }
        };
        let (ups, downs, closing) = match direction {
            Direction::Up => (top + 1, 0, top),
            Direction::Down => (0, top + 1, 0),
            Direction::UpAndDown => (top + 1, top + 1, 0),
        };
        Some(Plan {
            ups,
            downs,
            turn: top,
            closing: line.closes.then_some(closing),
        })
    }

    pub fn statements(self) -> impl ExactSizeIterator<Item = Statement> {
        (0..self.ups + self.downs).map(move |place| {
            if place < self.ups {
                Statement {
                    base: place,
                    form: Form::Rising,
                    second: place % 2 == 1,
                }
            } else {
                Statement {
                    base: self.turn - (place - self.ups),
                    form: Form::Falling,
                    second: (place - self.ups) % 2 == 1,
                }
            }
        })
    }

    pub fn extent(self) -> Extent {
        let count = |statements: i32| u16::try_from(statements).unwrap_or(u16::MAX);
        Extent {
            ups: count(self.ups),
            downs: count(self.downs),
        }
    }
}

impl FigureLine {
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

/// Semitones of a tone above rung 0.
pub(crate) fn height(heights: &Heights, tone: LineTone) -> i32 {
    match tone.tone {
        Tone::Rung(rung) => heights.at(rung.0, tone.form),
        Tone::Above(rung) => heights.at(rung.0, tone.form) + 1,
        Tone::Below(rung) => heights.at(rung.0, tone.form) - 1,
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
