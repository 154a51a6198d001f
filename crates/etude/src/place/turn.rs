//! Turning early, and the whole horn: how many statements fit from which
//! root.

use lesson::Direction;
use theory::{Form, Pitch};

use crate::compose::course::{Plan, Statement, StatementCourse};
use crate::compose::line::FigureLine;
use crate::heights::Reach;
use crate::place::horn::{Horn, midi};

/// Statements that keep to one octave.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct OneOctave {
    pub plan: Plan,
    /// The root it begins on, where the rule names it; else the one that
    /// brings the line nearest the middle of the range.
    pub root: Option<Pitch>,
    /// Whether it is less than was asked.
    pub turned: bool,
}

/// The root that allows the most statements, and those: up while the
/// statement fits, down from there, stopping before one that would leave the
/// range. A tie takes the lower root.
pub(crate) fn early(line: &FigureLine, horn: Horn, full: Plan) -> Option<OneOctave> {
    let mut best: Option<OneOctave> = None;
    for root in horn.roots() {
        let from = FromRoot {
            line,
            range: horn.reach().up(-midi(root)),
        };
        let Some(plan) = from.early(full) else {
            continue;
        };
        let statements = |plan: Plan| plan.ups + plan.downs;
        if best.is_none_or(|best| statements(plan) > statements(best.plan)) {
            best = Some(OneOctave {
                plan,
                root: Some(root),
                turned: true,
            });
        }
    }
    best
}

/// From the lowest root that fits to the highest rung that fits, down to the
/// lowest, and home.
pub(crate) fn whole_horn(line: &FigureLine, horn: Horn) -> Option<OneOctave> {
    let StatementCourse::WholeHorn(direction) = line.course else {
        return None;
    };
    let from = |root| FromRoot {
        line,
        range: horn.reach().up(-midi(root)),
    };
    let climbed = horn
        .roots()
        .find_map(|root| Some((root, from(root).whole_horn(direction)?)));
    // Where no statement up fits there may yet be a way down by itself.
    let found = climbed.or_else(|| {
        let root = horn
            .lowest_root()
            .filter(|_| direction == Direction::Down)?;
        Some((root, from(root).down_from(i32::MAX)?))
    });
    found.map(|(root, plan)| OneOctave {
        plan,
        root: Some(root),
        turned: direction == Direction::UpAndDown && plan.downs == 0,
    })
}

/// A root to begin from: the range is counted in semitones above it.
struct FromRoot<'a> {
    line: &'a FigureLine,
    range: Reach,
}

impl FromRoot<'_> {
    fn early(&self, full: Plan) -> Option<Plan> {
        let home = self.line.closes.then_some(0);
        // All of it doesn't fit, and without statements nothing does.
        if let StatementCourse::Once(_) = self.line.course {
            let up = Plan { downs: 0, ..full };
            return self.fits(up).then_some(up);
        }
        if full.ups == 0 {
            let downs = self.way_down(full.turn, full.downs);
            let lower = (1..=downs).rev().map(|downs| Plan { downs, ..full });
            let upper = (1..=downs).rev().map(|downs| Plan {
                downs,
                closing: home.map(|_| full.turn),
                ..full
            });
            return lower.chain(upper).find(|plan| self.fits(*plan));
        }
        let ups = self.way_up(full.ups);
        // Down to the root it began on.
        let turn = |top| self.turn_at_or_below(top, 0);
        self.up_and_down(ups, home, |top| {
            let turn = turn(top).filter(|_| full.downs > 0)?;
            Some((turn, self.way_down(turn, turn + 1)))
        })
    }

    fn whole_horn(&self, direction: Direction) -> Option<Plan> {
        let line = self.line;
        let size = line.heights.size();
        let ups = self.way_up(i32::MAX);
        if ups == 0 {
            return None;
        }
        let home = line.closes.then_some(0);
        match direction {
            Direction::Up => {
                let highest = line
                    .heights
                    .highest_within(self.range.high, Form::Rising)
                    .div_euclid(size)
                    * size;
                let closing = home.map(|_| highest);
                (1..=ups)
                    .rev()
                    .map(|ups| Plan {
                        ups,
                        downs: 0,
                        turn: 0,
                        closing,
                    })
                    .find(|plan| self.fits(*plan))
            }
            Direction::UpAndDown => self.up_and_down(ups, home, |top| self.whole_way_down(top)),
            Direction::Down => self.down_from(ups - 1),
        }
    }

    /// As many statements up as given, and down from there as `down` says of
    /// the last of them (where it turns, and how many at most); fewer where an
    /// ornament at the turn or the end wouldn't fit.
    fn up_and_down(
        &self,
        ups: i32,
        closing: Option<i32>,
        down: impl Fn(i32) -> Option<(i32, i32)>,
    ) -> Option<Plan> {
        (1..=ups).rev().find_map(|ups| {
            let (turn, downs) = down(ups - 1).unwrap_or((ups - 1, 0));
            let plans = (0..=downs).rev().map(|downs| Plan {
                ups,
                downs,
                turn,
                closing,
            });
            plans.into_iter().find(|plan| self.fits(*plan))
        })
    }

    /// The way down of the whole horn by itself, closing on the root.
    fn down_from(&self, top: i32) -> Option<Plan> {
        let (turn, downs) = self.whole_way_down(top)?;
        let plans = (1..=downs).rev().map(|downs| Plan {
            ups: 0,
            downs,
            turn,
            closing: self.line.closes.then_some(0),
        });
        plans.into_iter().find(|plan| self.fits(*plan))
    }

    /// The way down of the whole horn: from the highest rung at or below
    /// `top` where the form coming down fits, wherever its root lies, as low
    /// as it goes.
    fn whole_way_down(&self, top: i32) -> Option<(i32, i32)> {
        // Further below, and above, a statement lies outside the range whole.
        let reach = self.line.statement_reach(Statement {
            base: 0,
            form: Form::Falling,
            second: false,
        });
        let size = self.line.heights.size();
        let under = (reach.high - self.range.low).div_euclid(12) + 2;
        let over = (self.range.high - reach.low).div_euclid(12) + 2;
        let turn = self.turn_at_or_below(top.min(over * size), -under * size)?;
        Some((turn, self.way_down(turn, i32::MAX)))
    }

    /// How many statements fit, climbing from rung 0.
    fn way_up(&self, most: i32) -> i32 {
        let mut ups = 0;
        while ups < most && self.fits_statement(ups, Form::Rising) {
            ups += 1;
        }
        ups
    }

    /// How many fit, coming down from a rung.
    fn way_down(&self, turn: i32, most: i32) -> i32 {
        let mut downs = 0;
        while downs < most && self.fits_statement(turn - downs, Form::Falling) {
            downs += 1;
        }
        downs
    }

    /// The highest rung at or below `top`, not below `least`, where the form
    /// coming down fits.
    fn turn_at_or_below(&self, top: i32, least: i32) -> Option<i32> {
        (least..=top)
            .rev()
            .find(|base| self.fits_statement(*base, Form::Falling))
    }

    // Turned backwards or not, a statement reaches as far.
    fn fits_statement(&self, base: i32, form: Form) -> bool {
        self.line
            .statement_reach(Statement {
                base,
                form,
                second: false,
            })
            .within(self.range)
    }

    fn fits(&self, plan: Plan) -> bool {
        self.line
            .reach(&self.line.sounded(plan))
            .is_some_and(|reach| reach.within(self.range))
    }
}

