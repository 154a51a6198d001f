//! Octave jumps: the fewest, only between statements, then the line that
//! stays nearest the middle of the range, then the lower at the first
//! difference. Exact, by dynamic programming.

use theory::Pitch;

use crate::compose::course::{Plan, Statement};
use crate::compose::figure::CellTone;
use crate::compose::line::FigureLine;
use crate::heights::Reach;
use crate::place::horn::{Horn, midi};

/// The octaves that were chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct OctaveChoice {
    /// The pitch of rung 0 for each horn, in the first statement's octave.
    pub roots: Vec<Pitch>,
    /// Octaves above that, statement by statement; the first is 0. The same
    /// for all horns that keep together.
    pub shifts: Vec<i32>,
}

/// Octaves a statement may lie above or below the first.
const FARTHEST: i32 = 8;

/// More ways than this to choose the horns' first octaves are not tried: each
/// horn then begins in the octave nearest the middle of its range.
const MOST_BEGINNINGS: usize = 4_096;

/// Number of jumps, then the summed distance from the middle (twice it).
type Cost = (u32, i32);

/// The best octaves for a plan on horns that jump together (or one alone);
/// none if some statement fits nowhere.
pub(crate) fn path(line: &FigureLine, horns: &[Horn], plan: Plan) -> Option<OctaveChoice> {
    let reaches = reaches(line, plan);
    // Horns with the same range and root always make the same choice.
    let mut kinds: Vec<Horn> = Vec::new();
    for horn in horns {
        if !kinds.contains(horn) {
            kinds.push(*horn);
        }
    }
    let first = reaches.first()?;
    let mut starts: Vec<Vec<Pitch>> = kinds
        .iter()
        .map(|horn| fitting_roots(*horn, first.whole))
        .collect();
    let ways = starts
        .iter()
        .try_fold(1usize, |ways, roots| ways.checked_mul(roots.len()));
    if ways.is_none_or(|ways| ways > MOST_BEGINNINGS) {
        for (horn, roots) in kinds.iter().zip(&mut starts) {
            *roots = horn.nearest_middle(first.whole).into_iter().collect();
        }
    }
    let mut best: Option<(Cost, Vec<Pitch>, Vec<i32>)> = None;
    for roots in product(&starts) {
        if let Some((cost, shifts)) = shifts(&reaches, &kinds, &roots)
            && best.as_ref().is_none_or(|(least, ..)| cost < *least)
        {
            best = Some((cost, roots, shifts));
        }
    }
    let (_, roots, shifts) = best?;
    let root_of = |horn: &Horn| {
        kinds
            .iter()
            .position(|kind| kind == horn)
            .map(|at| roots[at])
    };
    Some(OctaveChoice {
        roots: horns.iter().filter_map(root_of).collect(),
        shifts,
    })
}

/// The plan of the one statement that keeps the line from fitting, or of the
/// whole if each fits alone.
pub(crate) fn narrowest_failure(line: &FigureLine, horn: Horn, plan: Plan) -> Plan {
    let reaches = reaches(line, plan);
    let failing = reaches
        .iter()
        .position(|reach| fitting_roots(horn, reach.whole).is_empty());
    let closing = plan
        .closing
        .filter(|_| failing.is_some_and(|at| at + 1 == reaches.len()));
    match failing {
        Some(at) if (at as i32) < plan.ups => Plan {
            ups: at as i32 + 1,
            downs: 0,
            closing,
            ..plan
        },
        Some(at) => Plan {
            ups: 0,
            downs: 1,
            turn: plan.turn - (at as i32 - plan.ups),
            closing,
        },
        None => plan,
    }
}

/// What a statement needs of the range, and what its middle is taken from.
#[derive(Debug, Clone, Copy)]
struct Needs {
    whole: Reach,
    statement: Reach,
}

