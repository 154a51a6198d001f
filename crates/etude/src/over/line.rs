//! The line that is chosen: the cheapest that keeps the limits and has its
//! high point where one can, each wish dropped where no line meets it.

use std::sync::atomic::AtomicBool;

use super::choice::{Choices, Root, Tessitura, noise};
use super::connect::{Cap, Connection, Ground, Joiner, LEAP};
use super::graph::{Again, Choice, Joins, Layer, Limits};
use super::lower_bound::LowerBound;
use super::peak;
use super::role::Memory;
use super::search::{Buffers, Graph};
use super::slot::{OverLine, StatementSlot};
use super::state::Path;
use crate::remark::{Remark, UnmetWish};

/// A line that was chosen.
#[derive(Debug)]
pub(crate) struct ChosenLine {
    pub statements: Vec<ChosenStatement>,
    pub remarks: Vec<Remark>,
}

/// A statement of it, and what it costs beside what it is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ChosenStatement {
    pub choice: Choice,
    pub join: u32,
    pub phrase: u32,
    /// What the line's highest pitch costs, where it is reached here.
    pub high_point: Option<u32>,
    pub led: Option<Connection>,
}

/// Where a line is looked for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hunt<'a> {
    pub line: &'a OverLine,
    pub roots: &'a [Root],
    pub tessitura: Tessitura,
    /// Never one without anything.
    pub choices: &'a Choices,
    pub stop: &'a AtomicBool,
}

/// The joins of a line, and which of them lead to each slot.
struct Tables {
    joins: Vec<Joins>,
    of_slots: Vec<usize>,
}

