//! What the sheets of a lesson come to, for those who tell it: which is the
//! hardest, how far one reaches in a range, and what a teacher wouldn't expect.

use theory::Range;

use crate::plan::SheetPlan;
use crate::remark::{PrintGap, Remark, Shortfall};
use crate::report::gathering::{LeftOut, Report};

/// A sheet's plan, and its report or why it is left out.
pub type Outcome = (SheetPlan, Result<Report, LeftOut>);

/// Something that a teacher wouldn't expect of an exercise on a player's
/// sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Surprise {
    /// What it is.
    pub what: Surprising,
    /// Which player of the lesson.
    pub player: usize,
    /// Which exercise of the lesson.
    pub exercise: usize,
    /// Its heading on the first of these sheets.
    pub heading: String,
    /// The sheets it holds for, in order.
    pub sheets: Vec<SheetPlan>,
    /// The player's sheets that have the exercise, or should.
    pub of: usize,
}

/// What surprises, the most surprising first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surprising {
    /// The sheet is left out, since nothing of the exercise fits.
    LeftOut,
    /// A way down, or the form coming down, is lost.
    NoWayDown,
    /// Less is played than asked.
    Shorter,
    /// The line jumps octaves.
    Jumps,
    /// Players who should keep together can't.
    PlaysAlone,
    /// Over changes: a wish of the lesson that can't be met everywhere.
    WishUnmet,
    /// Double accidentals are printed.
    Doubles,
    /// Degrees rub against the chord that is named over them.
    Clashes,
}

/// What surprises of a lesson's outcomes: the most surprising first, of one
/// kind what holds for most of a player's sheets, then in the lesson's order.
pub fn surprises(outcomes: &[Outcome]) -> Vec<Surprise> {
    let mut found: Vec<Surprise> = Vec::new();
    for (plan, outcome) in outcomes {
        match outcome {
            Err(LeftOut::OffTheHorn { place, heading, .. }) => {
                note(&mut found, Surprising::LeftOut, plan, (*place, heading));
            }
            Err(LeftOut::NothingToPlay) => {
                note(&mut found, Surprising::LeftOut, plan, (0, ""));
            }
            // Nobody knows what it would be.
            Err(LeftOut::Stopped) => {}
            Ok(report) => {
                for exercise in &report.exercises {
                    let of = (exercise.place, exercise.heading.as_str());
                    let remarks = exercise.remarks.iter();
                    let mut kinds: Vec<Surprising> = remarks
                        .filter_map(|counted| surprising(&counted.remark))
                        .collect();
                    kinds.extend((exercise.doubles > 0).then_some(Surprising::Doubles));
                    let rubs = exercise
                        .clashes
                        .as_ref()
                        .is_some_and(|(_, degrees)| !degrees.is_empty());
                    kinds.extend(rubs.then_some(Surprising::Clashes));
                    kinds.sort_unstable();
                    kinds.dedup();
                    for what in kinds {
                        note(&mut found, what, plan, of);
                    }
                }
            }
        }
    }
    for surprise in &mut found {
        let has = |(plan, outcome): &&Outcome| {
            plan.player == surprise.player
                && match outcome {
                    Err(LeftOut::OffTheHorn { place, .. }) => *place == surprise.exercise,
                    Err(LeftOut::NothingToPlay) => surprise.exercise == 0,
                    Err(LeftOut::Stopped) => false,
                    Ok(report) => {
                        let mut on_sheet = report.exercises.iter();
                        on_sheet.any(|exercise| exercise.place == surprise.exercise)
                    }
                }
        };
        surprise.of = outcomes.iter().filter(has).count();
    }
    // Shares are compared as fractions; stable, so that the order stays.
    found.sort_by(|one, other| {
        let share = |of: &Surprise, by: &Surprise| of.sheets.len() * by.of;
        (one.what.cmp(&other.what)).then(share(other, one).cmp(&share(one, other)))
    });
    found
}

