//! The least that can follow a note in each layer: what the search may count
//! on when it leaves a state out. Variants, what a phrase remembers and the
//! high point are counted; limits and starting degrees are not, so that it is
//! never too much.

use std::ops::Range;

use super::graph::{AT_ONCE, Again, Choice, Joins, Layer, MOST, NEVER, near};
use super::role::{Memory, StatementKind};

/// As many variants are told apart; what is beyond may follow itself for
/// nothing.
const VARIANTS: usize = 8;

/// As many kinds of statement are remembered; what is beyond may be followed
/// by anything for nothing.
const KINDS: usize = 6;

/// The least that can follow, in each layer after each variant, memory and
/// last note. Costs are kept small, since processors compare many small numbers
/// at once: what is more than [`MOST`] counts as that, so that it is never too
/// much.
#[derive(Debug, Default)]
pub(crate) struct LowerBound {
    shape: RowShape,
    /// Layer by layer, row by row, on top of what each layer has at least.
    costs: Vec<i16>,
    bases: Vec<u32>,
    least: u32,
    /// What a layer is worked out in: what follows each first note, and each
    /// last note of the layer before by the variant that comes.
    entering: Vec<i16>,
    to: Vec<i16>,
}

/// How rows are numbered: by variant, what is remembered, and whether the high
/// point is reached.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct RowShape {
    /// As wide as rows of last notes are.
    pub lasts: usize,
    variants: usize,
    pub kinds: usize,
    peaks: usize,
}

impl RowShape {
    fn of(layers: &[Layer], peak: Option<i32>) -> RowShape {
        let choices = layers.iter().flat_map(|layer| layer.choices);
        let opening = layers.iter().filter(|layer| layer.role.keeps_kind);
        let opening = opening.flat_map(|layer| layer.choices);
        RowShape {
            lasts: layers.first().map_or(0, |layer| layer.joins.width()),
            variants: choices.map(variant).max().unwrap_or(0) + 1,
            kinds: opening.map(|choice| kind(choice.kind)).max().unwrap_or(0) + 1,
            peaks: if peak.is_some() { 2 } else { 1 },
        }
    }

    /// The same rows of another width.
    pub fn wide(self, lasts: usize) -> RowShape {
        RowShape { lasts, ..self }
    }

    pub fn rows(self) -> usize {
        self.variants * self.kinds * self.peaks
    }

    pub fn row(self, variant: usize, kind: usize, peak: usize) -> usize {
        (variant * self.kinds + kind) * self.peaks + peak
    }

    /// The kinds that may be remembered when a layer begins: what is
    /// remembered is never nothing.
    pub fn remembered(self, layers: &[Layer], at: usize) -> Range<usize> {
        let before = at.checked_sub(1);
        match before.is_some_and(|before| layers[before].role.keeps_kind) {
            true => 1..self.kinds,
            false => 0..1,
        }
    }

    /// Their rows, of each variant.
    pub fn rows_of(self, kinds: &Range<usize>, peaks: &Range<usize>) -> Vec<usize> {
        let kinds = (0..self.variants).flat_map(|one| kinds.clone().map(move |kind| (one, kind)));
        let rows = kinds.flat_map(|(variant, kind)| {
            peaks.clone().map(move |peak| self.row(variant, kind, peak))
        });
        rows.collect()
    }
}

impl LowerBound {
    /// What can follow.
    pub fn of(layers: &[Layer], again: Again, kinds: &[StatementKind]) -> LowerBound {
        let mut lower_bound = LowerBound::default();
        lower_bound.reckon(layers, (again, kinds), None, u32::MAX);
        lower_bound
    }