fn reaches(line: &FigureLine, plan: Plan) -> Vec<Needs> {
    let statements: Vec<Statement> = plan.statements().collect();
    let mut needs: Vec<Needs> = Vec::with_capacity(statements.len());
    for (place, statement) in statements.iter().enumerate() {
        let own = line.statement_reach(*statement);
        let first = line.heights.at(
            statement.base + line.cell(*statement).first_rung(),
            statement.form,
        );
        // Ornaments at the end of the statement before lead to this one, in
        // this one's octave.
        let before = place
            .checked_sub(1)
            .map(|before| ornaments_out(line, statements[before]));
        let whole = before.map_or(own, |reach| own.and(reach.up(first)));
        needs.push(Needs {
            whole,
            statement: own,
        });
    }
    if let (Some(closing), Some(last), Some(statement)) =
        (plan.closing, needs.last_mut(), statements.last())
    {
        let root = line.heights.at(closing, statement.form);
        last.whole = last.whole.and(ornaments_out(line, *statement).up(root));
    }
    needs
}

/// How far the ornaments that lead out of a statement lie from their target;
/// the target itself counts.
fn ornaments_out(line: &FigureLine, statement: Statement) -> Reach {
    let tones = line
        .cell(statement)
        .notes
        .iter()
        .rev()
        .map(|note| note.tone);
    let out = tones.take_while(|tone| !matches!(tone, CellTone::Rung(_)));
    out.fold(Reach { low: 0, high: 0 }, |reach, tone| match tone {
        CellTone::Above => Reach { high: 1, ..reach },
        _ => Reach { low: -1, ..reach },
    })
}

fn fitting_roots(horn: Horn, reach: Reach) -> Vec<Pitch> {
    horn.fitting(reach).collect()
}

/// The best shifts from given roots, the first 0.
fn shifts(needs: &[Needs], horns: &[Horn], roots: &[Pitch]) -> Option<(Cost, Vec<i32>)> {
    let octaves = -FARTHEST..=FARTHEST;
    let distance = |need: &Needs, shift: i32| -> Option<i32> {
        let mut sum = 0;
        for (horn, root) in horns.iter().zip(roots) {
            let up = midi(*root) + 12 * shift;
            if !need.whole.up(up).within(horn.reach()) {
                return None;
            }
            sum += (need.statement.up(up).twice_middle() - horn.reach().twice_middle()).abs();
        }
        Some(sum)
    };
    // From the last statement back: the least cost of the rest, by shift.
    let mut rest: Vec<Vec<Option<Cost>>> = Vec::with_capacity(needs.len());
    for need in needs.iter().rev() {
        let after = rest.last();
        let row = octaves.clone().map(|shift| {
            let here = distance(need, shift)?;
            let Some(after) = after else {
                return Some((0, here));
            };
            let onward = octaves.clone().zip(after).filter_map(|(next, cost)| {
                cost.map(|(jumps, sum)| (jumps + u32::from(next != shift), sum + here))
            });
            onward.min()
        });
        rest.push(row.collect());
    }
    rest.reverse();
    let at = |shift: i32| (shift + FARTHEST) as usize;
    let total = rest.first()?[at(0)]?;
    let mut chosen = vec![0];
    let (mut shift, mut left) = (0, total);
    for (need, row) in needs.iter().zip(&rest[1..]) {
        let here = distance(need, shift)?;
        let next = octaves.clone().find(|next| {
            row[at(*next)]
                .is_some_and(|(jumps, sum)| (jumps + u32::from(*next != shift), sum + here) == left)
        })?;
        left = row[at(next)]?;
        shift = next;
        chosen.push(next);
    }
    Some((total, chosen))
}

/// Every way to take one of each, the last changing fastest.
fn product(choices: &[Vec<Pitch>]) -> Vec<Vec<Pitch>> {
    choices.iter().fold(vec![Vec::new()], |ways, choice| {
        ways.iter()
            .flat_map(|way| {
                choice
                    .iter()
                    .map(move |one| [way.as_slice(), &[*one]].concat())
            })
            .collect()
    })
}

#[cfg(test)]
mod tests {
    use lesson::Direction;
    use theory::{Letter, Pitch, PitchName, Range};

    use super::*;
    use crate::compose::course::StatementCourse;
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

