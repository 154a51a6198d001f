//! The cheapest path through layers of choices, exactly: dynamic programming
//! whose states carry how often a variant and a starting degree have stood in
//! a row. What must follow at least is reckoned backwards first; only states
//! that may yet end within a bound are followed, and the bound is raised until
//! a path lies within it.

use super::ahead::Ahead;

/// Something that may be played in a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Choice {
    /// Which fitted figure, and the rung it is begun on: nothing to the
    /// search.
    pub fitted: usize,
    pub base: i32,
    /// What it costs by itself.
    pub cost: u32,
    pub variant: u16,
    pub degree: u16,
    /// Its first and its last note, by their places among the pitches that
    /// are joined.
    pub first: usize,
    pub last: usize,
}

/// What it costs to go from a choice to one of the layer after it.
#[derive(Debug)]
pub(crate) struct Joins {
    pub pitches: usize,
    /// Row by row for the first note of what follows, in each the last note
    /// of what was before.
    pub by_pitch: Vec<u32>,
    /// On top where the variant, and where the starting degree, is the same.
    pub same_variant: u32,
    pub same_degree: u32,
}

impl Joins {
    /// From every last note to one first note.
    pub fn to(&self, first: usize) -> &[u32] {
        &self.by_pitch[first * self.pitches..][..self.pitches]
    }

    /// What a join costs.
    pub fn cost(&self, from: &Choice, to: &Choice) -> u32 {
        let again = |same, cost| if same { cost } else { 0 };
        self.to(to.first)[from.last]
            + again(from.variant == to.variant, self.same_variant)
            + again(from.degree == to.degree, self.same_degree)
    }
}

/// How often in a row a variant, and a starting degree, may stand; `None`
/// where it doesn't matter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Limits {
    pub variants: Option<u8>,
    pub degrees: Option<u8>,
}

/// Layers of choices, and what decides between paths through them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Graph<'a, T> {
    pub layers: &'a [&'a [Choice]],
    pub joins: &'a Joins,
    pub limits: Limits,
    /// What decides between paths of one cost: a number for each layer and
    /// choice, the least sum winning.
    pub tie: T,
}

/// What a path costs; ties decide last.
type Cost = (u32, u64);

#[derive(Debug, Clone, Copy)]
struct State {
    choice: u32,
    /// How often its variant and its degree have stood in a row.
    runs: (u8, u8),
    cost: Cost,
    /// Its place among the states of the layer before.
    before: u32,
}

/// What is kept of a state to find the way back.
#[derive(Debug, Clone, Copy)]
struct Step {
    choice: u32,
    before: u32,
}

/// What a layer is worked out in, kept for the next.
#[derive(Debug, Default)]
struct Bench {
    states: Vec<State>,
    next: Vec<State>,
    reached: Vec<State>,
    /// The least cost to come to each first note.
    nearest: Vec<Option<u32>>,
    /// All layers' steps, and where each layer's begin.
    steps: Vec<Step>,
    begins: Vec<usize>,
}