    /// Reckons what can follow; with a peak, where exactly one statement
    /// reaches it, in a layer that may have it. It is given up where any path
    /// costs more than so much.
    pub fn reckon(
        &mut self,
        layers: &[Layer],
        (again, kinds): (Again, &[StatementKind]),
        peak: Option<i32>,
        most: u32,
    ) {
        let shape = RowShape::of(layers, peak);
        let size = shape.rows() * shape.lasts;
        let firsts = layers.iter().map(|layer| layer.joins.firsts());
        let firsts = firsts.max().unwrap_or(0);
        self.shape = shape;
        self.least = u32::MAX;
        self.costs.resize(size * layers.len(), NEVER);
        self.bases.resize(layers.len(), 0);
        self.entering.resize(shape.rows() * firsts, NEVER);
        self.to.resize(size, NEVER);
        let Some(end) = layers.len().checked_sub(1) else {
            self.least = 0;
            return;
        };
        self.costs[end * size..].fill(0);
        if peak.is_some() {
            // At the end it must have been reached.
            let rows = self.costs[end * size..].chunks_exact_mut(shape.lasts.max(1));
            rows.step_by(2).for_each(|row| row.fill(NEVER));
        }
        self.bases[end] = 0;
        let mut windows = layers.iter().map(|layer| layer.high_point);
        let (earliest, latest) = (
            windows.clone().position(|may| may),
            windows.rposition(|may| may),
        );
        for at in (0..layers.len()).rev() {
            let layer = &layers[at];
            let known = shape.remembered(layers, at);
            // Whether the high point may have been reached when a layer begins:
            // not before it may come, and it must have been after that.
            let reached = match peak {
                None => 0..1,
                Some(_) if earliest.is_none_or(|earliest| at <= earliest) => 0..1,
                Some(_) if latest.is_none_or(|latest| at > latest) => 1..2,
                Some(_) => 0..2,
            };
            self.enter(at, layer, kinds, (&known, &reached), peak);
            let Some(before) = at.checked_sub(1) else {
                let opens = (0..shape.variants).map(|variant| shape.row(variant, 0, 0));
                let opens = opens.flat_map(|row| &self.entering[row * firsts..][..firsts]);
                let least = opens.copied().min().unwrap_or(0);
                self.least = from(self.bases[0], least);
                break;
            };
            self.to.fill(NEVER);
            for row in shape.rows_of(&known, &reached) {
                let to = &mut self.to[row * shape.lasts..][..shape.lasts];
                add(to, &self.entering[row * firsts..][..firsts], layer.joins);
            }
            let costs = &mut self.costs[before * size..][..size];
            shape.join((&known, &reached), &self.to, near(again.variant), costs);
            self.bases[before] = self.bases[at] + rebased(costs);
            if self.bases[before] > most {
                return;
            }
        }
    }

    /// What follows each first note of a layer, that note's statement
    /// included.
    fn enter(
        &mut self,
        at: usize,
        layer: &Layer,
        kinds: &[StatementKind],
        (known, reached): (&Range<usize>, &Range<usize>),
        peak: Option<i32>,
    ) {
        let shape = self.shape;
        let size = shape.rows() * shape.lasts;
        let firsts = self.entering.len() / shape.rows();
        self.entering.fill(NEVER);
        let here = &self.costs[at * size..][..size];
        let roles = KindBounds::of(layer, kinds, shape.kinds);
        for choice in layer.choices {
            let own = near(choice.cost);
            let variant = variant(choice);
            for before in reached.clone() {
                let Some(now) = rises(choice, peak, layer.high_point, before > 0) else {
                    continue;
                };
                for from in known.clone() {
                    let (role, kind) = roles.step(from, choice);
                    let row = shape.row(variant, kind, usize::from(now));
                    let follows = here[row * shape.lasts + choice.last];
                    let cost = within((own + role).min(MOST).saturating_add(follows));
                    let row = shape.row(variant, from, before);
                    let entering = &mut self.entering[row * firsts + choice.first];
                    *entering = cost.min(*entering);
                }
            }
        }
    }

    /// The least that any path costs.
    pub fn least(&self) -> u32 {
        self.least
    }

    pub fn shape(&self) -> RowShape {
        self.shape
    }

    /// The least that can follow a choice of a layer.
    pub fn after(&self, layer: usize, choice: &Choice, memory: &Memory) -> u32 {
        let kind = kind(memory.kind).min(self.shape.kinds - 1);
        let peak = usize::from(memory.peak && self.shape.peaks > 1);
        let row = self.shape.row(variant(choice), kind, peak);
        self.after_row(layer, row, choice.last)
    }

    /// The least that can follow a last note of a layer, by its row.
    pub fn after_row(&self, layer: usize, row: usize, last: usize) -> u32 {
        let cost = self.costs[(layer * self.shape.rows() + row) * self.shape.lasts + last];
        from(self.bases[layer], cost)
    }
}

