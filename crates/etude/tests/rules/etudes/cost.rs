//! What a line of a short etude costs, and which is cheapest.

use super::{BAR, BARS, COUNTS, Case, Lead, Way};

impl Case {
    pub(super) fn outside(&self, pitch: i32) -> i32 {
        let edge = (self.high - self.low) / 6;
        let under = self.low + edge - pitch;
        let over = pitch - (self.high - edge);
        under.max(over).max(0)
    }

    pub(super) fn is_etude(&self) -> bool {
        self.phrase > 0 || self.high_point > 0 || self.connections > 0 || self.shift
    }

    pub(super) fn step(&self, from: i32, to: i32) -> i32 {
        let row = [2, 0, 0, 1, 1, 3, 3, 3];
        let interval = (to - from).abs();
        let leap = row
            .get(interval as usize)
            .copied()
            .unwrap_or_else(|| interval - 4);
        let wide = i32::from(interval > 12 && self.is_etude());
        self.smooth * leap + 1000 * wide
    }

    /// Everything that may lead to a note at the beginning of a bar in so many
    /// eighths, below a cap.
    pub(super) fn leads(&self, bar: usize, to: i32, time: i32, cap: Option<i32>) -> Vec<Lead> {
        let mut leads = Vec::new();
        if self.connections == 0 {
            return leads;
        }
        let before = bar - 1;
        let less = if self.connections == 2 {
            self.connect
        } else {
            0
        };
        let rungs: Vec<i32> = (-40..40).map(|rung| self.sound(before, rung)).collect();
        let steps = |count: usize, up: bool| -> Vec<i32> {
            if up {
                let below: Vec<i32> = rungs.iter().copied().filter(|rung| *rung < to).collect();
                below[below.len() - count..].to_vec()
            } else {
                let above = rungs.iter().copied().filter(|rung| *rung > to);
                let mut above: Vec<i32> = above.take(count).collect();
                above.reverse();
                above
            }
        };
        let mut push = |pitches: Vec<i32>, cost: i32| leads.push(Lead { pitches, cost });
        if self.chords[bar] == self.chords[before] {
            for (count, up) in [(1, true), (1, false), (2, true), (2, false)] {
                push(steps(count, up), less);
            }
        } else {
            push(vec![to - 1], less);
            push(vec![to + 1], less);
            push(vec![to + 1, to - 1], less);
        }
        if self.connections == 2 {
            for (count, up) in [(3, true), (3, false), (4, true), (4, false)] {
                push(steps(count, up), 0);
            }
        }
        leads.retain(|lead| {
            let on_horn = |pitch: &i32| (self.low..=self.high).contains(pitch);
            lead.pitches.len() as i32 <= time
                && lead.pitches.iter().all(on_horn)
                && lead
                    .pitches
                    .iter()
                    .all(|pitch| cap.is_none_or(|cap| *pitch < cap))
        });
        leads
    }

    /// What a join costs but for variety; none where notes would sound at
    /// once.
    pub(super) fn join(&self, bar: usize, from: &Way, to: &Way, cap: Option<i32>) -> Option<i32> {
        let time = from.room + to.begins();
        if time < 0 {
            return None;
        }
        let (left, reached) = (from.last(), to.first());
        let further = self.outside(left) > 0 && self.outside(reached) > self.outside(left);
        let away = 2 * self.range * i32::from(further);
        let leads = self.leads(bar, reached, time, cap);
        let led = leads.iter().map(|lead| {
            self.step(left, lead.pitches[0])
                + self.step(lead.pitches[lead.pitches.len() - 1], reached)
                + lead.cost
        });
        let plain = self.step(left, reached);
        let cost = match led.min() {
            Some(led) => led.min(plain + 2 * self.connect),
            None => plain,
        };
        Some(cost + away)
    }

    /// What neighbours and phrases cost on top.
    pub(super) fn variety(&self, line: &[&Way]) -> i32 {
        let mut cost = 0;
        for at in 1..line.len() {
            let (from, to) = (line[at - 1], line[at]);
            cost += self.variety
                * (i32::from(from.figure == to.figure) + i32::from(from.degree == to.degree));
        }
        cost
    }