impl<T: Fn(usize, &Choice) -> u64> Graph<'_, T> {
    /// The choices of the cheapest path, one per layer. None where the limits
    /// allow no path.
    pub fn cheapest(&self) -> Option<Vec<usize>> {
        let ahead = Ahead::of(self.layers, self.joins);
        let mut bench = Bench::default();
        let mut slack = self.joins.same_variant + self.joins.same_degree + 1;
        loop {
            let bound = ahead.least().saturating_add(slack);
            let (path, all) = self.within(bound, &ahead, &mut bench);
            if path.is_some() || all {
                return path;
            }
            slack = slack.saturating_mul(3);
        }
    }

    /// The cheapest path of those that cost no more than a bound, and whether
    /// that left out none.
    fn within(&self, bound: u32, ahead: &Ahead, bench: &mut Bench) -> (Option<Vec<usize>>, bool) {
        let mut all = true;
        bench.states.clear();
        bench.steps.clear();
        bench.begins.clear();
        for (at, layer) in self.layers.iter().enumerate() {
            bench.next.clear();
            bench.nearest.clear();
            bench.nearest.resize(self.joins.pitches, None);
            for (number, choice) in (0..).zip(*layer) {
                let follows = ahead.after(at, choice);
                let nearest = match at.checked_sub(1) {
                    None => 0,
                    Some(before) => bench.nearest(self.layers[before], self.joins, choice.first),
                };
                if nearest.saturating_add(choice.cost + follows) > bound {
                    all = false;
                    continue;
                }
                self.reach(at, (choice, number), bench);
                for state in &bench.reached {
                    if state.cost.0 + follows > bound {
                        all = false;
                    } else {
                        bench.next.push(*state);
                    }
                }
            }
            bench.next.sort_unstable_by_key(order);
            let step = |state: &State| Step {
                choice: state.choice,
                before: state.before,
            };
            bench.begins.push(bench.steps.len());
            bench.steps.extend(bench.next.iter().map(step));
            std::mem::swap(&mut bench.states, &mut bench.next);
            if bench.states.is_empty() {
                return (None, all);
            }
        }
        (Some(bench.back()), all)
    }

    /// The states of one choice that may lie on a cheapest path, out of the
    /// states of the layer before, which come in rising cost.
    fn reach(&self, at: usize, (choice, number): (&Choice, u32), bench: &mut Bench) {
        let reached = &mut bench.reached;
        reached.clear();
        let tie = (self.tie)(at, choice);
        let Some(before) = at.checked_sub(1) else {
            reached.push(State {
                choice: number,
                runs: (1, 1),
                cost: (choice.cost, tie),
                before: 0,
            });
            return;
        };
        let layer = self.layers[before];
        let mut enough = u32::MAX;
        for (place, state) in (0..).zip(&bench.states) {
            // No run is shorter than one: nothing that costs more can matter.
            if state.cost.0 + choice.cost > enough {
                break;
            }
            let from = &layer[state.choice as usize];
            let variant = run(
                from.variant == choice.variant,
                state.runs.0,
                self.limits.variants,
            );
            let degree = run(
                from.degree == choice.degree,
                state.runs.1,
                self.limits.degrees,
            );
            let (Some(variant), Some(degree)) = (variant, degree) else {
                continue;
            };
            let cost = (
                state.cost.0 + choice.cost + self.joins.cost(from, choice),
                state.cost.1.saturating_add(tie),
            );
            let new = State {
                choice: number,
                runs: (variant, degree),
                cost,
                before: place,
            };
            if !reached.iter().any(|known| covers(known, &new)) {
                reached.retain(|known| !covers(&new, known));
                reached.push(new);
                if new.runs == (1, 1) {
                    enough = cost.0;
                }
            }
        }
    }
}

impl Bench {
    /// The least cost to come to a first note, variants and degrees aside.
    fn nearest(&mut self, layer: &[Choice], joins: &Joins, first: usize) -> u32 {
        let states = &self.states;
        *self.nearest[first].get_or_insert_with(|| {
            let to = joins.to(first);
            let costs = states
                .iter()
                .map(|state| state.cost.0 + to[layer[state.choice as usize].last]);
            costs.min().unwrap_or(u32::MAX)
        })
    }

    /// The path to the first of the last layer's states.
    fn back(&self) -> Vec<usize> {
        let mut place = 0;
        let layers = self.begins.iter().rev();
        let mut path: Vec<usize> = layers
            .map(|begins| {
                let step = self.steps[begins + place];
                place = step.before as usize;
                step.choice as usize
            })
            .collect();
        path.reverse();
        path
    }
}

/// Whether whatever follows one state may follow the other, for no more.
fn covers(one: &State, other: &State) -> bool {
    one.cost <= other.cost && one.runs.0 <= other.runs.0 && one.runs.1 <= other.runs.1
}

/// How often it stands in a row now, if it may.
fn run(again: bool, before: u8, limit: Option<u8>) -> Option<u8> {
    match limit {
        Some(limit) if again => Some(before + 1).filter(|run| *run <= limit.max(1)),
        _ => Some(1),
    }
}

