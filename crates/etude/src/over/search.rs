//! The cheapest path through layers of choices, exactly: dynamic programming
//! whose states carry how often a variant and a starting degree have stood in
//! a row.

/// Something that may be played in a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Choice {
    /// What it costs by itself.
    pub cost: u32,
    /// What decides between paths of one cost.
    pub tie: u32,
    pub variant: u16,
    pub degree: u16,
}

/// How often in a row a variant, and a starting degree, may stand; `None`
/// where it doesn't matter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Limits {
    pub variants: Option<u8>,
    pub degrees: Option<u8>,
}

/// What a path costs; ties decide last.
type Cost = (u64, u64);

#[derive(Debug, Clone, Copy)]
struct State {
    choice: u32,
    /// How often its variant and its degree have stood in a row.
    runs: (u8, u8),
    cost: Cost,
    /// Its place among the states of the layer before.
    before: u32,
}

/// The choices of the cheapest path, one per layer; `join` says what it costs
/// to go to a choice of a layer from one of the layer before. None where the
/// limits allow no path.
pub(crate) fn cheapest(
    layers: &[Vec<Choice>],
    limits: Limits,
    join: impl Fn(usize, usize, usize) -> u32,
) -> Option<Vec<usize>> {
    let mut all: Vec<Vec<State>> = Vec::with_capacity(layers.len());
    let Some(first) = layers.first() else {
        return Some(Vec::new());
    };
    let mut states: Vec<State> = first
        .iter()
        .zip(0..)
        .map(|(choice, at)| State {
            choice: at,
            runs: (1, 1),
            cost: own(choice),
            before: 0,
        })
        .collect();
    states.sort_unstable_by_key(order);
    for at in 1..layers.len() {
        let mut next = Vec::with_capacity(states.len());
        let mut reached = Vec::new();
        for (number, choice) in layers[at].iter().enumerate() {
            reach(
                &states,
                (&layers[at - 1], choice, number),
                limits,
                |from| join(at, from, number),
                &mut reached,
            );
            next.extend_from_slice(&reached);
        }
        next.sort_unstable_by_key(order);
        all.push(std::mem::replace(&mut states, next));
    }
    let mut state = *states.first()?;
    let mut path = vec![state.choice as usize];
    for before in all.iter().rev() {
        state = before[state.before as usize];
        path.push(state.choice as usize);
    }
    path.reverse();
    Some(path)
}

/// The states of one choice that may lie on a cheapest path, out of the states
/// of the layer before, which come in rising cost.
fn reach(
    before: &[State],
    (layer, choice, number): (&[Choice], &Choice, usize),
    limits: Limits,
    join: impl Fn(usize) -> u32,
    reached: &mut Vec<State>,
) {
    reached.clear();
    let own = own(choice);
    let mut enough = u64::MAX;
    for (place, state) in before.iter().enumerate() {
        // No run is shorter than one: nothing that costs more can matter.
        if state.cost.0 + own.0 > enough {
            break;
        }
        let from = &layer[state.choice as usize];
        let variant = run(
            from.variant == choice.variant,
            state.runs.0,
            limits.variants,
        );
        let degree = run(from.degree == choice.degree, state.runs.1, limits.degrees);
        let (Some(variant), Some(degree)) = (variant, degree) else {
            continue;
        };
        let cost = (
            state.cost.0 + own.0 + u64::from(join(state.choice as usize)),
            state.cost.1 + own.1,
        );
        let new = State {
            choice: number as u32,
            runs: (variant, degree),
            cost,
            before: place as u32,
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

fn own(choice: &Choice) -> Cost {
    (u64::from(choice.cost), u64::from(choice.tie))
}

fn order(state: &State) -> (Cost, u32, (u8, u8)) {
    (state.cost, state.choice, state.runs)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    type Joins = Vec<Vec<Vec<u32>>>;

    fn cost(layers: &[Vec<Choice>], joins: &Joins, path: &[usize]) -> Cost {
        let mut sum = (0, 0);
        for (at, &choice) in path.iter().enumerate() {
            let own = own(&layers[at][choice]);
            sum = (sum.0 + own.0, sum.1 + own.1);
            if at > 0 {
                sum.0 += u64::from(joins[at][path[at - 1]][choice]);
            }
        }
        sum
    }

    fn allowed(layers: &[Vec<Choice>], limits: Limits, path: &[usize]) -> bool {
        let longest = |key: fn(&Choice) -> u16| {
            let keys: Vec<u16> = path
                .iter()
                .enumerate()
                .map(|(at, choice)| key(&layers[at][*choice]))
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
    fn paths(layers: &[Vec<Choice>]) -> Vec<Vec<usize>> {
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

    fn case() -> impl Strategy<Value = (Vec<Vec<Choice>>, Limits, Joins)> {
        let choice =
            (0u32..6, 0u32..3, 0u16..3, 0u16..3).prop_map(|(cost, tie, variant, degree)| Choice {
                cost,
                tie,
                variant,
                degree,
            });
        let layers = prop::collection::vec(prop::collection::vec(choice, 1..6), 1..6);
        let joins = prop::collection::vec(
            prop::collection::vec(prop::collection::vec(0u32..8, 5), 5),
            6,
        );
        (layers, limit(), limit(), joins).prop_map(|(layers, variants, degrees, joins)| {
            (layers, Limits { variants, degrees }, joins)
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(600))]
        /// The search against every line there is.
        #[test]
        fn no_line_is_cheaper((layers, limits, joins) in case()) {
            let found = cheapest(&layers, limits, |at, from, to| joins[at][from][to]);
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
