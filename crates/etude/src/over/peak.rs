//! The high point: exactly one statement reaches the line's highest pitch,
//! past the middle of the exercise. Exact: each pitch is tried for which a
//! line could still be the cheapest.

use std::collections::BTreeMap;

use super::graph::{Choice, MOST, NEVER, near};
use super::lower_bound::{KindBounds, LowerBound, rebased, variant};
use super::search::Graph;
use super::state::Path;

/// The cheapest line with a high point, and its pitch: `plain` is the graph of
/// all lines with what can follow in it, `of_pitch` what a pitch costs by
/// itself, `within` the cheapest line for at most so much that has some pitch
/// for its highest. A tie goes to the seed, then to the lower pitch.
pub(crate) fn cheapest<T: Fn(usize, &Choice) -> u64>(
    plain: (&Graph<T>, &LowerBound),
    of_pitch: impl Fn(i32) -> u32,
    mut within: impl FnMut(i32, u32) -> Option<Path>,
) -> Option<(Path, i32)> {
    let (plain, lower_bound) = plain;
    let mut pitches: Vec<(u32, i32)> = least_by_pitch(plain, lower_bound)
        .into_iter()
        .map(|(pitch, least)| (least.saturating_add(of_pitch(pitch)), pitch))
        .collect();
    pitches.sort_unstable();
    let mut best: Option<((u32, u64), Path, i32)> = None;
    for (least, pitch) in pitches {
        let most = best.as_ref().map_or(u32::MAX, |((cost, _), _, _)| *cost);
        if least > most {
            break;
        }
        let own = of_pitch(pitch);
        let Some(path) = within(pitch, most - own.min(most)) else {
            continue;
        };
        let cost = (path.cost.0 + own, path.cost.1);
        let better = |(known, _, lower): &(_, _, _)| (cost, pitch) < (*known, *lower);
        if best.as_ref().is_none_or(better) {
            best = Some((cost, path, pitch));
        }
    }
    best.map(|(_, path, pitch)| (path, pitch))
}

/// The least that a line costs that reaches a pitch where it may: what comes
/// before is reckoned forwards as `lower_bound` reckons what follows backwards.
fn least_by_pitch<T>(graph: &Graph<T>, lower_bound: &LowerBound) -> BTreeMap<i32, u32> {
    let shape = lower_bound.shape();
    let firsts = graph.layers.iter().map(|layer| layer.joins.firsts());
    let firsts = firsts.max().unwrap_or(0);
    let entered = shape.wide(firsts);
    let mut least: BTreeMap<i32, u32> = BTreeMap::new();
    // The least that it costs to come to each last note, and to each first one
    // from each variant of the layer before, and as each of this one; on top
    // of what all cost.
    let mut arrived = vec![NEVER; shape.rows() * shape.lasts];
    let mut from = vec![NEVER; shape.rows() * firsts];
    let mut entering = vec![0; shape.rows() * firsts];
    let mut base: u32 = 0;
    for (at, layer) in graph.layers.iter().enumerate() {
        let known = shape.remembered(graph.layers, at);
        if at > 0 {
            from.fill(NEVER);
            for row in shape.rows_of(&known, &(0..1)) {
                let arrived = &arrived[row * shape.lasts..][..shape.lasts];
                let from = &mut from[row * firsts..][..firsts];
                for (first, least) in (0..layer.joins.firsts()).zip(from) {
                    let joins = arrived.iter().zip(layer.joins.near_to(first));
                    *least = joins.fold(NEVER, |least, (cost, join)| {
                        least.min(cost.saturating_add(*join))
                    });
                }
            }
            entered.join(
                (&known, &(0..1)),
                &from,
                near(graph.again.variant),
                &mut entering,
            );
        }
        let roles = KindBounds::of(layer, graph.kinds, shape.kinds);
        arrived.fill(NEVER);
        for choice in layer.choices {
            let own = near(choice.cost);
            for before in known.clone() {
                let entering =
                    entering[shape.row(variant(choice), before, 0) * firsts..][choice.first];
                if entering == NEVER {
                    continue;
                }
                let (role, kind) = roles.step(before, choice);
                let row = shape.row(variant(choice), kind, 0);
                let here = (own + role).min(MOST) + entering.min(MOST);
                let known = &mut arrived[row * shape.lasts..][choice.last];
                *known = (*known).min(here);
                if layer.high_point {
                    let through = base.saturating_add(u32::from(here.unsigned_abs()));
                    let through =
                        through.saturating_add(lower_bound.after_row(at, row, choice.last));
                    let known = least.entry(choice.high).or_insert(u32::MAX);
                    *known = (*known).min(through);
                }
            }
        }
        base += rebased(&mut arrived);
    }
    least.retain(|_, least| *least < u32::MAX);
    least
}