fn note(
    found: &mut Vec<Surprise>,
    what: Surprising,
    plan: &SheetPlan,
    (exercise, heading): (usize, &str),
) {
    let known = found
        .iter_mut()
        .find(|one| (one.what, one.player, one.exercise) == (what, plan.player, exercise));
    match known {
        Some(surprise) => surprise.sheets.push(*plan),
        None => found.push(Surprise {
            what,
            player: plan.player,
            exercise,
            heading: heading.to_owned(),
            sheets: vec![*plan],
            of: 0,
        }),
    }
}

/// None for what can be no surprise: a row of valves that a saxophone lacks.
fn surprising(remark: &Remark) -> Option<Surprising> {
    match remark {
        Remark::Shortfall(shortfall) => Some(match shortfall {
            Shortfall::ComingDown
            | Shortfall::WayDown
            | Shortfall::Statements {
                downs: 0,
                both_ways: true,
                ..
            } => Surprising::NoWayDown,
            Shortfall::Statements { .. }
            | Shortfall::Octaves { .. }
            | Shortfall::WholeHorn { .. }
            | Shortfall::AsFarAsAll { .. } => Surprising::Shorter,
        }),
        Remark::Jump => Some(Surprising::Jumps),
        Remark::PlaysAlone => Some(Surprising::PlaysAlone),
        Remark::Wish(_) | Remark::Print(PrintGap::Fingering(_) | PrintGap::Words { .. }) => {
            Some(Surprising::WishUnmet)
        }
        Remark::Print(PrintGap::Row(_)) => None,
    }
}

/// The sheet that is hardest to read: most signs in the signature and before
/// notes; of equals the first.
pub fn hardest<'a>(
    sheets: impl Iterator<Item = (&'a SheetPlan, &'a Report)>,
) -> Option<(&'a SheetPlan, &'a Report)> {
    sheets.reduce(|hardest, next| {
        if next.1.signs() > hardest.1.signs() {
            next
        } else {
            hardest
        }
    })
}

impl Report {
    /// Signs a player reads: those of the signature and those before notes.
    pub fn signs(&self) -> u32 {
        self.signature + self.accidentals
    }

    /// Where its lowest and highest note lie in a range that is drawn in so
    /// many cells, each a half step or more: how many cells there are, and the
    /// first and last that the sheet reaches, from 0.
    pub fn reach_in(&self, range: Range, most: u16) -> (i32, i32, i32) {
        let at = |pitch: theory::Pitch| i32::from(pitch.midi() - range.low.midi());
        let span = at(range.high) + 1;
        let cells = i32::from(most).min(span);
        let cell = |semitones: i32| semitones * cells / span.max(1);
        (cells, cell(at(self.lowest)), cell(at(self.highest)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Composer;

    /// A sheet that somebody stopped isn't one that can't be played.
    #[test]
    fn what_was_stopped_surprises_nobody() {
        let text = "title = \"A\"\ninstruments = [\"flute\"]\n[keys]\nonly = [\"C\", \"D\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n";
        let lesson = lesson_text::read(text, "a").unwrap();
        let composer = Composer::new(&lesson).unwrap();
        let [first, second] = composer.plans() else {
            panic!("{:?}", composer.plans());
        };
        let surprised = |outcomes: &[Outcome]| -> Vec<(Surprising, usize, usize)> {
            let surprises = surprises(outcomes).into_iter();
            surprises
                .map(|one| (one.what, one.sheets.len(), one.of))
                .collect()
        };
        let stopped = (*first, Err(LeftOut::Stopped));
        let nothing = (*second, Err(LeftOut::NothingToPlay));
        assert_eq!(surprised(std::slice::from_ref(&stopped)), []);
        assert_eq!(
            surprised(&[stopped, nothing]),
            [(Surprising::LeftOut, 1, 1)]
        );
    }
}