    /// A statement, its answer, something denser.
    pub(super) fn phrase(&self, line: &[&Way]) -> [i32; BARS] {
        let dense = |way: &Way| COUNTS[self.figures[way.figure].0].1.len();
        let same = (line[0].figure, line[0].degree) == (line[1].figure, line[1].degree);
        let answer = i32::from(line[0].figure != line[1].figure) + i32::from(same);
        let can = dense_of(&self.figures[0]) != dense_of(&self.figures[1]);
        let denser = i32::from(can && dense(line[2]) <= dense(line[0]));
        [0, 2 * self.phrase * answer, 2 * self.phrase * denser, 0]
    }

    /// Whether the limits allow a line.
    pub(super) fn allowed(&self, line: &[&Way], limited: bool) -> bool {
        let longest = |key: fn(&Way) -> i32| {
            let same = line.chunk_by(|one, next| key(one) == key(next));
            same.map(<[&Way]>::len).max().unwrap_or(0)
        };
        let shifted = line.windows(3).any(|three| {
            three[0].shift != 0 && three.iter().all(|way| way.shift == three[0].shift)
        });
        !shifted
            && (!limited
                || longest(|way| way.figure as i32) <= self.in_a_row
                    && longest(|way| way.degree) <= self.in_a_row)
    }

    pub(super) fn of_peak(&self, peak: i32) -> i32 {
        let top = self.high - (self.high - self.low) / 6;
        self.high_point * (top - peak).max(0)
    }

    /// The cost of the cheapest of all lines: any, those with one high point,
    /// and those that have it past the middle.
    pub(super) fn cheapest(&self, layers: &[Vec<Way>], limited: bool) -> [Option<i32>; 3] {
        let joins = |cap: Option<i32>| -> Vec<Vec<Vec<Option<i32>>>> {
            let of = |bar: usize, from: &Way| -> Vec<Option<i32>> {
                layers[bar]
                    .iter()
                    .map(|to| self.join(bar, from, to, cap))
                    .collect()
            };
            (1..BARS)
                .map(|bar| layers[bar - 1].iter().map(|from| of(bar, from)).collect())
                .collect()
        };
        let plain = joins(None);
        let capped: Vec<_> = (self.low..=self.high).map(|cap| joins(Some(cap))).collect();
        let mut best = [None; 3];
        let mut line = [0; BARS];
        loop {
            let ways: Vec<&Way> = line.iter().zip(layers).map(|(at, all)| &all[*at]).collect();
            if self.allowed(&ways, limited) {
                let own: i32 = ways.iter().map(|way| way.own).sum();
                let own = own + self.variety(&ways) + self.phrase(&ways).iter().sum::<i32>();
                let sum = |joins: &[Vec<Vec<Option<i32>>>]| -> Option<i32> {
                    let each = (1..BARS).map(|bar| joins[bar - 1][line[bar - 1]][line[bar]]);
                    each.sum::<Option<i32>>().map(|joins| joins + own)
                };
                let keep = |best: &mut Option<i32>, cost: Option<i32>| {
                    *best = [*best, cost].into_iter().flatten().min();
                };
                keep(&mut best[0], sum(&plain));
                let peak = ways.iter().map(|way| way.high).max().unwrap();
                let reach: Vec<usize> = (0..BARS).filter(|at| ways[*at].high == peak).collect();
                if let [at] = reach[..] {
                    let cost = sum(&capped[(peak - self.low) as usize]);
                    let cost = cost.map(|cost| cost + self.of_peak(peak));
                    keep(&mut best[1], cost);
                    // Of four bars only the fourth begins between 55 and 75 %.
                    if at == 3 {
                        keep(&mut best[2], cost);
                    }
                }
            }
            // The next line, as an odometer turns.
            let turned = (0..BARS).find(|at| {
                line[*at] = (line[*at] + 1) % layers[*at].len();
                line[*at] > 0
            });
            if turned.is_none() {
                return best;
            }
        }
    }
}

pub(super) fn dense_of(figure: &(usize, Vec<i32>)) -> usize {
    COUNTS[figure.0].1.len()
}

/// Half a bar, or all the time there is.
pub(super) fn least_rest(notes: &[(i32, i32)]) -> i32 {
    4.min(BAR - notes[0].0)
}

pub(super) fn rests(notes: &[(i32, i32)]) -> bool {
    notes[notes.len() - 1].1 >= least_rest(notes)
}
