//! Whole short etudes with every rule in force, held against every line there
//! is: what can be played and what it costs are worked out here a second time,
//! from the words of `RULES.md` alone. All times are eighths.

use std::fmt::Write;

use etude::{Remark, Sheet};
use proptest::prelude::*;
use rhythm::Fraction;
use score::sounding_notes;

use crate::cheapest::{KINDS, Kind, ROOTS, pitch};
use crate::support::sheet;

const BARS: usize = 4;
const BAR: i32 = 8;

/// Counts of a bar of 4/4, and their notes' onsets and lengths.
const COUNTS: [(&str, &[(i32, i32)]); 7] = [
    ("1 3", &[(0, 4), (4, 4)]),
    ("1 2 3", &[(0, 2), (2, 2), (4, 4)]),
    ("1 & 2 (3 4)", &[(0, 1), (1, 1), (2, 2)]),
    ("1 2 (3) 4", &[(0, 2), (2, 2), (6, 2)]),
    ("1 2 3 4", &[(0, 2), (2, 2), (4, 2), (6, 2)]),
    ("(1) & 2 3", &[(1, 1), (2, 2), (4, 4)]),
    ("1 & 2 3 (4)", &[(0, 1), (1, 1), (2, 2), (4, 2)]),
];

/// A lesson of four bars and two figures.
#[derive(Debug, Clone)]
struct Case {
    /// Root and kind of each bar's chord.
    chords: Vec<(usize, usize)>,
    /// Counts, by their place, and rungs of the figures.
    figures: [(usize, Vec<i32>); 2],
    low: i32,
    high: i32,
    smooth: i32,
    variety: i32,
    range: i32,
    strong_beats: i32,
    phrase: i32,
    high_point: i32,
    connect: i32,
    /// 0 none, 1 approach, 2 run.
    connections: usize,
    shift: bool,
    in_a_row: usize,
    seed: u32,
}

/// A way to play a bar; times from its bar line.
#[derive(Debug, Clone)]
struct Way {
    figure: usize,
    degree: i32,
    shift: i32,
    /// Pitch, onset, length.
    notes: Vec<(i32, i32, i32)>,
    own: i32,
    settles: bool,
    /// Eighths that may come before the next bar line, negative where it rings
    /// over.
    room: i32,
    high: i32,
}

impl Way {
    fn first(&self) -> i32 {
        self.notes[0].0
    }

    fn last(&self) -> i32 {
        self.notes[self.notes.len() - 1].0
    }

    fn begins(&self) -> i32 {
        self.notes[0].1
    }
}

/// What leads to a note: its pitches, and what it costs beside intervals.
#[derive(Debug, Clone, PartialEq)]
struct Lead {
    pitches: Vec<i32>,
    cost: i32,
}

impl Case {
    fn lesson(&self) -> String {
        let mut bars = String::new();
        for (root, kind) in &self.chords {
            write!(bars, "| {}{} ", ROOTS[*root].0, KINDS[*kind].suffix).unwrap();
        }
        let choose: String = KINDS
            .iter()
            .map(|kind| format!("\"{}\" = \"{}\"\n", kind.suffix, kind.scale))
            .collect();
        let mut figures = String::new();
        for ((count, rungs), name) in self.figures.iter().zip(["one", "two"]) {
            let moves: Vec<String> = (0..rungs.len())
                .map(|at| match at.checked_sub(1) {
                    None => "start".to_owned(),
                    Some(before) => match rungs[at] - rungs[before] {
                        0 => "repeat".to_owned(),
                        up @ 1.. => format!("up {up} steps"),
                        down => format!("down {} steps", -down),
                    },
                })
                .collect();
            write!(
                figures,
                "[[figure]]\nname = \"{name}\"\nmoves = \"{}\"\ncount = \"{}\"\n",
                moves.join(", "),
                COUNTS[*count].0
            )
            .unwrap();
        }
        let connect = ["none", "approach", "run"][self.connections];
        let weight = match self.connections {
            0 => String::new(),
            _ => format!(", connect = {}", self.connect),
        };
        let connect = match self.connections {
            0 => String::new(),
            _ => format!("connect = \"{connect}\"\n"),
        };
        let shift = if self.shift {
            "shift = \"over the bar\"\n"
        } else {
            ""
        };
        format!(
            "title = \"Small\"\n\
             [keys]\nonly = [\"C\"]\n\
             [[player]]\ninstrument = \"flute\"\nlow = \"{}\"\nhigh = \"{}\"\n\
             [changes]\nkey = \"C\"\nbars = \"{bars}|\"\n\
             [choose]\n{choose}{figures}\
             [[exercise]]\nkind = \"changes\"\nfigures = [\"one\", \"two\"]\n{connect}{shift}\
             weights = {{ smooth = {}, variety = {}, range = {}, strong_beats = {}, \
             phrase = {}, high_point = {}{weight} }}\n\
             in_a_row = {}\nseed = {}\n",
            pitch(self.low),
            pitch(self.high),
            self.smooth,
            self.variety,
            self.range,
            self.strong_beats,
            self.phrase,
            self.high_point,
            self.in_a_row,
            self.seed,
        )
    }

