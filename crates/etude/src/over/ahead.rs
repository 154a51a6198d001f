//! The least that can follow a note in each layer: what the search may count
//! on when it leaves a state out. Variants, what a phrase remembers and the
//! high point are counted; limits and starting degrees are not, so that it is
//! never too much.

use super::phrase::{Kind, Memory, Role};
use super::search::{Again, Choice, Layer};

/// As many variants are told apart; what is beyond may follow itself for
/// nothing.
const VARIANTS: usize = 8;

/// As many kinds of statement are remembered; what is beyond may be followed
/// by anything for nothing.
const KINDS: usize = 6;

/// The least that can follow, in each layer after each variant, memory and
/// last note.
#[derive(Debug)]
pub(crate) struct Ahead {
    shape: Shape,
    /// Layer by layer, row by row.
    costs: Vec<u32>,
    least: u32,
}

/// How rows are numbered: by variant, what is remembered, and whether the high
/// point is reached.
#[derive(Debug, Clone, Copy)]
struct Shape {
    lasts: usize,
    variants: usize,
    kinds: usize,
    peaks: usize,
}

impl Shape {
    fn of(layers: &[Layer], peak: Option<i32>) -> Shape {
        let choices = || layers.iter().flat_map(|layer| layer.choices);
        let remembers = layers.iter().any(|layer| layer.role.keeps_kind);
        let kinds = choices()
            .map(|choice| kind(choice.kind))
            .max()
            .filter(|_| remembers);
        Shape {
            lasts: layers.first().map_or(0, |layer| layer.joins.lasts),
            variants: choices().map(variant).max().unwrap_or(0) + 1,
            kinds: kinds.unwrap_or(0) + 1,
            peaks: if peak.is_some() { 2 } else { 1 },
        }
    }

    fn rows(self) -> usize {
        self.variants * self.kinds * self.peaks
    }

    fn row(self, variant: usize, kind: usize, peak: usize) -> usize {
        (variant * self.kinds + kind) * self.peaks + peak
    }
}

impl Ahead {
    /// What can follow; with a peak, where exactly one statement reaches it,
    /// in a layer that may have it.
    pub fn of(layers: &[Layer], again: Again, kinds: &[Kind], peak: Option<i32>) -> Ahead {
        let shape = Shape::of(layers, peak);
        let size = shape.rows() * shape.lasts;
        let mut ahead = Ahead {
            shape,
            costs: vec![0; size * layers.len()],
            least: 0,
        };
        if peak.is_some() && !layers.is_empty() {
            ahead.end_on_the_peak(layers.len() - 1);
        }
        let firsts = layers.iter().map(|layer| layer.joins.firsts());
        let firsts = firsts.max().unwrap_or(0);
        let mut entering = vec![u32::MAX; shape.rows() * firsts];
        let mut to = vec![u32::MAX; size];
        for at in (0..layers.len()).rev() {
            let layer = &layers[at];
            let before = at.checked_sub(1);
            let remembers = before.is_some_and(|before| layers[before].role.keeps_kind);
            let known = if remembers { shape.kinds } else { 1 };
            entering.fill(u32::MAX);
            for choice in layer.choices {
                for reached in 0..shape.peaks {
                    let Some(now) = rises(choice, peak, layer.high_point, reached > 0) else {
                        continue;
                    };
                    for from in 0..known {
                        let (role, kind) = relaxed(layer, kinds, from, choice);
                        let row = shape.row(variant(choice), kind, usize::from(now));
                        let follows = ahead.costs[at * size + row * shape.lasts + choice.last];
                        let cost = (choice.cost + role).saturating_add(follows);
                        let row = shape.row(variant(choice), from, reached);
                        let place = row * firsts + choice.first;
                        entering[place] = entering[place].min(cost);
                    }
                }
            }
            let Some(before) = before else {
                let opens = (0..shape.variants).map(|variant| shape.row(variant, 0, 0));
                let opens = opens.flat_map(|row| &entering[row * firsts..][..firsts]);
                ahead.least = opens.copied().min().unwrap_or(0);
                break;
            };
            to.fill(u32::MAX);
            for (place, cost) in entering.iter().enumerate() {
                if *cost == u32::MAX {
                    continue;
                }
                let (row, first) = (place / firsts, place % firsts);
                let row = &mut to[row * shape.lasts..][..shape.lasts];
                for (least, join) in row.iter_mut().zip(layer.joins.to(first)) {
                    *least = (*least).min(cost.saturating_add(*join));
                }
            }
            let costs = &mut ahead.costs[before * size..][..size];
            shape.join(known, &to, again.variant, costs);
        }
        ahead
    }

