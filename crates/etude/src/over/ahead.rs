//! The least that can follow a note in each layer: what the search may count
//! on when it leaves a state out. Variants, what a phrase remembers and the
//! high point are counted; limits and starting degrees are not, so that it is
//! never too much.

use std::ops::Range;

use super::phrase::{Kind, Memory, Role};
use super::search::{Again, Choice, Layer};

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
#[derive(Debug)]
pub(crate) struct Ahead {
    shape: Shape,
    /// Layer by layer, row by row, on top of what each layer has at least.
    costs: Vec<i16>,
    bases: Vec<u32>,
    least: u32,
}

/// Where nothing can follow.
const NEVER: i16 = i16::MAX;

/// As far apart as costs are told: three of them are less than [`NEVER`].
const MOST: i16 = 10_000;

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
        let choices = layers.iter().flat_map(|layer| layer.choices);
        let opening = layers.iter().filter(|layer| layer.role.keeps_kind);
        let opening = opening.flat_map(|layer| layer.choices);
        Shape {
            lasts: layers.first().map_or(0, |layer| layer.joins.lasts),
            variants: choices.map(variant).max().unwrap_or(0) + 1,
            kinds: opening.map(|choice| kind(choice.kind)).max().unwrap_or(0) + 1,
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
            bases: vec![0; layers.len()],
            least: 0,
        };
        if peak.is_some() && !layers.is_empty() {
            ahead.end_on_the_peak(layers.len() - 1);
        }
        let earliest = layers.iter().position(|layer| layer.high_point);
        let firsts = layers.iter().map(|layer| layer.joins.firsts());
        let firsts = firsts.max().unwrap_or(0);
        let mut entering = vec![NEVER; shape.rows() * firsts];
        let mut to = vec![NEVER; size];
        for at in (0..layers.len()).rev() {
            let layer = &layers[at];
            let before = at.checked_sub(1);
            let remembers = before.is_some_and(|before| layers[before].role.keeps_kind);
            // What is remembered is never nothing.
            let known = if remembers { 1..shape.kinds } else { 0..1 };
            // Before the high point may come it hasn't been reached.
            let reachable = match earliest {
                Some(earliest) if at <= earliest => 1,
                _ => shape.peaks,
            };
            entering.fill(NEVER);
            let here = &ahead.costs[at * size..][..size];
            let roles = Relaxed::of(layer, kinds, shape.kinds);
            for choice in layer.choices {
                let own = near(choice.cost);
                for reached in 0..reachable {
                    let Some(now) = rises(choice, peak, layer.high_point, reached > 0) else {
                        continue;
                    };
                    for from in known.clone() {
                        let (role, kind) = roles.step(from, choice);
                        let row = shape.row(variant(choice), kind, usize::from(now));
                        let follows = here[row * shape.lasts + choice.last];
                        let cost = within((own + role).min(MOST).saturating_add(follows));
                        let row = shape.row(variant(choice), from, reached);
                        let place = row * firsts + choice.first;
                        entering[place] = entering[place].min(cost);
                    }
                }
            }
            let Some(before) = before else {
                let opens = (0..shape.variants).map(|variant| shape.row(variant, 0, 0));
                let opens = opens.flat_map(|row| &entering[row * firsts..][..firsts]);
                let least = opens.copied().min().unwrap_or(0);
                ahead.least = from(ahead.bases[0], least);
                break;
            };
            to.fill(NEVER);
            let asked = (0..shape.variants)
                .flat_map(|variant| known.clone().map(move |kind| (variant, kind)))
                .flat_map(|(variant, kind)| {
                    (0..reachable).map(move |reached| shape.row(variant, kind, reached))
                });
            for place in asked {
                let row = &mut to[place * shape.lasts..][..shape.lasts];
                let entering = &entering[place * firsts..][..firsts];
                for (first, cost) in entering.iter().enumerate() {
                    if *cost == NEVER {
                        continue;
                    }
                    add(row, *cost, layer.joins.near_to(first));
                }
            }
            let costs = &mut ahead.costs[before * size..][..size];
            shape.join(&known, &to, near(again.variant), costs);
            let least = costs.iter().copied().min().unwrap_or(0) % NEVER;
            for cost in costs.iter_mut() {
                let nearer = (*cost - least).min(MOST);
                *cost = if *cost == NEVER { NEVER } else { nearer };
            }
            ahead.bases[before] = ahead.bases[at] + u32::from(least.unsigned_abs());
        }
        ahead
    }

    /// At the end the peak must have been reached.
    fn end_on_the_peak(&mut self, last: usize) {
        let Shape { lasts, .. } = self.shape;
        let size = self.shape.rows() * lasts;
        let rows = self.costs[last * size..].chunks_exact_mut(lasts.max(1));
        for row in rows.step_by(2) {
            row.fill(NEVER);
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
        let cost = self.costs[(layer * self.shape.rows() + row) * lasts + choice.last];
        from(self.bases[layer], cost)
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
        from(self.bases[layer], costs.min().unwrap_or(0))
    }
}