    fn kind(&self, bar: usize) -> (i32, &'static Kind) {
        let (root, kind) = self.chords[bar];
        (ROOTS[root].1, &KINDS[kind])
    }

    fn is_tone(&self, bar: usize, pitch: i32) -> bool {
        let (root, kind) = self.kind(bar);
        kind.tones.contains(&(pitch - root).rem_euclid(12))
    }

    fn sound(&self, bar: usize, rung: i32) -> i32 {
        let (root, kind) = self.kind(bar);
        let size = kind.rungs.len() as i32;
        root + kind.rungs[rung.rem_euclid(size) as usize] + 12 * rung.div_euclid(size)
    }

    /// Times of a figure's notes in each form: how far shifted, each note's
    /// onset and length.
    fn forms(&self, count: usize, bar: usize) -> Vec<(i32, Vec<(i32, i32)>)> {
        let plain: Vec<(i32, i32)> = COUNTS[count].1.to_vec();
        let mut forms = vec![(0, plain.clone())];
        let end = |notes: &[(i32, i32)]| notes[notes.len() - 1].0 + notes[notes.len() - 1].1;
        let move_by = |by: i32| -> Vec<(i32, i32)> {
            plain
                .iter()
                .map(|(onset, length)| (onset + by, *length))
                .collect()
        };
        if self.shift && bar > 0 {
            let mut early = move_by(-1);
            // What lasted to the bar line still does.
            if end(&plain) == BAR {
                let last = early.len() - 1;
                early[last].1 += 1;
            }
            if early
                .iter()
                .any(|(onset, length)| *onset < 0 && onset + length > 0)
            {
                forms.push((-1, early));
            }
        }
        if self.shift && bar + 1 < BARS {
            let late = move_by(1);
            let (onset, _) = late[late.len() - 1];
            if onset < BAR && end(&late) > BAR {
                forms.push((1, late));
            }
        }
        if self.phrase > 0 && bar + 1 == BARS && !rests(&plain) {
            let long = least_rest(&plain);
            let last = (0..plain.len()).rev().find(|at| BAR - plain[*at].0 >= long);
            let mut held = plain[..=last.unwrap()].to_vec();
            let (onset, length) = held.last_mut().unwrap();
            *length = BAR - *onset;
            forms.push((0, held));
        }
        forms
    }

