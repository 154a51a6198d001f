//! The fewest values that fill a stretch of time.

use crate::Ticks;
use crate::frame::Stretch;

/// Splits a stretch into the fewest pieces that `allowed` lets stand, and
/// hands each to `each`. Among equals one is cut at the `middle` of the bar;
/// else the longest comes first where it begins
/// on a unit; off it, the shortest, so that the beat is completed first. Cuts
/// fall on halves of halves of `unit`. What can't be split is left whole.
pub(crate) fn split(
    stretch: Stretch,
    unit: Ticks,
    middle: Option<Ticks>,
    allowed: impl Fn(Stretch) -> bool,
    mut each: impl FnMut(Stretch),
) {
    if allowed(stretch) {
        return each(stretch);
    }
    let mut grid = unit;
    while grid % 2 == 0 && (stretch.from % grid != 0 || stretch.to % grid != 0) {
        grid /= 2;
    }
    let cuts: Vec<Ticks> = (stretch.from..stretch.to)
        .step_by(grid as usize)
        .chain([stretch.to])
        .collect();
    let last = cuts.len() - 1;
    // Fewest pieces from each cut to the end, and where the first of them ends.
    let mut fewest: Vec<Option<(usize, usize)>> = vec![None; cuts.len()];
    fewest[last] = Some((0, last));
    for at in (0..last).rev() {
        // Its own place has no way yet.
        let ways = (at..=last).rev().filter_map(|to| {
            let (pieces, _) = fewest[to]?;
            allowed(Stretch {
                from: cuts[at],
                to: cuts[to],
            })
            .then_some((pieces + 1, to))
        });
        let on_a_unit = cuts[at] % unit == 0;
        // Ways come longest first.
        fewest[at] = ways.reduce(|best, way| {
            let cut = |way: (usize, usize)| Some(cuts[way.1]) == middle;
            let preferred = cut(way) || (!on_a_unit && !cut(best));
            let better = way.0 < best.0 || (way.0 == best.0 && preferred);
            if better { way } else { best }
        });
    }
    let mut at = 0;
    while at < last {
        let to = fewest[at].map_or(last, |(_, to)| to);
        each(Stretch {
            from: cuts[at],
            to: cuts[to],
        });
        at = to;
    }
}
