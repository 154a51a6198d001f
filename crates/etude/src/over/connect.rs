//! Connections: what leads from one statement's last note to the next one's
//! first, where there is time for it; and what it costs to go from one to the
//! other.
//!
//! Within a chord one or two notes of its scale lead by step, into another
//! chord a half step from below or above, or an enclosure; runs of three or
//! four notes of the scale that sounds lead to either. All go in eighths.

use lesson::Connect;
use theory::Form;

use super::choice::{Tessitura, noise};
use super::graph::Joins;
use super::slot::OverLine;
use crate::heights::Heights;

/// What leads to a statement's first note.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Connection {
    /// A half step below it.
    FromBelow,
    /// A half step above it.
    FromAbove,
    /// A half step above it, then one below.
    Enclosed,
    /// So many notes of the scale by step, up or down.
    Steps {
        /// How many.
        notes: u8,
        /// Whether they go up.
        up: bool,
    },
}

impl Connection {
    /// How many notes it has.
    pub const fn notes(self) -> u8 {
        match self {
            Connection::FromBelow | Connection::FromAbove => 1,
            Connection::Enclosed => 2,
            Connection::Steps { notes, .. } => notes,
        }
    }
}

impl std::fmt::Display for Connection {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Connection::FromBelow => f.write_str("a half step from below"),
            Connection::FromAbove => f.write_str("a half step from above"),
            Connection::Enclosed => f.write_str("enclosed"),
            Connection::Steps { notes, up } => {
                let way = if *up { "up" } else { "down" };
                match notes {
                    1 => write!(f, "a step {way}"),
                    2 => write!(f, "two steps {way}"),
                    many => write!(f, "a run of {many} {way}"),
                }
            }
        }
    }
}

/// What sounds before a statement.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ground<'a> {
    /// Its scale; none where no chord sounds.
    pub heights: Option<&'a Heights>,
    /// Its root, as a MIDI number.
    pub zero: i32,
    /// Whether the statement comes with another chord.
    pub changes: bool,
}

/// A connection on a horn.
#[derive(Debug, Clone, Copy)]
struct Lead {
    connection: Connection,
    first: i32,
    last: i32,
    /// Whether it is less than was asked.
    less: bool,
}

/// What connections must stay below.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cap {
    /// Nothing: the line has no high point.
    None,
    /// The line's high point.
    Below(i32),
    /// Some high point: joins cost the least that they do below any. A gap is
    /// left open for nothing, as it is where nothing may lead.
    Any,
}

/// Joins between the statements of a line on a horn.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Joiner<'a> {
    pub line: &'a OverLine,
    pub tessitura: Tessitura,
    pub cap: Cap,
}

/// What a leap over an octave costs, where leaps may be helped at all.
pub(crate) const LEAP: u32 = 1_000;