#[cfg(test)]
mod tests {
    use theory::{Letter, PitchName, Range};

    use super::*;
    use crate::sample::line;

    fn horn(low: &str, high: &str) -> Horn {
        let range = Range {
            low: low.parse().unwrap(),
            high: high.parse().unwrap(),
        };
        Horn {
            root: PitchName::new(Letter::C, 0),
            range,
        }
    }

    /// Root, statements up and down, and the rung it turns on.
    fn check(tones: &str, direction: Direction, low: &str, high: &str, expected: &str) {
        let line = line(
            "1 2 3 4 5 6 7",
            tones,
            StatementCourse::Octaves(1, direction),
        );
        let found = early(&line, horn(low, high), line.full().unwrap());
        let said = found.map_or("none".to_owned(), |level| {
            let Plan {
                ups,
                downs,
                turn,
                closing,
            } = level.plan;
            format!(
                "{} up {ups} down {downs} from {turn} to {}",
                level.root.unwrap(),
                closing.unwrap()
            )
        });
        assert_eq!(said, expected, "{tones} in {low} to {high}");
    }

    #[test]
    fn as_many_statements_as_fit() {
        // C D E G on C D E F G (its top D5): five up; flipped they go four
        // steps under, so only the one on G comes down before B3 is passed.
        check(
            "0 1 2 4",
            Direction::UpAndDown,
            "C4",
            "D5",
            "C4 up 5 down 1 from 4 to 0",
        );
        check(
            "0 1 2 4",
            Direction::Up,
            "C4",
            "D5",
            "C4 up 5 down 0 from 4 to 0",
        );
        // Coming down alone: from C5, closing on C4.
        check(
            "0 1 2 4",
            Direction::Down,
            "A3",
            "D5",
            "C4 up 0 down 6 from 7 to 0",
        );
        // The lower root is out of range: it closes on the upper.
        check(
            "0 1 2 4",
            Direction::Down,
            "D4",
            "D5",
            "C4 up 0 down 3 from 7 to 7",
        );
        check("0 1 2 14", Direction::UpAndDown, "C4", "D5", "none");
    }

    #[test]
    fn a_tie_takes_the_lower_root() {
        // Two roots allow all there is: the lower is taken.
        check(
            "0 1 2 4",
            Direction::Up,
            "C3",
            "C7",
            "C3 up 8 down 0 from 7 to 0",
        );
    }

    #[test]
    fn the_whole_horn() {
        let line = line(
            "1 2 3 4 5 6 7",
            "0 1 2",
            StatementCourse::WholeHorn(Direction::UpAndDown),
        );
        let level = whole_horn(&line, horn("Bb3", "F5")).unwrap();
        let Plan {
            ups,
            downs,
            turn,
            closing,
        } = level.plan;
        // Up C D E … to D E F, then F E D … down to D C B.
        assert_eq!((ups, turn, closing), (9, 8, Some(0)));
        assert_eq!(level.root.unwrap().to_string(), "C4");
        assert_eq!(downs, 8);
    }
}