    /// At the end the peak must have been reached.
    fn end_on_the_peak(&mut self, last: usize) {
        let Shape { lasts, .. } = self.shape;
        let size = self.shape.rows() * lasts;
        let rows = self.costs[last * size..].chunks_exact_mut(lasts.max(1));
        for row in rows.step_by(2) {
            row.fill(u32::MAX);
        }
    }

    /// The least that any path costs.
    pub fn least(&self) -> u32 {
        self.least
    }

    /// The least that can follow a choice of a layer.
    pub fn after(&self, layer: usize, choice: &Choice, memory: &Memory) -> u32 {
        let Shape { lasts, peaks, .. } = self.shape;
        let kind = kind(memory.kind).min(self.shape.kinds - 1);
        let peak = usize::from(memory.peak && peaks > 1);
        let row = self.shape.row(variant(choice), kind, peak);
        self.costs[(layer * self.shape.rows() + row) * lasts + choice.last]
    }

    /// The same, whatever is remembered.
    pub fn after_any(&self, layer: usize, choice: &Choice) -> u32 {
        let Shape {
            lasts,
            kinds,
            peaks,
            ..
        } = self.shape;
        let first = self.shape.row(variant(choice), 0, 0);
        let rows = first..first + kinds * peaks;
        let costs =
            rows.map(|row| self.costs[(layer * self.shape.rows() + row) * lasts + choice.last]);
        costs.min().unwrap_or(0)
    }
}

impl Shape {
    /// From what is least to each variant of the next layer, what is least
    /// after each variant of this one.
    fn join(self, kinds: usize, to: &[u32], again: u32, costs: &mut [u32]) {
        for from in 0..self.variants {
            for kind in 0..self.kinds {
                for peak in 0..self.peaks {
                    let row = self.row(from, kind, peak);
                    let row = &mut costs[row * self.lasts..][..self.lasts];
                    row.fill(u32::MAX);
                    if kind >= kinds {
                        continue;
                    }
                    for variant in 0..self.variants {
                        let same = variant == from && variant < VARIANTS;
                        let again = if same { again } else { 0 };
                        let to = &to[self.row(variant, kind, peak) * self.lasts..][..self.lasts];
                        for (least, cost) in row.iter_mut().zip(to) {
                            *least = (*least).min(cost.saturating_add(again));
                        }
                    }
                }
            }
        }
    }
}

/// Whether the peak has been reached after a choice; none where the choice
/// can't stand there.
pub(crate) fn rises(choice: &Choice, peak: Option<i32>, may: bool, reached: bool) -> Option<bool> {
    match peak {
        None => Some(reached),
        Some(peak) if choice.high < peak => Some(reached),
        Some(peak) if choice.high == peak && may && !reached => Some(true),
        Some(_) => None,
    }
}

/// What a choice costs in its phrase at the least, and what is remembered
/// after it.
fn relaxed(layer: &Layer, kinds: &[Kind], from: usize, choice: &Choice) -> (u32, usize) {
    if from >= KINDS {
        let kept = match layer.role {
            Role {
                keeps_kind: false, ..
            } => 0,
            Role { opens: true, .. } => kind(choice.kind),
            _ => KINDS,
        };
        return (0, kept);
    }
    let memory = Memory {
        kind: from as u16,
        ..Memory::default()
    };
    let (cost, memory) = layer.role.step(kinds, memory, choice);
    (cost, kind(memory.kind))
}

fn variant(choice: &Choice) -> usize {
    usize::from(choice.variant).min(VARIANTS)
}

fn kind(kind: u16) -> usize {
    usize::from(kind).min(KINDS)
}
