//! The high point: exactly one statement reaches the line's highest pitch,
//! past the middle of the exercise. Exact: each pitch is tried for which a
//! line could still be the cheapest.

use std::collections::BTreeMap;

use super::ahead::Ahead;
use super::search::{Graph, Layer, Path};

/// The cheapest line with a high point, and its pitch: `plain` is the graph of
/// all lines with what can follow in it, `of_pitch` what a pitch costs by
/// itself, `within` the cheapest line for at most so much that has some pitch
/// for its highest. A tie goes to the seed.
pub(crate) fn cheapest<T: Fn(usize, &super::search::Choice) -> u64>(
    plain: (&Graph<T>, &Ahead),
    of_pitch: impl Fn(i32) -> u32,
    mut within: impl FnMut(i32, u32) -> Option<Path>,
) -> Option<(Path, i32)> {
    let (plain, ahead) = plain;
    let mut pitches: Vec<(u32, i32)> = least_by_pitch(plain.layers, ahead)
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
        if best.as_ref().is_none_or(|(known, _, _)| cost < *known) {
            best = Some((cost, path, pitch));
        }
    }
    best.map(|(_, path, pitch)| (path, pitch))
}

/// The least that a line costs that reaches a pitch where it may.
fn least_by_pitch(layers: &[Layer], ahead: &Ahead) -> BTreeMap<i32, u32> {
    let mut least: BTreeMap<i32, u32> = BTreeMap::new();
    // The least cost to come to each last note of the layer before.
    let mut arrived: Vec<u32> = Vec::new();
    for (at, layer) in layers.iter().enumerate() {
        let lasts = layer.joins.lasts;
        let mut nearest: Vec<Option<u32>> = vec![None; layer.joins.firsts()];
        let mut now = vec![u32::MAX; lasts];
        for choice in layer.choices {
            let before = match at {
                0 => 0,
                _ => *nearest[choice.first].get_or_insert_with(|| {
                    let joins = layer.joins.to(choice.first).iter();
                    let costs = joins
                        .zip(&arrived)
                        .map(|(join, cost)| cost.saturating_add(*join));
                    costs.min().unwrap_or(u32::MAX)
                }),
            };
            let here = before.saturating_add(choice.cost);
            now[choice.last] = now[choice.last].min(here);
            if layer.high_point {
                let through = here.saturating_add(ahead.after_any(at, choice));
                let known = least.entry(choice.high).or_insert(u32::MAX);
                *known = (*known).min(through);
            }
        }
        arrived = now;
    }
    least.retain(|_, least| *least < u32::MAX);
    least
}
