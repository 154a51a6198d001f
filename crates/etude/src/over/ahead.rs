//! The least that can follow a note in each layer: what the search may count
//! on when it leaves a state out. Variants are counted, limits and starting
//! degrees are not, so that it is never too much.

use super::search::{Choice, Joins};

/// As many variants are told apart; what is beyond may follow itself for
/// nothing.
const VARIANTS: usize = 8;

/// The least that can follow, in each layer after each variant and last note.
#[derive(Debug)]
pub(crate) struct Ahead {
    pitches: usize,
    kinds: usize,
    /// Layer by layer, kind of variant by kind, pitch by pitch.
    costs: Vec<u32>,
    least: u32,
}

impl Ahead {
    pub fn of(layers: &[&[Choice]], joins: &Joins) -> Ahead {
        let pitches = joins.pitches;
        let choices = layers.iter().copied().flatten();
        let kinds = choices.map(kind).max().unwrap_or(0) + 1;
        let size = kinds * pitches;
        let mut ahead = Ahead {
            pitches,
            kinds,
            costs: vec![0; size * layers.len()],
            least: 0,
        };
        let mut entering = vec![u32::MAX; size];
        let mut to = vec![u32::MAX; size];
        for at in (0..layers.len()).rev() {
            entering.fill(u32::MAX);
            for choice in layers[at] {
                let place = kind(choice) * pitches + choice.first;
                let cost = choice.cost + ahead.after(at, choice);
                entering[place] = entering[place].min(cost);
            }
            let Some(before) = at.checked_sub(1) else {
                ahead.least = entering.iter().copied().min().unwrap_or(0);
                break;
            };
            to.fill(u32::MAX);
            for (place, cost) in entering.iter().enumerate() {
                if *cost == u32::MAX {
                    continue;
                }
                let (kind, first) = (place / pitches, place % pitches);
                let row = &mut to[kind * pitches..][..pitches];
                for (least, join) in row.iter_mut().zip(joins.to(first)) {
                    *least = (*least).min(cost + join);
                }
            }
            let costs = &mut ahead.costs[before * size..][..size];
            for (from, row) in costs.chunks_exact_mut(pitches).enumerate() {
                row.fill(u32::MAX);
                for (kind, to) in to.chunks_exact(pitches).enumerate() {
                    let again = if kind == from && kind < VARIANTS {
                        joins.same_variant
                    } else {
                        0
                    };
                    for (least, cost) in row.iter_mut().zip(to) {
                        *least = (*least).min(cost.saturating_add(again));
                    }
                }
            }
        }
        ahead
    }

    /// The least that any path costs.
    pub fn least(&self) -> u32 {
        self.least
    }

    /// The least that can follow a choice of a layer.
    pub fn after(&self, layer: usize, choice: &Choice) -> u32 {
        let row = layer * self.kinds + kind(choice);
        self.costs[row * self.pitches + choice.last]
    }
}

fn kind(choice: &Choice) -> usize {
    usize::from(choice.variant).min(VARIANTS)
}
