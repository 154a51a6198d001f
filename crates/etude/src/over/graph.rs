//! What the search goes through: layers of choices, how they join, and what
//! they cost when they come again.

use super::role::Role;

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
    /// Its figure and density, by their place among the graph's kinds.
    pub kind: u16,
    /// Eighths that it comes before or after its time.
    pub shift: i8,
    /// Its highest note, as a MIDI number.
    pub high: i32,
    /// Its first and its last note, by their places among those that are
    /// joined.
    pub first: usize,
    pub last: usize,
}

impl Choice {
    /// What an answer is compared by.
    pub const fn words(&self) -> (u16, u16) {
        (self.variant, self.degree)
    }
}

/// As many last notes are gone through at once.
pub(crate) const AT_ONCE: usize = 16;

/// What it costs to come to a first note, row by row, from each last note;
/// `u32::MAX` where one can't follow the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Joins {
    pub lasts: usize,
    costs: Vec<u32>,
    /// The same, as far as `lower_bound` tells them, rows filled up with what can't
    /// follow.
    near: Vec<i16>,
}

impl Joins {
    pub fn new(lasts: usize, costs: Vec<u32>) -> Joins {
        let width = lasts.next_multiple_of(AT_ONCE);
        let mut wide = Vec::with_capacity(costs.len() / lasts.max(1) * width);
        for row in costs.chunks(lasts.max(1)) {
            wide.extend(row.iter().map(|cost| near(*cost)));
            wide.resize(wide.len().next_multiple_of(width), NEVER);
        }
        Joins {
            lasts,
            near: wide,
            costs,
        }
    }

    /// As wide as rows for [`Joins::near_to`] are.
    pub fn width(&self) -> usize {
        self.lasts.next_multiple_of(AT_ONCE)
    }

    pub fn near_to(&self, first: usize) -> &[i16] {
        let width = self.width();
        &self.near[first * width..][..width]
    }

    /// From every last note to one first note.
    pub fn to(&self, first: usize) -> &[u32] {
        &self.costs[first * self.lasts..][..self.lasts]
    }

    /// How many first notes there are.
    pub fn firsts(&self) -> usize {
        self.costs.len() / self.lasts.max(1)
    }
}

/// What it costs on top where the variant, or the starting degree, is the same
/// again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Again {
    pub variant: u32,
    pub degree: u32,
}

impl Again {
    /// What two neighbours cost.
    pub fn between(self, from: &Choice, to: &Choice) -> u32 {
        let again = |same, cost| if same { cost } else { 0 };
        again(from.variant == to.variant, self.variant)
            + again(from.degree == to.degree, self.degree)
    }
}

/// How often in a row a variant, and a starting degree, may stand; `None`
/// where it doesn't matter. And whether places in the bar are counted: a
/// shifted one may stand twice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Limits {
    pub variants: Option<u8>,
    pub degrees: Option<u8>,
    pub places: bool,
}

/// Choices, how they join those before, and what they are in their phrase.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Layer<'a> {
    pub choices: &'a [Choice],
    pub joins: &'a Joins,
    pub role: Role,
    /// Whether the line's highest pitch may be reached here.
    pub high_point: bool,
}

/// Where nothing can follow.
pub(crate) const NEVER: i16 = i16::MAX;

/// As far apart as costs are told: three of them are less than [`NEVER`].
pub(crate) const MOST: i16 = 10_000;

/// A cost, as far as it is told.
pub(crate) fn near(cost: u32) -> i16 {
    match cost {
        u32::MAX => NEVER,
        cost => i16::try_from(cost).unwrap_or(MOST).min(MOST),
    }
}
