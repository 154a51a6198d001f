//! Which notes are rungs of a scale and which lead to one: every note that
//! isn't the scale's own must stand a half step from the next rung sounded.

/// The most notes in a row that lead to one rung.
const MOST_LEADING: usize = 4;

/// A note as the scale has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    /// A rung, counted from the root at or below the first rung.
    Rung(i32),
    /// A half step above the next rung.
    Above,
    /// A half step below the next rung.
    Below,
}

/// The notes as rungs and what leads to them, with the fewest that lead, as a
/// teacher would hear them; none where some note is neither. `heights` are semitones, `rungs` the rung of
/// each note where it has one.
pub(crate) fn steps(heights: &[i16], rungs: &[Option<i32>]) -> Option<Vec<Step>> {
    let count = heights.len();
    // For each note as a rung: what it costs from there to the end, and which
    // note is the next rung.
    let mut best: Vec<Option<(i32, usize)>> = vec![None; count];
    for at in (0..count).rev() {
        if rungs[at].is_none() {
            continue;
        }
        if at + 1 == count {
            best[at] = Some((0, count));
            continue;
        }
        for next in reachable(heights, at + 1) {
            if let Some((rest, _)) = best[next] {
                let cost = rest + leading(heights, rungs, at + 1, next);
                if best[at].is_none_or(|(least, _)| cost < least) {
                    best[at] = Some((cost, next));
                }
            }
        }
    }
    let first = reachable(heights, 0)
        .filter_map(|first| Some((best[first]?.0 + leading(heights, rungs, 0, first), first)))
        .min()?
        .1;
    let mut steps = Vec::with_capacity(count);
    let mut rung = first;
    while rung < count {
        for at in steps.len()..rung {
            steps.push(if heights[at] > heights[rung] {
                Step::Above
            } else {
                Step::Below
            });
        }
        steps.push(Step::Rung(rungs[rung]?));
        rung = best[rung]?.1;
    }
    Some(steps)
}

/// What it costs that the notes from `from` up to a rung lead to it. A scale
/// note is a rung rather than a note that leads, but where the last two before
/// the rung stand around it and the other one is borrowed.
fn leading(heights: &[i16], rungs: &[Option<i32>], from: usize, to: usize) -> i32 {
    let pair = from.max(to.saturating_sub(2));
    let above = heights[pair..to].iter().any(|height| *height > heights[to]);
    let below = heights[pair..to].iter().any(|height| *height < heights[to]);
    let borrowed = rungs[pair..to].iter().any(Option::is_none);
    let around = above && below && borrowed;
    let cost = |at: usize| match rungs[at] {
        Some(_) if around && at >= pair => -1,
        _ => 2,
    };
    (from..to).map(cost).sum()
}

/// The notes from `from` on that may be the next rung: all before it lead to
/// it.
fn reachable(heights: &[i16], from: usize) -> impl Iterator<Item = usize> + '_ {
    let to = heights.len().min(from + MOST_LEADING + 1);
    (from..to).filter(move |next| {
        heights[from..*next]
            .iter()
            .all(|height| (height - heights[*next]).abs() == 1)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Semitones over a root on a major scale; `^` and `v` for what leads.
    fn check(heights: &[i16], expected: Option<&str>) {
        const MAJOR: [i16; 7] = [0, 2, 4, 5, 7, 9, 11];
        let rung = |height: &i16| {
            let place = MAJOR
                .iter()
                .position(|tone| *tone == height.rem_euclid(12))?;
            Some(7 * i32::from(height.div_euclid(12)) + place as i32)
        };
        let rungs: Vec<Option<i32>> = heights.iter().map(rung).collect();
        let said = steps(heights, &rungs).map(|steps| {
            let said = steps.iter().map(|step| match step {
                Step::Rung(rung) => rung.to_string(),
                Step::Above => "^".to_owned(),
                Step::Below => "v".to_owned(),
            });
            said.collect::<Vec<_>>().join(" ")
        });
        assert_eq!(said.as_deref(), expected, "{heights:?}");
    }

    #[test]
    fn rungs_and_what_leads_to_them() {
        check(&[0, 2, 4, 7], Some("0 1 2 4"));
        check(&[0, -1, 0, -12], Some("0 -1 0 -7"));
        check(&[6, 7], Some("v 4"));
        check(&[8, 7], Some("^ 4"));
        check(&[0, 8, 6, 7], Some("0 ^ v 4"));
        check(&[0, 6, 8, 7], Some("0 v ^ 4"));
        // B is the scale's own, but between D flat and C it leads.
        check(&[4, 1, -1, 0], Some("2 ^ v 0"));
        check(&[4, -1, 1, 0], Some("2 v ^ 0"));
        check(&[4, -1, 1, -1, 0], Some("2 -1 ^ v 0"));
        check(&[0, 1], None);
        check(&[0, 6, 9], None);
        check(&[6], None);
        // A neighbour note that returns.
        check(&[0, 1, 0], Some("0 ^ 0"));
        check(&[7, 6, 7, 4, 0], Some("4 v 4 2 0"));
        check(&[], None);
    }
}