fn order(state: &State) -> (Cost, u32, (u8, u8)) {
    (state.cost, state.choice, state.runs)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Choices with what decides ties between them.
    type Layers = Vec<Vec<(Choice, u32)>>;

    fn cost(layers: &Layers, joins: &Joins, path: &[usize]) -> Cost {
        let mut sum = (0, 0);
        for (at, &place) in path.iter().enumerate() {
            let (choice, tie) = &layers[at][place];
            sum = (sum.0 + choice.cost, sum.1 + u64::from(*tie));
            if at > 0 {
                let (from, _) = &layers[at - 1][path[at - 1]];
                sum.0 += joins.by_pitch[choice.first * joins.pitches + from.last];
                sum.0 += joins.same_variant * u32::from(from.variant == choice.variant);
                sum.0 += joins.same_degree * u32::from(from.degree == choice.degree);
            }
        }
        sum
    }

    fn allowed(layers: &Layers, limits: Limits, path: &[usize]) -> bool {
        let longest = |key: fn(&Choice) -> u16| {
            let keys: Vec<u16> = path
                .iter()
                .enumerate()
                .map(|(at, choice)| key(&layers[at][*choice].0))
                .collect();
            keys.chunk_by(|one, next| one == next)
                .map(<[u16]>::len)
                .max()
                .unwrap_or(0)
        };
        let within = |run: usize, limit: Option<u8>| limit.is_none_or(|most| run <= most.into());
        within(longest(|choice| choice.variant), limits.variants)
            && within(longest(|choice| choice.degree), limits.degrees)
    }

    /// Every path there is.
    fn paths(layers: &Layers) -> Vec<Vec<usize>> {
        layers.iter().fold(vec![Vec::new()], |paths, layer| {
            let longer = |path: Vec<usize>| {
                (0..layer.len()).map(move |choice| [path.clone(), vec![choice]].concat())
            };
            paths.into_iter().flat_map(longer).collect()
        })
    }

    fn limit() -> impl Strategy<Value = Option<u8>> {
        prop_oneof![Just(None), (1u8..4).prop_map(Some)]
    }

    const PITCHES: usize = 4;

    fn case() -> impl Strategy<Value = (Layers, Limits, Joins)> {
        let pitch = 0..PITCHES;
        let choice = (0u32..6, 0u32..3, 0u16..3, 0u16..3, pitch.clone(), pitch).prop_map(
            |(cost, tie, variant, degree, first, last)| {
                let choice = Choice {
                    fitted: 0,
                    base: 0,
                    cost,
                    // Some of them beyond those that `ahead` tells apart.
                    variant: variant * 6,
                    degree,
                    first,
                    last,
                };
                (choice, tie)
            },
        );
        let layers = prop::collection::vec(prop::collection::vec(choice, 1..6), 1..6);
        let by_pitch = prop::collection::vec(0u32..12, PITCHES * PITCHES);
        let joins = (by_pitch, 0u32..4, 0u32..4).prop_map(|(by_pitch, variant, degree)| Joins {
            pitches: PITCHES,
            by_pitch,
            same_variant: variant,
            same_degree: degree,
        });
        (layers, limit(), limit(), joins).prop_map(|(layers, variants, degrees, joins)| {
            (layers, Limits { variants, degrees }, joins)
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(600))]
        /// The search against every line there is.
        #[test]
        fn no_line_is_cheaper((layers, limits, joins) in case()) {
            let plain: Vec<Vec<Choice>> = layers
                .iter()
                .map(|layer| layer.iter().map(|(choice, _)| *choice).collect())
                .collect();
            let slices: Vec<&[Choice]> = plain.iter().map(Vec::as_slice).collect();
            let tie = |at: usize, choice: &Choice| {
                let place = plain[at].iter().position(|one| std::ptr::eq(one, choice));
                u64::from(layers[at][place.unwrap()].1)
            };
            let graph = Graph { layers: &slices, joins: &joins, limits, tie };
            let found = graph.cheapest();
            let best = paths(&layers)
                .into_iter()
                .filter(|path| allowed(&layers, limits, path))
                .map(|path| cost(&layers, &joins, &path))
                .min();
            prop_assert_eq!(found.as_ref().map(|path| cost(&layers, &joins, path)), best);
            if let Some(path) = found {
                prop_assert!(allowed(&layers, limits, &path));
            }
        }
    }
}