    fn ways(&self, bar: usize) -> Vec<Way> {
        let (root, kind) = self.kind(bar);
        let size = kind.rungs.len() as i32;
        let mut ways = Vec::new();
        for (figure, (count, rungs)) in self.figures.iter().enumerate() {
            for (shift, times) in self.forms(*count, bar) {
                for base in -3 * size..=3 * size {
                    let notes: Vec<(i32, i32, i32)> = rungs
                        .iter()
                        .zip(&times)
                        .map(|(rung, (onset, length))| {
                            (self.sound(bar, base + rung), *onset, *length)
                        })
                        .collect();
                    let low = notes.iter().map(|note| note.0).min().unwrap();
                    let high = notes.iter().map(|note| note.0).max().unwrap();
                    if low < self.low || high > self.high {
                        continue;
                    }
                    let strong = |onset: i32| (onset - shift) % 4 == 0;
                    let strange = |(pitch, onset, _): &&(i32, i32, i32)| {
                        strong(*onset) && !self.is_tone(bar, *pitch)
                    };
                    let mut strangers = notes.iter().filter(strange).count() as i32;
                    let (last, onset, length) = notes[notes.len() - 1];
                    let rings = onset + length > BAR;
                    if rings && !self.is_tone(bar + 1, last) {
                        strangers += 1;
                    }
                    let settles = self.is_tone(bar, last);
                    let mut own = 2 * self.strong_beats * strangers
                        + self.range * (self.outside(low) + self.outside(high));
                    if bar + 1 == BARS {
                        let misses = i32::from(!settles) + i32::from(!rests(&times));
                        own += 2 * self.phrase * misses;
                    }
                    // The last note keeps its first half.
                    let room = if rings {
                        -1
                    } else {
                        BAR - onset - length + length / 2
                    };
                    ways.push(Way {
                        figure,
                        degree: (self.sound(bar, base) - root).rem_euclid(12),
                        shift,
                        own,
                        settles,
                        room: room.min(4),
                        high,
                        notes,
                    });
                }
            }
        }
        if bar + 1 == BARS && ways.iter().any(|way| way.settles) {
            ways.retain(|way| way.settles);
        }
        ways
    }

    fn outside(&self, pitch: i32) -> i32 {
        let edge = (self.high - self.low) / 6;
        let under = self.low + edge - pitch;
        let over = pitch - (self.high - edge);
        under.max(over).max(0)
    }

    fn is_etude(&self) -> bool {
        self.phrase > 0 || self.high_point > 0 || self.connections > 0 || self.shift
    }