impl Joiner<'_> {
    /// All joins over a ground.
    pub fn joins(&self, ground: Ground) -> Joins {
        let reach = self.tessitura.reach;
        let pitches = self.tessitura.pitches();
        let edges = &self.line.edges;
        let (begins, rooms) = edges.counts();
        let (firsts, lasts) = (begins * pitches, rooms * pitches);
        let mut costs = Vec::with_capacity(firsts * lasts);
        // By the time between, one row of last notes for each first.
        let mut known: Vec<Option<Vec<u32>>> = Vec::new();
        for first in 0..firsts {
            let to = self.tessitura.pitch(first);
            let leads = self.leads(to, ground);
            known.clear();
            for rest in 0..rooms {
                let (time, may) = edges.between(rest * pitches, first, pitches);
                let Some(time) = time else {
                    costs.resize(costs.len() + pitches, u32::MAX);
                    continue;
                };
                let place = usize::from(time);
                if known.len() <= place {
                    known.resize(place + 1, None);
                }
                let row = known[place].get_or_insert_with(|| {
                    let fitting = leads.iter();
                    let fitting: Vec<&Lead> = fitting
                        .filter(|lead| may && lead.connection.notes() <= time)
                        .collect();
                    let all = reach.low..=reach.high;
                    all.map(|from| self.cost(from, to, fitting.iter().copied()))
                        .collect()
                });
                costs.extend_from_slice(row);
            }
        }
        Joins::new(lasts, costs)
    }

    /// What leads from a last note to a first one, by their places, where the
    /// cheapest line says so; of equals, by the seed.
    pub fn led(
        &self,
        (last, first): (usize, usize),
        ground: Ground,
        number: usize,
    ) -> Option<Connection> {
        let pitches = self.tessitura.pitches();
        let [from, to] = [last, first].map(|place| self.tessitura.pitch(place));
        let (time, may) = self.line.edges.between(last, first, pitches);
        let time = time.filter(|_| may)?;
        let leads = self.leads(to, ground).into_iter();
        let fitting: Vec<Lead> = leads
            .filter(|lead| lead.connection.notes() <= time)
            .collect();
        if fitting.is_empty() {
            return None;
        }
        let least = self.cost(from, to, fitting.iter());
        let open = self.open(from, to);
        fitting
            .iter()
            .enumerate()
            .filter(|(_, lead)| self.through(from, to, lead) == least)
            .min_by_key(|(place, _)| noise(self.line.over.seed, number, *place, to))
            .map(|(_, lead)| lead.connection)
            // Nothing leads where that is as good.
            .filter(|_| least < open)
    }

    /// The cost of a join with the best of what may lead, or with nothing.
    fn cost<'l>(&self, from: i32, to: i32, leads: impl Iterator<Item = &'l Lead>) -> u32 {
        let led = leads.map(|lead| self.through(from, to, lead)).min();
        match led {
            None => self.step(from, to) + self.away(from, to),
            Some(led) => led.min(self.open(from, to)),
        }
    }

    /// With a gap left open that could be closed.
    fn open(&self, from: i32, to: i32) -> u32 {
        let open = match self.cap {
            Cap::Any => 0,
            Cap::None | Cap::Below(_) => 2 * u32::from(self.line.phrasing.weights.connect),
        };
        self.step(from, to) + self.away(from, to) + open
    }

    fn through(&self, from: i32, to: i32, lead: &Lead) -> u32 {
        let less = if lead.less {
            u32::from(self.line.phrasing.weights.connect)
        } else {
            0
        };
        self.step(from, lead.first) + self.step(lead.last, to) + self.away(from, to) + less
    }

    /// What an interval costs.
    fn step(&self, from: i32, to: i32) -> u32 {
        let interval = from.abs_diff(to);
        let leaps = interval > 12 && self.line.is_etude();
        u32::from(self.line.over.weights.smooth) * smooth(interval, self.line.guides)
            + if leaps { LEAP } else { 0 }
    }

    /// What going further out costs.
    fn away(&self, from: i32, to: i32) -> u32 {
        let outside = self.tessitura.outside(from);
        let away = outside > 0 && self.tessitura.outside(to) > outside;
        2 * u32::from(self.line.over.weights.range) * u32::from(away)
    }

    /// Everything that may lead to a note over a ground.
    fn leads(&self, to: i32, ground: Ground) -> Vec<Lead> {
        let asked = self.line.phrasing.connect;
        if asked == Connect::None {
            return Vec::new();
        }
        let mut leads = Vec::new();
        let runs = asked == Connect::Run;
        let steps = |notes: u8, up: bool, less: bool| {
            let [first, last] = run(ground.heights?, to - ground.zero, notes, up);
            let connection = Connection::Steps { notes, up };
            Some(Lead {
                connection,
                first: ground.zero + first,
                last: ground.zero + last,
                less,
            })
        };
        if ground.changes {
            let half = [
                (Connection::FromBelow, to - 1, to - 1),
                (Connection::FromAbove, to + 1, to + 1),
                (Connection::Enclosed, to + 1, to - 1),
            ];
            leads.extend(half.map(|(connection, first, last)| Lead {
                connection,
                first,
                last,
                less: runs,
            }));
        } else {
            let near = [(1, true), (1, false), (2, true), (2, false)];
            leads.extend(
                near.iter()
                    .filter_map(|(notes, up)| steps(*notes, *up, runs)),
            );
        }
        if runs {
            let far = [(3, true), (3, false), (4, true), (4, false)];
            leads.extend(
                far.iter()
                    .filter_map(|(notes, up)| steps(*notes, *up, false)),
            );
        }
        let reach = self.tessitura.reach;
        leads.retain(|lead| {
            let (low, high) = (lead.first.min(lead.last), lead.first.max(lead.last));
            let below = match self.cap {
                Cap::None | Cap::Any => true,
                Cap::Below(cap) => high < cap,
            };
            low >= reach.low && high <= reach.high && below
        });
        leads
    }
}

/// The rung nearest below, or above, a note: what a run to it ends on.
pub(crate) fn beside(heights: &Heights, to: i32, up: bool) -> i32 {
    if up {
        heights.highest_within(to - 1, Form::Rising)
    } else {
        heights.lowest_within(to + 1, Form::Rising)
    }
}

/// The first and last note of a run to a note, in semitones above the root.
fn run(heights: &Heights, to: i32, notes: u8, up: bool) -> [i32; 2] {
    let last = beside(heights, to, up);
    let back = i32::from(notes) - 1;
    let first = if up { last - back } else { last + back };
    [first, last].map(|rung| heights.at(rung, Form::Rising))
}

/// How far from smooth an interval is; for guide tones every half step counts,
/// since theirs is the closest voice leading.
fn smooth(interval: u32, guides: bool) -> u32 {
    match interval {
        every if guides => every,
        0 => 2,
        1 | 2 => 0,
        3 | 4 => 1,
        5..=7 => 3,
        wide => wide - 4,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn connections_as_a_teacher_says_them() {
        let check = |connection: Connection, notes: u8, expected: &str| {
            assert_eq!(connection.to_string(), expected);
            assert_eq!(connection.notes(), notes, "{expected}");
        };
        check(Connection::FromBelow, 1, "a half step from below");
        check(Connection::FromAbove, 1, "a half step from above");
        check(Connection::Enclosed, 2, "enclosed");
        for (up, way) in [(true, "up"), (false, "down")] {
            let steps = |notes| Connection::Steps { notes, up };
            check(steps(1), 1, &format!("a step {way}"));
            check(steps(2), 2, &format!("two steps {way}"));
            check(steps(3), 3, &format!("a run of 3 {way}"));
            check(steps(4), 4, &format!("a run of 4 {way}"));
        }
    }
}