/// The least of what follows each first note, with the joins from each last
/// note.
fn add(to: &mut [i16], entering: &[i16], joins: &Joins) {
    let entering = || (0..).zip(entering).filter(|(_, cost)| **cost < NEVER);
    for (block, to) in to.as_chunks_mut::<AT_ONCE>().0.iter_mut().enumerate() {
        for (first, cost) in entering() {
            let joins = joins.near_to(first).as_chunks::<AT_ONCE>().0;
            for (least, join) in to.iter_mut().zip(&joins[block]) {
                *least = (*least).min(cost.saturating_add(*join));
            }
        }
    }
}

impl RowShape {
    /// From what is least to each variant of the next layer, what is least
    /// after each variant of this one.
    pub fn join(
        self,
        (kinds, peaks): (&Range<usize>, &Range<usize>),
        to: &[i16],
        again: i16,
        costs: &mut [i16],
    ) {
        costs.fill(NEVER);
        for from in 0..self.variants {
            for variant in 0..self.variants {
                let same = variant == from && variant < VARIANTS;
                let again = if same { again } else { 0 };
                for kind in kinds.clone() {
                    for peak in peaks.clone() {
                        let row = self.row(from, kind, peak);
                        let row = &mut costs[row * self.lasts..][..self.lasts];
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

/// Sets costs on top of the least of them, and gives that; nothing where all
/// are never.
pub(crate) fn rebased(costs: &mut [i16]) -> u32 {
    let least = costs.iter().copied().min().unwrap_or(0) % NEVER;
    for cost in costs {
        let nearer = (*cost - least).min(MOST);
        *cost = if *cost == NEVER { NEVER } else { nearer };
    }
    u32::from(least.unsigned_abs())
}

/// A cost on top of a base; `u32::MAX` for never.
fn from(base: u32, cost: i16) -> u32 {
    match cost {
        NEVER => u32::MAX,
        cost => base + u32::from(cost.unsigned_abs()),
    }
}

fn within(cost: i16) -> i16 {
    if cost == NEVER { NEVER } else { cost.min(MOST) }
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

/// What choices cost in their phrase at the least, and what is remembered after
/// them: for each kind that is remembered before, kind by kind.
pub(crate) struct KindBounds {
    kinds: usize,
    steps: Vec<(i16, usize)>,
}

impl KindBounds {
    pub fn of(layer: &Layer, kinds: &[StatementKind], known: usize) -> KindBounds {
        let count = kinds.len().max(1);
        let step = |from: usize, own: usize| {
            if from >= KINDS {
                return (0, if layer.role.keeps_kind { KINDS } else { 0 });
            }
            let memory = Memory {
                kind: from as u16,
                ..Memory::default()
            };
            let (cost, memory) = layer.role.step(kinds, memory, own as u16, (0, 0));
            (near(cost), kind(memory.kind))
        };
        let steps = (0..known).flat_map(|from| (0..count).map(move |own| step(from, own)));
        KindBounds {
            kinds: count,
            steps: steps.collect(),
        }
    }

    pub fn step(&self, from: usize, choice: &Choice) -> (i16, usize) {
        self.steps[from * self.kinds + usize::from(choice.kind)]
    }
}

pub(crate) fn variant(choice: &Choice) -> usize {
    usize::from(choice.variant).min(VARIANTS)
}

fn kind(kind: u16) -> usize {
    usize::from(kind).min(KINDS)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn costs_stand_on_the_least_of_them() {
        let check = |mut costs: Vec<i16>, base: u32, expected: &[i16]| {
            assert_eq!(rebased(&mut costs), base);
            assert_eq!(costs, expected);
        };
        check(vec![5, 7, NEVER, 5], 5, &[0, 2, NEVER, 0]);
        check(vec![0, 3], 0, &[0, 3]);
        check(vec![NEVER, NEVER], 0, &[NEVER, NEVER]);
        check(
            vec![NEVER, MOST],
            u32::from(MOST.unsigned_abs()),
            &[NEVER, 0],
        );
        check(Vec::new(), 0, &[]);
    }
}
