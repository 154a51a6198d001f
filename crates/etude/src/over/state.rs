//! The states that a search goes through, and the way back from them.

use super::graph::Choice;
use super::role::Memory;

/// A path and what it costs; ties decide last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Path {
    pub choices: Vec<usize>,
    pub cost: Cost,
}

pub(crate) type Cost = (u32, u64);

#[derive(Debug, Clone, Copy)]
pub(crate) struct State {
    /// What keeps it apart from others, in one number, and its cost.
    pub key: u128,
    pub choice: u32,
    /// Its place among the steps of the layer before.
    pub before: u32,
    pub cost: Cost,
    pub memory: Memory,
    pub runs: Runs,
}

/// How often variant, degree and place have stood in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Runs {
    pub variant: u8,
    pub degree: u8,
    pub place: u8,
}

impl Runs {
    pub const ONE: Runs = Runs {
        variant: 1,
        degree: 1,
        place: 1,
    };
}

/// What is kept of a state to find the way back.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Step {
    pub choice: u32,
    pub before: u32,
}

/// A state from which a first note is reached, for so much.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Arrival {
    pub cost: Cost,
    pub state: u32,
}

/// A choice that may follow states of one memory.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Candidate {
    pub choice: u32,
    /// What it costs in its phrase, and what must follow at least.
    pub own: u32,
    pub follows: u32,
    pub kept: Memory,
}

/// What a layer is worked out in, kept for the next.
#[derive(Debug, Default)]
pub(crate) struct Scratch {
    /// The states of the layer before, memory by memory.
    pub states: Vec<State>,
    pub next: Vec<State>,
    pub reached: Vec<State>,
    /// The ways to first notes from the states of one memory, each note's
    /// cheapest first, and where those to a note are; none where they haven't
    /// been asked for.
    pub ways: Vec<Arrival>,
    pub ways_to: Vec<Option<(u32, u32)>>,
    /// What may follow the states of one memory, and the least that the
    /// choices of each first note need.
    pub candidates: Vec<Candidate>,
    pub needs: Vec<u32>,
    /// All layers' steps, and where each layer's begin.
    pub steps: Vec<Step>,
    pub begins: Vec<usize>,
}

/// From where a first note is reached.
pub(crate) fn ways<'a>(
    states: &'a [State],
    from: &'a [Choice],
    joins: &'a [u32],
) -> impl Iterator<Item = Arrival> + 'a {
    (0..).zip(states).filter_map(move |(place, state)| {
        let join = joins[from[state.choice as usize].last];
        (join != u32::MAX).then_some(Arrival {
            cost: (state.cost.0.saturating_add(join), state.cost.1),
            state: place,
        })
    })
}

impl Scratch {
    /// The path to the cheapest of the last layer's states.
    pub fn path(&self) -> Path {
        let end = self.states.iter().enumerate();
        let end = end.min_by_key(|(_, state)| (state.cost, state.choice, state.runs));
        let Some((mut place, state)) = end else {
            return Path {
                choices: Vec::new(),
                cost: (0, 0),
            };
        };
        let layers = self.begins.iter().rev();
        let mut choices: Vec<usize> = layers
            .map(|begins| {
                let step = self.steps[begins + place];
                place = step.before as usize;
                step.choice as usize
            })
            .collect();
        choices.reverse();
        Path {
            choices,
            cost: state.cost,
        }
    }
}

/// Whether whatever follows one state may follow the other, for no more.
pub(crate) fn covers(one: &State, other: &State) -> bool {
    one.cost <= other.cost
        && one.runs.variant <= other.runs.variant
        && one.runs.degree <= other.runs.degree
        && one.runs.place <= other.runs.place
}

/// How often it stands in a row now, if it may.
pub(crate) fn run(again: bool, before: u8, limit: Option<u8>) -> Option<u8> {
    match limit {
        Some(limit) if again => Some(before + 1).filter(|run| *run <= limit.max(1)),
        _ => Some(1),
    }
}
