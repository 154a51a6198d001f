//! The cheapest path through layers of choices, exactly: dynamic programming
//! whose states carry how often a variant, a starting degree and a place in
//! the bar have stood in a row, what a phrase remembers, and whether the line's
//! highest pitch was reached. What must follow at least is reckoned backwards
//! first; only states that may yet end within a bound are followed, and the
//! bound is raised until a path lies within it.

use std::sync::atomic::{AtomicBool, Ordering};

use super::graph::{Again, Choice, Layer, Limits};
use super::lower_bound::{LowerBound, rises};
use super::role::{Memory, StatementKind};
use super::state::{Candidate, Path, Runs, Scratch, State, Step, covers, run, ways};

/// Layers of choices, and what decides between paths through them.
#[derive(Debug)]
pub(crate) struct Graph<'a, T> {
    pub layers: &'a [Layer<'a>],
    pub again: Again,
    pub limits: Limits,
    pub kinds: &'a [StatementKind],
    /// The highest pitch, where exactly one choice must reach it.
    pub peak: Option<i32>,
    /// What decides between paths of one cost: a number for each layer and
    /// choice, the least sum winning.
    pub tie: T,
    /// Raised by whoever wants no path any more.
    pub stop: &'a AtomicBool,
}

/// What searches are worked out in, kept for the next.
#[derive(Debug, Default)]
pub(crate) struct Buffers {
    lower_bound: LowerBound,
    pub scratch: Scratch,
}

/// The next slack to try: each few more double the work, so that going on in
/// small steps costs less than going too far.
fn wider(slack: u32) -> u32 {
    match slack {
        0..64 => slack + 1 + slack / 8,
        _ => slack.saturating_mul(2),
    }
}

/// What a search within a bound came to.
enum Found {
    Path(Path),
    /// Nothing within the bound, though there may be beyond it.
    Nothing,
    /// Nothing at all.
    NoPath,
}