impl Hunt<'_> {
    /// Chooses. None where someone asked to stop.
    pub fn chosen(&self) -> Option<ChosenLine> {
        let in_a_row = self.line.over.in_a_row;
        let line = self.line;
        let places = line.shifts();
        let limited = Limits {
            variants: line.varies().then_some(in_a_row),
            degrees: (!line.guides && line.phrasing.begins.is_empty()).then_some(in_a_row),
            places,
        };
        let free = Limits {
            variants: None,
            degrees: None,
            places,
        };
        let tables = self.tables(Cap::None);
        let layers = self.layers(&tables, |_| true);
        let lower_bound = LowerBound::of(&layers, self.again(), &line.kinds);
        let mut buffers = Buffers::default();
        let mut plain = |limits| {
            let graph = self.graph(&layers, limits, None);
            graph.cheapest_with(&lower_bound, u32::MAX, 0, &mut buffers.scratch)
        };
        let mut remarks = Vec::new();
        let mut limits = limited;
        let mut any = plain(limits);
        if any.is_none() {
            limits = free;
            any = plain(limits);
            remarks.push(UnmetWish::InARow { limit: in_a_row });
        }
        let hint = any
            .as_ref()
            .map_or(0, |path| path.cost.0.saturating_sub(lower_bound.least()));
        let found = self.with_high_point(
            (&tables, &lower_bound, hint),
            limits,
            &mut buffers,
            &mut remarks,
        );
        let (path, peak) = match found {
            Some((path, peak)) => (path, Some(peak)),
            None => (any?, None),
        };
        if self.stop.load(std::sync::atomic::Ordering::Relaxed) {
            return None;
        }
        let statements = self.told(&path, peak);
        let leaps = statements.iter().filter(|told| told.join >= LEAP);
        remarks.extend(leaps.map(|_| UnmetWish::Leap));
        if let Some(told) = peak.and(statements.iter().position(|told| told.high_point.is_some()))
            && !self.past_the_middle(&line.slots[told])
        {
            let bar = line.bars.number(line.slots[told].start) + 1;
            remarks.push(UnmetWish::HighPointElsewhere { bar });
        }
        Some(ChosenLine {
            statements,
            remarks: remarks.into_iter().map(Remark::Wish).collect(),
        })
    }

    /// The cheapest line with one high point: past the middle, or else
    /// anywhere.
    fn with_high_point(
        &self,
        known: (&Tables, &LowerBound, u32),
        limits: Limits,
        buffers: &mut Buffers,
        remarks: &mut Vec<UnmetWish>,
    ) -> Option<(Path, i32)> {
        if self.line.phrasing.weights.high_point == 0 || self.line.slots.is_empty() {
            return None;
        }
        // Below a high point less may lead, so that less is left open too.
        let (tables, lower_bound, hint) = known;
        let below = self.line.connects().then(|| {
            let tables = self.tables(Cap::Any);
            let layers = self.layers(&tables, |_| true);
            let lower_bound = LowerBound::of(&layers, self.again(), &self.line.kinds);
            (tables, lower_bound)
        });
        let known = match &below {
            Some((tables, lower_bound)) => (tables, lower_bound, hint),
            None => (tables, lower_bound, hint),
        };
        let past = |slot: &StatementSlot| self.past_the_middle(slot);
        let found = self
            .reaching(known, limits, buffers, past)
            .or_else(|| self.reaching(known, limits, buffers, |_| true));
        if found.is_none() {
            remarks.push(UnmetWish::NoHighPoint);
        }
        found
    }

    fn reaching(
        &self,
        (tables, lower_bound, hint): (&Tables, &LowerBound, u32),
        limits: Limits,
        buffers: &mut Buffers,
        may: impl Fn(&StatementSlot) -> bool,
    ) -> Option<(Path, i32)> {
        let layers = self.layers(tables, &may);
        let plain = self.graph(&layers, limits, None);
        peak::cheapest(
            (&plain, lower_bound),
            |pitch| self.of_pitch(pitch),
            |pitch, most| {
                if !self.line.connects() {
                    return self
                        .graph(&layers, limits, Some(pitch))
                        .cheapest(most, hint, buffers);
                }
                let tables = self.tables(Cap::Below(pitch));
                let layers = self.layers(&tables, &may);
                self.graph(&layers, limits, Some(pitch))
                    .cheapest(most, hint, buffers)
            },
        )
    }

    /// What a high point costs by its pitch: half steps under the top of the
    /// middle.
    fn of_pitch(&self, pitch: i32) -> u32 {
        let under = (self.tessitura.top() - pitch).max(0) as u32;
        u32::from(self.line.phrasing.weights.high_point) * under
    }

    /// Whether a statement begins between 55 and 75 % of the bars.
    fn past_the_middle(&self, slot: &StatementSlot) -> bool {
        let bars = self.line.bars.lines().count() as i64;
        let before = 100 * self.line.bars.number(slot.start);
        (55 * bars..=75 * bars).contains(&before)
    }

    fn layers<'t>(
        &'t self,
        tables: &'t Tables,
        may: impl Fn(&StatementSlot) -> bool,
    ) -> Vec<Layer<'t>> {
        let choices = self.choices.layers().into_iter();
        let slots = self.line.slots.iter().zip(&tables.of_slots);
        choices
            .zip(slots)
            .map(|(choices, (slot, table))| Layer {
                choices,
                joins: &tables.joins[*table],
                role: slot.role,
                high_point: may(slot),
            })
            .collect()
    }

    fn graph<'t>(
        &'t self,
        layers: &'t [Layer<'t>],
        limits: Limits,
        peak: Option<i32>,
    ) -> Graph<'t, impl Fn(usize, &Choice) -> u64> {
        let (line, tessitura) = (self.line, self.tessitura);
        let pitches = tessitura.pitches();
        Graph {
            layers,
            again: self.again(),
            limits,
            kinds: &line.kinds,
            peak,
            tie: move |at, choice: &Choice| {
                let noise = noise(line.over.seed, at, choice.fitted, choice.base);
                if line.guides {
                    tessitura.among_equals(choice.last % pitches, noise)
                } else {
                    u64::from(noise)
                }
            },
            stop: self.stop,
        }
    }

    fn again(&self) -> Again {
        let line = self.line;
        let variety = u32::from(line.over.weights.variety);
        Again {
            variant: if line.varies() { variety } else { 0 },
            degree: if line.guides { 0 } else { variety },
        }
    }

    fn joiner(&self, cap: Cap) -> Joiner<'_> {
        Joiner {
            line: self.line,
            tessitura: self.tessitura,
            cap,
        }
    }

    /// What sounds before a slot.
    fn ground(&self, slot: &StatementSlot) -> Ground<'_> {
        let spans = &self.line.spans;
        Ground {
            heights: spans[slot.before].heights.as_ref(),
            zero: i32::from(self.roots[slot.before].pitch.midi()),
            changes: spans[slot.before].named_as != spans[slot.span].named_as,
        }
    }

    fn tables(&self, cap: Cap) -> Tables {
        let mut known: Vec<(Option<usize>, i32, bool)> = Vec::new();
        let mut tables = Tables {
            joins: Vec::new(),
            of_slots: Vec::with_capacity(self.line.slots.len()),
        };
        let joiner = self.joiner(cap);
        for slot in &self.line.slots {
            let ground = self.ground(slot);
            let scale = self.line.spans[slot.before].scale;
            let key = match self.line.connects() {
                true => (scale, ground.zero, ground.changes),
                false => (None, 0, false),
            };
            let place = known.iter().position(|one| *one == key);
            tables.of_slots.push(place.unwrap_or_else(|| {
                known.push(key);
                tables.joins.push(joiner.joins(ground));
                known.len() - 1
            }));
        }
        tables
    }

    /// What each statement of a path costs.
    fn told(&self, path: &Path, peak: Option<i32>) -> Vec<ChosenStatement> {
        let cap = peak.map_or(Cap::None, Cap::Below);
        let tables = self.tables(cap);
        let layers = self.layers(&tables, |_| true);
        let joiner = self.joiner(cap);
        let again = self.again();
        let mut memory = Memory::default();
        let mut told: Vec<ChosenStatement> = Vec::with_capacity(layers.len());
        for (at, (layer, place)) in layers.iter().zip(&path.choices).enumerate() {
            let choice = layer.choices[*place];
            let (phrase, kept) =
                layer
                    .role
                    .step(&self.line.kinds, memory, choice.kind, choice.words());
            memory = kept;
            let before = told.last().map(|told| told.choice);
            let join = before.map_or(0, |from| {
                layer.joins.to(choice.first)[from.last] + again.between(&from, &choice)
            });
            let ground = self.ground(&self.line.slots[at]);
            told.push(ChosenStatement {
                choice,
                join,
                phrase,
                high_point: peak
                    .filter(|peak| *peak == choice.high)
                    .map(|peak| self.of_pitch(peak)),
                led: before.and_then(|from| joiner.led((from.last, choice.first), ground, at)),
            });
        }
        told
    }
}