    /// Every way there is, tried one by one.
    fn brute_force(line: &FigureLine, horn: Horn, plan: Plan) -> Option<(Cost, Pitch, Vec<i32>)> {
        let needs = reaches(line, plan);
        let range = horn.reach();
        let mut best: Option<(Cost, i32, Vec<i32>)> = None;
        let octaves: Vec<i32> = (-1..=9).collect();
        let mut ways: Vec<Vec<i32>> = vec![Vec::new()];
        for need in &needs {
            let fits = |octave: &i32| need.whole.up(12 * (octave + 1)).within(range);
            let fitting: Vec<i32> = octaves.iter().copied().filter(fits).collect();
            ways = ways
                .iter()
                .flat_map(|way| {
                    fitting
                        .iter()
                        .map(move |octave| [way.as_slice(), &[*octave]].concat())
                })
                .collect();
        }
        for way in ways {
            let jumps = way.windows(2).filter(|pair| pair[0] != pair[1]).count() as u32;
            let middle = |(need, octave): (&Needs, &i32)| {
                (need.statement.up(12 * (octave + 1)).twice_middle() - range.twice_middle()).abs()
            };
            let distance = needs.iter().zip(&way).map(middle).sum();
            let cost = (jumps, distance);
            let better = match &best {
                None => true,
                Some((least, _, lower)) => cost < *least || (cost == *least && way < *lower),
            };
            if better {
                best = Some((cost, way[0], way));
            }
        }
        let (cost, first, way) = best?;
        let root = PitchName::new(Letter::C, 0).at(first as i16);
        Some((
            cost,
            root,
            way.iter().map(|octave| octave - first).collect(),
        ))
    }

    #[test]
    fn the_search_is_exact() {
        let cells = ["0 1 2 4", "0 2 1 -1", "0 4 7", "v 0 2 v", "0 1 ^", "0 -3 5"];
        let scales = ["1 2 b3 5 6", "1 b3 4 5", "1 3 5"];
        let lows = ["C3", "E3", "G3", "A3", "B3"];
        let highs = ["E4", "A4", "B4", "D5", "G5", "C6"];
        let mut compared = 0;
        let mut jumped = 0;
        for tones in cells {
            for degrees in scales {
                for direction in [Direction::Up, Direction::UpAndDown, Direction::Down] {
                    let line = line(degrees, tones, StatementCourse::Octaves(1, direction));
                    let plan = line.full().unwrap();
                    for low in lows {
                        for high in highs {
                            let horn = horn(low, high);
                            let found = path(&line, &[horn], plan)
                                .map(|choice| (choice.roots[0], choice.shifts));
                            let brute = brute_force(&line, horn, plan)
                                .map(|(_, root, shifts)| (root, shifts));
                            assert_eq!(found, brute, "{tones} over {degrees} in {low} to {high}");
                            compared += 1;
                            jumped += usize::from(
                                found.is_some_and(|(_, shifts)| shifts.iter().any(|s| *s != 0)),
                            );
                        }
                    }
                }
            }
        }
        assert!(
            compared >= 200 && jumped >= 50,
            "{compared} compared, {jumped} with jumps"
        );
    }

    #[test]
    fn those_who_keep_together_jump_together() {
        let line = line(
            "1 2 3 4 5 6 7",
            "0 1 2",
            StatementCourse::Octaves(1, Direction::UpAndDown),
        );
        let plan = line.full().unwrap();
        let (wide, narrow) = (horn("C4", "E6"), horn("A3", "B4"));
        let choice = path(&line, &[wide, narrow, wide], plan).unwrap();
        assert_eq!(choice.roots.len(), 3);
        assert_eq!(choice.roots[0], choice.roots[2]);
        for (root, horn) in choice.roots.iter().zip([wide, narrow, wide]) {
            for (statement, shift) in plan.statements().zip(&choice.shifts) {
                let reach = line.statement_reach(statement).up(midi(*root) + 12 * shift);
                assert!(reach.within(horn.reach()), "{statement:?} from {root}");
            }
        }
    }
}