impl<T: Fn(usize, &Choice) -> u64> Graph<'_, T> {
    /// The cheapest path, one choice per layer. None where the limits allow no
    /// path, or none that costs at most so much.
    pub fn cheapest(&self, most: u32, hint: u32, buffers: &mut Buffers) -> Option<Path> {
        let Buffers {
            lower_bound,
            scratch,
        } = buffers;
        lower_bound.reckon(self.layers, (self.again, self.kinds), self.peak, most);
        self.cheapest_with(lower_bound, most, hint, scratch)
    }

    /// The same, with what can follow known, and a guess at how much more than
    /// that it costs.
    pub fn cheapest_with(
        &self,
        lower_bound: &LowerBound,
        most: u32,
        hint: u32,
        scratch: &mut Scratch,
    ) -> Option<Path> {
        if lower_bound.least() > most || lower_bound.least() == u32::MAX {
            return None;
        }
        let mut slack = hint;
        loop {
            let bound = lower_bound.least().saturating_add(slack).min(most);
            match self.within(bound, lower_bound, scratch) {
                Found::Path(path) => return Some(path),
                Found::NoPath => return None,
                Found::Nothing if bound == most || self.is_stopped() => return None,
                Found::Nothing => slack = wider(slack),
            }
        }
    }

    fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// The cheapest path of those that cost no more than a bound.
    fn within(&self, bound: u32, lower_bound: &LowerBound, scratch: &mut Scratch) -> Found {
        let mut all = true;
        scratch.steps.clear();
        scratch.begins.clear();
        scratch.states.clear();
        for (at, layer) in self.layers.iter().enumerate() {
            if self.is_stopped() {
                return Found::Nothing;
            }
            scratch.next.clear();
            if at == 0 {
                all &= self.open(bound, lower_bound, scratch);
            }
            let states = std::mem::take(&mut scratch.states);
            let mut group = 0;
            for same in states.chunk_by(|one, next| one.memory == next.memory) {
                all &= self.follow(at, (same, group), bound, lower_bound, scratch);
                group += same.len();
            }
            scratch.states = states;
            self.prune(layer.choices, &mut scratch.next);
            let step = |state: &State| Step {
                choice: state.choice,
                before: state.before,
            };
            scratch.begins.push(scratch.steps.len());
            scratch.steps.extend(scratch.next.iter().map(step));
            std::mem::swap(&mut scratch.states, &mut scratch.next);
            if scratch.states.is_empty() {
                return if all { Found::NoPath } else { Found::Nothing };
            }
        }
        Found::Path(scratch.path())
    }

    /// The states of the first layer.
    fn open(&self, bound: u32, lower_bound: &LowerBound, scratch: &mut Scratch) -> bool {
        let layer = &self.layers[0];
        let mut all = true;
        for (number, choice) in (0..).zip(layer.choices) {
            let Some(peak) = rises(choice, self.peak, layer.high_point, false) else {
                continue;
            };
            let (role, memory) =
                layer
                    .role
                    .step(self.kinds, Memory::default(), choice.kind, choice.words());
            let memory = Memory { peak, ..memory };
            let cost = choice.cost + role;
            let follows = lower_bound.after(0, choice, &memory);
            if follows == u32::MAX {
                continue;
            }
            if cost.saturating_add(follows) > bound {
                all = false;
                continue;
            }
            scratch.next.push(State {
                key: 0,
                choice: number,
                before: 0,
                cost: (cost, (self.tie)(0, choice)),
                memory,
                runs: Runs::ONE,
            });
        }
        all
    }

    /// What follows states of one memory; whether nothing was left out.
    fn follow(
        &self,
        at: usize,
        (states, place): (&[State], usize),
        bound: u32,
        lower_bound: &LowerBound,
        scratch: &mut Scratch,
    ) -> bool {
        let Some(first) = states.first() else {
            return true;
        };
        let nearest = states.iter().map(|state| state.cost.0).min().unwrap_or(0);
        scratch.ways.clear();
        scratch.ways_to.clear();
        let layer = &self.layers[at];
        scratch.ways_to.resize(layer.joins.firsts(), None);
        let mut all = self.candidates(at, (first.memory, nearest), bound, lower_bound, scratch);
        for candidate in 0..scratch.candidates.len() {
            let candidate = scratch.candidates[candidate];
            let first = layer.choices[candidate.choice as usize].first;
            if scratch.ways_to[first].is_none() {
                all &= self.approach(at, states, first, bound, scratch);
            }
            all &= self.reach(at, (states, place), candidate, bound, scratch);
            scratch.next.extend_from_slice(&scratch.reached);
        }
        all
    }

    /// Finds which states a choice may follow that begins with `first`, within
    /// the bound, the cheapest first; whether none was left out.
    fn approach(
        &self,
        at: usize,
        states: &[State],
        first: usize,
        bound: u32,
        scratch: &mut Scratch,
    ) -> bool {
        let (layer, from) = (&self.layers[at], self.before(at));
        let (begin, needs) = (scratch.ways.len(), scratch.needs[first]);
        let mut all = true;
        for way in ways(states, from, layer.joins.to(first)) {
            if way.cost.0.saturating_add(needs) <= bound {
                scratch.ways.push(way);
            } else {
                all = false;
            }
        }
        scratch.ways[begin..].sort_unstable_by_key(|way| (way.cost, way.state));
        scratch.ways_to[first] = Some((begin as u32, scratch.ways.len() as u32));
        all
    }

    /// What a candidate comes to from the states it may follow; whether nothing
    /// was left out.
    #[inline]
    fn reach(
        &self,
        at: usize,
        (states, place): (&[State], usize),
        candidate: Candidate,
        bound: u32,
        scratch: &mut Scratch,
    ) -> bool {
        scratch.reached.clear();
        let from = self.before(at);
        let choice = &self.layers[at].choices[candidate.choice as usize];
        let (begin, end) = scratch.ways_to[choice.first].unwrap_or_default();
        let ways = &scratch.ways[begin as usize..end as usize];
        let Some(nearest) = ways.first() else {
            return true;
        };
        let Candidate { own, follows, .. } = candidate;
        if nearest.cost.0.saturating_add(own + follows) > bound {
            return false;
        }
        let tie = (self.tie)(at, choice);
        let mut enough = (u32::MAX, u64::MAX);
        let mut all = true;
        for way in ways {
            let least = (way.cost.0 + own, way.cost.1.saturating_add(tie));
            // No run is shorter than one: nothing dearer can matter.
            if least > enough {
                break;
            }
            if least.0 + follows > bound {
                return false;
            }
            let state = &states[way.state as usize];
            let Some((again, runs)) = self.again(state, &from[state.choice as usize], choice)
            else {
                continue;
            };
            let new = State {
                key: 0,
                choice: candidate.choice,
                before: (place + way.state as usize) as u32,
                cost: (least.0 + again, least.1),
                memory: candidate.kept,
                runs,
            };
            if new.cost.0 + follows > bound {
                all = false;
                continue;
            }
            if !scratch.reached.iter().any(|known| covers(known, &new)) {
                scratch.reached.retain(|known| !covers(&new, known));
                scratch.reached.push(new);
                if runs == Runs::ONE {
                    enough = enough.min(new.cost);
                }
            }
        }
        all
    }

    /// The choices before a layer.
    fn before(&self, at: usize) -> &[Choice] {
        at.checked_sub(1)
            .map_or(&[], |before| self.layers[before].choices)
    }

    /// The choices that may follow states of one memory, the nearest of which
    /// costs so much; whether nothing was left out.
    fn candidates(
        &self,
        at: usize,
        (memory, nearest): (Memory, u32),
        bound: u32,
        lower_bound: &LowerBound,
        scratch: &mut Scratch,
    ) -> bool {
        let layer = &self.layers[at];
        let mut all = true;
        scratch.needs.clear();
        scratch.needs.resize(layer.joins.firsts(), u32::MAX);
        scratch.candidates.clear();
        for (number, choice) in (0..).zip(layer.choices) {
            let Some(peak) = rises(choice, self.peak, layer.high_point, memory.peak) else {
                continue;
            };
            let (role, kept) = layer
                .role
                .step(self.kinds, memory, choice.kind, choice.words());
            let kept = Memory { peak, ..kept };
            let own = choice.cost + role;
            let follows = lower_bound.after(at, choice, &kept);
            if follows == u32::MAX {
                continue;
            }
            let needs = own.saturating_add(follows);
            if nearest.saturating_add(needs) > bound {
                all = false;
                continue;
            }
            scratch.needs[choice.first] = scratch.needs[choice.first].min(needs);
            scratch.candidates.push(Candidate {
                choice: number,
                own,
                follows,
                kept,
            });
        }
        all
    }

    /// What following costs on top, and how often things stand in a row then;
    /// none where they may not.
    fn again(&self, state: &State, from: &Choice, to: &Choice) -> Option<(u32, Runs)> {
        let variant = run(
            from.variant == to.variant,
            state.runs.variant,
            self.limits.variants,
        )?;
        let degree = run(
            from.degree == to.degree,
            state.runs.degree,
            self.limits.degrees,
        )?;
        // Only what is shifted is counted.
        let counted = self.limits.places && to.shift != 0;
        let place = run(counted && from.shift == to.shift, state.runs.place, Some(2))?;
        let cost = self.again.between(from, to);
        Some((
            cost,
            Runs {
                variant,
                degree,
                place,
            },
        ))
    }

    /// Leaves out states that some others of their last note make needless:
    /// whatever follows one conflicts with at most one of those that differ
    /// from each other in all that matters, so that another of them is as good.
    fn prune(&self, choices: &[Choice], states: &mut Vec<State>) {
        let by_variant = self.again.variant > 0 || self.limits.variants.is_some();
        let by_degree = self.again.degree > 0 || self.limits.degrees.is_some();
        let enough = 1 + usize::from(by_variant) + usize::from(by_degree);
        let of = |state: &State| &choices[state.choice as usize];
        for state in states.iter_mut() {
            let choice = of(state);
            let place = match self.limits.places {
                true => u128::from((choice.shift + 1) as u8) << 4 | u128::from(state.runs.place),
                false => 0,
            };
            let apart =
                u128::from(state.memory.packed()) << 32 | (choice.last as u128) << 8 | place;
            state.key = apart << 32 | u128::from(state.cost.0);
        }
        states.sort_unstable_by_key(|state| (state.key, state.cost.1, state.choice, state.runs));
        let mut apart = None;
        let mut different: Vec<(u16, u16)> = Vec::with_capacity(enough);
        states.retain(|state| {
            let here = state.key >> 32;
            if apart != Some(here) {
                apart = Some(here);
                different.clear();
            }
            if different.len() == enough {
                return false;
            }
            let choice = of(state);
            let differs = |(variant, degree): &(u16, u16)| {
                (!by_variant || *variant != choice.variant)
                    && (!by_degree || *degree != choice.degree)
            };
            if different.iter().all(differs) {
                different.push((choice.variant, choice.degree));
            }
            true
        });
    }
}

#[cfg(test)]
mod tests;
