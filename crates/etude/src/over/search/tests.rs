//! The search against every path there is.

use proptest::prelude::*;

use super::super::graph::Joins;
use super::super::peak;
use super::super::role::{PhrasePart, Role};
use super::super::state::Cost;
use super::*;

/// Choices with what decides ties between them.
type Layers = Vec<Vec<(Choice, u32)>>;

const PITCHES: usize = 4;

#[derive(Debug, Clone)]
struct Case {
    layers: Layers,
    /// Joins into each layer.
    joins: Vec<Joins>,
    parts: Vec<(Role, bool)>,
    limits: Limits,
    again: Again,
    kinds: Vec<StatementKind>,
}

impl Case {
    /// What a path costs, if it may be taken: reckoned anew from its rules.
    fn cost(&self, path: &[usize], peak: Option<i32>) -> Option<Cost> {
        let chosen: Vec<&(Choice, u32)> = path
            .iter()
            .zip(&self.layers)
            .map(|(place, layer)| &layer[*place])
            .collect();
        let choices: Vec<&Choice> = chosen.iter().map(|(choice, _)| choice).collect();
        let longest = |key: fn(&Choice) -> i32| {
            let same = choices.chunk_by(|one, next| key(one) == key(next));
            same.map(<[&Choice]>::len).max().unwrap_or(0)
        };
        let within = |run: usize, limit: Option<u8>| limit.is_none_or(|most| run <= most.into());
        let mut allowed = within(longest(|one| one.variant.into()), self.limits.variants)
            && within(longest(|one| one.degree.into()), self.limits.degrees);
        if let Some(peak) = peak {
            let reach: Vec<usize> = (0..choices.len())
                .filter(|at| choices[*at].high >= peak)
                .collect();
            allowed &= matches!(reach[..], [at] if choices[at].high == peak && self.parts[at].1);
        }
        let mut sum: Cost = (0, 0);
        let mut opened: Option<&Choice> = None;
        for (at, choice) in choices.iter().enumerate() {
            sum.0 += choice.cost;
            sum.1 += u64::from(chosen[at].1);
            if at > 0 {
                let from = choices[at - 1];
                let join = self.joins[at].to(choice.first)[from.last];
                if join == u32::MAX {
                    return None;
                }
                sum.0 += join;
                sum.0 += self.again.variant * u32::from(from.variant == choice.variant);
                sum.0 += self.again.degree * u32::from(from.degree == choice.degree);
                if self.limits.places && at > 1 {
                    let third = [from, choices[at - 2]]
                        .iter()
                        .all(|one| one.shift == choice.shift);
                    allowed &= !(third && choice.shift != 0);
                }
            }
            let role = &self.parts[at].0;
            if role.opens {
                opened = Some(choice);
            }
            let kind = |choice: &Choice| self.kinds[usize::from(choice.kind)];
            let Some(said) = opened else { continue };
            let missed = match role.part {
                Some(PhrasePart::Answer) => {
                    let same = role.answers
                        && (said.variant, said.degree) == (choice.variant, choice.degree);
                    u32::from(kind(said).figure != kind(choice).figure) + u32::from(same)
                }
                Some(PhrasePart::Denser) => u32::from(kind(choice).density <= kind(said).density),
                _ => 0,
            };
            sum.0 += role.cost * missed;
        }
        allowed.then_some(sum)
    }

    /// Every path there is.
    fn paths(&self) -> Vec<Vec<usize>> {
        self.layers.iter().fold(vec![Vec::new()], |paths, layer| {
            let longer = |path: Vec<usize>| {
                (0..layer.len()).map(move |choice| [path.clone(), vec![choice]].concat())
            };
            paths.into_iter().flat_map(longer).collect()
        })
    }
}

/// Phrases of three: a statement, its answer, something denser.
fn roles(cost: u32, phrases: bool, count: usize) -> Vec<Role> {
    let role = |at: usize| {
        let left = count - at / 3 * 3;
        match at % 3 {
            _ if !phrases => Role::default(),
            0 => Role {
                part: Some(PhrasePart::Statement),
                opens: true,
                keeps_kind: left > 1,
                keeps_words: left > 1,
                ..Role::default()
            },
            1 => Role {
                part: Some(PhrasePart::Answer),
                answers: true,
                keeps_kind: left > 2,
                cost,
                ..Role::default()
            },
            _ => Role {
                part: Some(PhrasePart::Denser),
                cost,
                ..Role::default()
            },
        }
    };
    (0..count).map(role).collect()
}

fn limit() -> impl Strategy<Value = Option<u8>> {
    prop_oneof![Just(None), (1u8..4).prop_map(Some)]
}