    fn step(&self, from: i32, to: i32) -> i32 {
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
    fn leads(&self, bar: usize, to: i32, time: i32, cap: Option<i32>) -> Vec<Lead> {
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
    fn join(&self, bar: usize, from: &Way, to: &Way, cap: Option<i32>) -> Option<i32> {
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
    fn variety(&self, line: &[&Way]) -> i32 {
        let mut cost = 0;
        for at in 1..line.len() {
            let (from, to) = (line[at - 1], line[at]);
            cost += self.variety
                * (i32::from(from.figure == to.figure) + i32::from(from.degree == to.degree));
        }
        cost
    }

    /// A statement, its answer, something denser.
    fn phrase(&self, line: &[&Way]) -> [i32; BARS] {
        let dense = |way: &Way| COUNTS[self.figures[way.figure].0].1.len();
        let same = (line[0].figure, line[0].degree) == (line[1].figure, line[1].degree);
        let answer = i32::from(line[0].figure != line[1].figure) + i32::from(same);
        let can = dense_of(&self.figures[0]) != dense_of(&self.figures[1]);
        let denser = i32::from(can && dense(line[2]) <= dense(line[0]));
        [0, 2 * self.phrase * answer, 2 * self.phrase * denser, 0]
    }

    /// Whether the limits allow a line.
    fn allowed(&self, line: &[&Way], limited: bool) -> bool {
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

    fn of_peak(&self, peak: i32) -> i32 {
        let top = self.high - (self.high - self.low) / 6;
        self.high_point * (top - peak).max(0)
    }

    /// The cost of the cheapest of all lines: any, those with one high point,
    /// and those that have it past the middle.
    fn cheapest(&self, layers: &[Vec<Way>], limited: bool) -> [Option<i32>; 3] {
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

fn dense_of(figure: &(usize, Vec<i32>)) -> usize {
    COUNTS[figure.0].1.len()
}

/// Half a bar, or all the time there is.
fn least_rest(notes: &[(i32, i32)]) -> i32 {
    4.min(BAR - notes[0].0)
}

fn rests(notes: &[(i32, i32)]) -> bool {
    notes[notes.len() - 1].1 >= least_rest(notes)
}

/// Checks what the composer chose: that its notes are one of the lines there
/// are, that its costs are what is said, and that none is cheaper.
fn check(case: &Case, layers: &[Vec<Way>], sheet: &Sheet) -> Result<(), TestCaseError> {
    let told = &sheet.report.exercises[0];
    prop_assert_eq!(told.statements.len(), BARS);
    let mut played: Vec<Vec<(i32, i32, i32)>> = vec![Vec::new(); BARS];
    let eighths = |time: Fraction| (time * 2).to_integer() as i32;
    let early = sounding_notes(&sheet.score)[0].onset;
    prop_assert!(early >= Fraction::ZERO);
    for note in sounding_notes(&sheet.score) {
        let at = usize::from(note.origin.statement);
        let zero = BAR * at as i32;
        let pitch = i32::from(note.written.midi()) - 60;
        played[at].push((pitch, eighths(note.onset) - zero, eighths(note.length)));
    }
    // Which way each is: by its figure, its degree, its place and its notes,
    // the last of which may have been cut short.
    let mut line: Vec<&Way> = Vec::new();
    for (bar, statement) in told.statements.iter().enumerate() {
        let figure = usize::from(statement.variant.starts_with("two"));
        let start = i32::from(statement.start.interval().semitones()).rem_euclid(12);
        let starts = |notes: &[(i32, i32, i32)]| {
            notes.len() <= played[bar].len()
                && notes
                    .iter()
                    .zip(&played[bar])
                    .enumerate()
                    .all(|(at, (way, note))| {
                        let is_last = at + 1 == notes.len();
                        (way.0, way.1) == (note.0, note.1)
                            && (way.2 == note.2 || is_last && note.2 < way.2)
                    })
        };
        let way = layers[bar].iter().find(|way| {
            (way.figure, way.degree, way.shift) == (figure, start, i32::from(statement.shift))
                && way.own == statement.own as i32
                && starts(&way.notes)
        });
        prop_assert!(
            way.is_some(),
            "bar {} can't be played: {:?}",
            bar + 1,
            played[bar]
        );
        line.push(way.unwrap());
    }
    let highest = line.iter().map(|way| way.high).max().unwrap();
    let peaks: Vec<usize> = (0..BARS).filter(|at| line[*at].high == highest).collect();
    let has_peak = told.statements.iter().any(|one| one.high_point.is_some());
    let cap = has_peak.then_some(highest);
    // What leads from one to the next is what is said, in its time and order.
    for bar in 1..BARS {
        let (from, to) = (line[bar - 1], line[bar]);
        let led: Vec<(i32, i32)> = played[bar - 1][from.notes.len()..]
            .iter()
            .map(|(pitch, onset, _)| (*pitch, onset - BAR))
            .collect();
        let said = told.statements[bar].join.unwrap().led;
        prop_assert_eq!(led.len(), said.map_or(0, |led| usize::from(led.notes())));
        let count = led.len() as i32;
        for (place, (_, onset)) in (0..).zip(&led) {
            prop_assert_eq!(*onset, to.begins() - count + place);
        }
        if !led.is_empty() {
            let pitches: Vec<i32> = led.iter().map(|(pitch, _)| *pitch).collect();
            let leads = case.leads(bar, to.first(), from.room + to.begins(), cap);
            prop_assert!(
                leads.iter().any(|lead| lead.pitches == pitches),
                "{:?}",
                pitches
            );
        }
        let cost = case.join(bar, from, to, cap);
        prop_assert!(cost.is_some());
        let until = BAR + to.begins() - count;
        let last = from.notes[from.notes.len() - 1];
        let length = played[bar - 1][from.notes.len() - 1].2;
        prop_assert_eq!(length, last.2.min(until - last.1));
    }
    let phrase: Vec<i32> = told
        .statements
        .iter()
        .map(|one| one.phrase as i32)
        .collect();
    prop_assert_eq!(&phrase[..], &case.phrase(&line)[..]);
    let joins: Option<i32> = (1..BARS)
        .map(|bar| case.join(bar, line[bar - 1], line[bar], cap))
        .sum();
    let said: i32 = told
        .statements
        .iter()
        .filter_map(|one| one.join)
        .map(|join| join.cost as i32)
        .sum();
    prop_assert_eq!(said, joins.unwrap() + case.variety(&line));
    let cost: u32 = told.statements.iter().map(etude::Statement::cost).sum();
    let mut limited = true;
    let mut best = case.cheapest(layers, true);
    if best[0].is_none() {
        limited = false;
        best = case.cheapest(layers, false);
    }
    prop_assert!(case.allowed(&line, limited));
    let [any, one, past] = best;
    let mut remarks = Vec::new();
    if !limited {
        remarks.push(Remark::InARow {
            limit: case.in_a_row as u8,
        });
    }
    let wanted = match (case.high_point, past, one) {
        (0, _, _) => any,
        (_, Some(_), _) => past,
        (_, None, Some(_)) => one,
        (_, None, None) => {
            remarks.push(Remark::NoHighPoint);
            any
        }
    };
    prop_assert_eq!(Some(cost as i32), wanted);
    let leaps = told
        .statements
        .iter()
        .filter(|one| one.join.is_some_and(|join| join.cost >= 1000));
    let leaps = leaps.count() as u16;
    if leaps > 0 {
        remarks.push(Remark::LeapsAnOctave(leaps));
    }
    if case.high_point > 0 && one.is_some() {
        prop_assert!(has_peak);
        prop_assert_eq!(peaks.len(), 1);
        prop_assert!(told.statements[peaks[0]].high_point.is_some());
        if past.is_none() {
            remarks.push(Remark::HighPointElsewhere {
                bar: peaks[0] as i64 + 1,
            });
        } else {
            prop_assert_eq!(peaks[0], 3);
        }
    }
    prop_assert_eq!(&told.remarks, &remarks);
    Ok(())
}

fn figure() -> impl Strategy<Value = (usize, Vec<i32>)> {
    (0..COUNTS.len(), prop::collection::vec(-2..=2, 3)).prop_map(|(count, steps)| {
        let mut rungs = vec![0];
        for step in steps.into_iter().take(COUNTS[count].1.len() - 1) {
            rungs.push(rungs[rungs.len() - 1] + step);
        }
        (count, rungs)
    })
}

fn case() -> impl Strategy<Value = Case> {
    // Few chords, so that some come twice.
    let chords = prop::collection::vec((0..3usize, 0..2usize), BARS);
    let plain = (0..5, 0..4, 0..4, 0..4);
    let new = (0..4, 0..4, 0..4, 0..3usize, any::<bool>());
    let rest = (0..8, 6..11, 1usize..4, any::<u32>());
    (chords, figure(), figure(), plain, new, rest).prop_map(
        |(chords, one, two, plain, new, (low, width, in_a_row, seed))| Case {
            chords,
            figures: [one, two],
            low,
            high: low + width,
            smooth: plain.0,
            variety: plain.1,
            range: plain.2,
            strong_beats: plain.3,
            phrase: new.0,
            high_point: new.1,
            connect: if new.3 > 0 { new.2 } else { 0 },
            connections: new.3,
            shift: new.4,
            in_a_row,
            seed,
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 120,
        failure_persistence: None,
        max_global_rejects: 4000,
        ..ProptestConfig::default()
    })]
    /// The composer's etude against every line there is.
    #[test]
    fn no_line_of_a_short_etude_is_cheaper(case in case()) {
        // Two figures that are one would be one variant.
        prop_assume!(case.figures[0] != case.figures[1]);
        let layers: Vec<Vec<Way>> = (0..BARS).map(|bar| case.ways(bar)).collect();
        let lines: usize = layers.iter().map(Vec::len).product();
        prop_assume!(lines <= 40_000);
        match sheet(&case.lesson(), 0) {
            Ok(sheet) => check(&case, &layers, &sheet)?,
            Err(_) => prop_assert_eq!(lines, 0),
        }
    }
}
