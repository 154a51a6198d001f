//! Whole short etudes with every rule in force, held against every line there
//! is: what can be played and what it costs are worked out here a second time,
//! from the words of `RULES.md` alone. All times are eighths.

mod chosen;
mod cost;

use std::fmt::Write;

use proptest::prelude::*;

use crate::chord_kinds::{KINDS, Kind, ROOTS, pitch};
use crate::support::sheet;

use self::chosen::check;
use self::cost::{least_rest, rests};

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
                    let mut non_chord_tones = notes.iter().filter(strange).count() as i32;
                    let (last, onset, length) = notes[notes.len() - 1];
                    let rings = onset + length > BAR;
                    if rings && !self.is_tone(bar + 1, last) {
                        non_chord_tones += 1;
                    }
                    let settles = self.is_tone(bar, last);
                    let mut own = 2 * self.strong_beats * non_chord_tones
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