/// The least of what is known and of a cost with each join.
fn add(known: &mut [i16], cost: i16, joins: &[i16]) {
    const AT_ONCE: usize = 8;
    let (wide, rest) = known.as_chunks_mut::<AT_ONCE>();
    let (joins, joins_rest) = joins.as_chunks::<AT_ONCE>();
    for (least, join) in wide.iter_mut().zip(joins) {
        for (least, join) in least.iter_mut().zip(join) {
            *least = (*least).min(cost.saturating_add(*join));
        }
    }
    for (least, join) in rest.iter_mut().zip(joins_rest) {
        *least = (*least).min(cost.saturating_add(*join));
    }
}

impl Shape {
    /// From what is least to each variant of the next layer, what is least
    /// after each variant of this one.
    fn join(self, kinds: &Range<usize>, to: &[i16], again: i16, costs: &mut [i16]) {
        for from in 0..self.variants {
            for kind in 0..self.kinds {
                for peak in 0..self.peaks {
                    let row = self.row(from, kind, peak);
                    let row = &mut costs[row * self.lasts..][..self.lasts];
                    row.fill(NEVER);
                    if !kinds.contains(&kind) {
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

/// A cost, as far as it is told.
pub(crate) fn near(cost: u32) -> i16 {
    match cost {
        u32::MAX => NEVER,
        cost => i16::try_from(cost).unwrap_or(MOST).min(MOST),
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

/// What choices cost in their phrase at the least, and what is remembered after
/// them: for each kind that is remembered before, kind by kind.
struct Relaxed {
    kinds: usize,
    steps: Vec<(i16, usize)>,
}

impl Relaxed {
    fn of(layer: &Layer, kinds: &[Kind], known: usize) -> Relaxed {
        let count = kinds.len().max(1);
        let step = |from: usize, own: usize| {
            if from >= KINDS {
                let kept = match layer.role {
                    Role {
                        keeps_kind: false, ..
                    } => 0,
                    Role { opens: true, .. } => kind(own as u16),
                    _ => KINDS,
                };
                return (0, kept);
            }
            let memory = Memory {
                kind: from as u16,
                ..Memory::default()
            };
            let (cost, memory) = layer.role.step(kinds, memory, own as u16, (0, 0));
            (near(cost), kind(memory.kind))
        };
        let steps = (0..known).flat_map(|from| (0..count).map(move |own| step(from, own)));
        Relaxed {
            kinds: count,
            steps: steps.collect(),
        }
    }

    fn step(&self, from: usize, choice: &Choice) -> (i16, usize) {
        self.steps[from * self.kinds + usize::from(choice.kind)]
    }
}

fn variant(choice: &Choice) -> usize {
    usize::from(choice.variant).min(VARIANTS)
}

fn kind(kind: u16) -> usize {
    usize::from(kind).min(KINDS)
}