fn layers() -> impl Strategy<Value = Layers> {
    let pitch = 0..PITCHES;
    let what = (0u32..6, 0u32..3, 0u16..3, 0u16..3);
    let choice = (what, pitch.clone(), pitch, -1i8..2, 0i32..4, 1u16..10).prop_map(
        |((cost, tie, variant, degree), first, last, shift, high, kind)| {
            let choice = Choice {
                fitted: 0,
                base: 0,
                cost,
                // Some of them beyond those that `lower_bound` tells apart.
                variant: variant * 6,
                degree,
                kind,
                shift,
                high,
                first,
                last,
            };
            (choice, tie)
        },
    );
    prop::collection::vec(prop::collection::vec(choice, 1..6), 1..6)
}

fn case() -> impl Strategy<Value = Case> {
    let join = prop_oneof![8 => 0u32..12, 1 => Just(u32::MAX)];
    let joins = prop::collection::vec(prop::collection::vec(join, PITCHES * PITCHES), 6);
    let again = (0u32..4, 0u32..4);
    let limits = (limit(), limit(), any::<bool>());
    let kinds = prop::collection::vec((0u16..3, 0u16..3), 10);
    let phrases = (
        0u32..5,
        any::<bool>(),
        prop::collection::vec(any::<bool>(), 6),
    );
    (layers(), joins, again, limits, kinds, phrases).prop_map(
        |(layers, joins, again, limits, kinds, (cost, phrases, windows))| {
            let kinds = kinds
                .into_iter()
                .map(|(figure, density)| StatementKind { figure, density });
            let joins = joins.into_iter().map(|costs| Joins::new(PITCHES, costs));
            Case {
                parts: roles(cost, phrases, layers.len())
                    .into_iter()
                    .zip(windows)
                    .collect(),
                joins: joins.collect(),
                layers,
                limits: Limits {
                    variants: limits.0,
                    degrees: limits.1,
                    places: limits.2,
                },
                again: Again {
                    variant: again.0,
                    degree: again.1,
                },
                kinds: kinds.collect(),
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]
    #[test]
    fn no_path_is_cheaper(case in case(), weight in 0u32..3) {
        let plain: Vec<Vec<Choice>> = case
            .layers
            .iter()
            .map(|layer| layer.iter().map(|(choice, _)| *choice).collect())
            .collect();
        let layers: Vec<Layer> = (0..plain.len())
            .map(|at| Layer {
                choices: &plain[at],
                joins: &case.joins[at],
                role: case.parts[at].0,
                high_point: case.parts[at].1,
            })
            .collect();
        let never = AtomicBool::new(false);
        let graph = |peak| Graph {
            layers: &layers,
            again: case.again,
            limits: case.limits,
            kinds: &case.kinds,
            peak,
            tie: |at: usize, choice: &Choice| {
                let place = plain[at].iter().position(|one| std::ptr::eq(one, choice));
                u64::from(case.layers[at][place.unwrap()].1)
            },
            stop: &never,
        };
        let paths = case.paths();
        let best = |peak: Option<i32>| paths.iter().filter_map(|path| case.cost(path, peak)).min();
        for peak in [None, Some(1), Some(2), Some(3)] {
            let found = graph(peak).cheapest(u32::MAX, 0, &mut Buffers::default());
            let cost = found.as_ref().map(|path| path.cost);
            prop_assert_eq!(cost, best(peak), "with the peak {:?}", peak);
            if let Some(path) = found {
                prop_assert_eq!(case.cost(&path.choices, peak), Some(path.cost));
            }
            if let Some((least, _)) = best(peak) {
                prop_assert!(graph(peak).cheapest(least, 0, &mut Buffers::default()).is_some());
                prop_assert!(least == 0 || graph(peak).cheapest(least - 1, 0, &mut Buffers::default()).is_none());
            }
        }
        // Of all pitches the one that makes the cheapest line.
        let of_pitch = |pitch: i32| weight * (3 - pitch) as u32;
        let plain_graph = graph(None);
        let lower_bound = LowerBound::of(&layers, case.again, &case.kinds);
        let found = peak::cheapest((&plain_graph, &lower_bound), of_pitch, |pitch, most| {
            graph(Some(pitch)).cheapest(most, 3, &mut Buffers::default())
        });
        let all = (0..4).filter_map(|pitch| {
            best(Some(pitch)).map(|(cost, tie)| (cost + of_pitch(pitch), tie))
        });
        let found = found.map(|(path, pitch)| (path.cost.0 + of_pitch(pitch), path.cost.1));
        prop_assert_eq!(found, all.min());
    }

    #[test]
    fn a_search_can_be_stopped(case in case()) {
        let plain: Vec<Choice> = case.layers[0].iter().map(|(choice, _)| *choice).collect();
        let layers = [Layer {
            choices: &plain,
            joins: &case.joins[0],
            role: Role::default(),
            high_point: true,
        }];
        let graph = Graph {
            layers: &layers,
            again: case.again,
            limits: case.limits,
            kinds: &case.kinds,
            peak: None,
            tie: |_, _: &Choice| 0,
            stop: &AtomicBool::new(true),
        };
        prop_assert_eq!(graph.cheapest(u32::MAX, 0, &mut Buffers::default()), None);
    }
}
