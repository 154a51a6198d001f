//! Whole small lessons over changes, held against every line there is: what
//! can be played and what it costs are worked out here a second time, from the
//! words of `RULES.md` alone.

use std::fmt::Write;

use etude::Sheet;
use proptest::prelude::*;
use score::sounding_notes;

use crate::chord_kinds::{KINDS, ROOTS, pitch};
use crate::support::sheet;

/// Counts of a bar of 4/4, and where their notes begin in eighths.
const COUNTS: [(&str, &[i32]); 5] = [
    ("1 3", &[0, 4]),
    ("1 2 3", &[0, 2, 4]),
    ("1 (2) & 4", &[0, 3, 6]),
    ("1 & 2 3", &[0, 1, 2, 4]),
    ("1 2 3 4", &[0, 2, 4, 6]),
];

const VARIANTS: [&str; 3] = ["as it is", "flipped", "reversed"];

/// A lesson of a few chords.
#[derive(Debug, Clone)]
struct Case {
    /// Bars of one or two chords, root and kind by their places above; the
    /// second on beat 3 or on beat 4.
    bars: Vec<(Chord, Option<(bool, Chord)>)>,
    /// Rungs of the figure's notes.
    rungs: Vec<i32>,
    count: usize,
    variants: Vec<usize>,
    guide_tones: bool,
    /// Written low and high, as half steps above C4.
    low: i32,
    high: i32,
    smooth: i32,
    variety: i32,
    range: i32,
    strong_beats: i32,
    in_a_row: usize,
    seed: u32,
}

type Chord = (usize, usize);

/// The time of a statement, in eighths.
struct Time {
    chord: Chord,
    start: i32,
    length: i32,
}

/// A way to play one.
#[derive(Clone)]
struct Way {
    variant: usize,
    degree: i32,
    notes: Vec<i32>,
    own: i32,
    settles: bool,
    guides: bool,
}

impl Case {
    fn lesson(&self) -> String {
        let chord = |(root, kind): Chord| format!("{}{}", ROOTS[root].0, KINDS[kind].suffix);
        let mut bars = String::new();
        for (first, second) in &self.bars {
            write!(bars, "| {} ", chord(*first)).unwrap();
            match second {
                Some((true, second)) => write!(bars, "(4) {} ", chord(*second)).unwrap(),
                Some((false, second)) => write!(bars, "{} ", chord(*second)).unwrap(),
                None => {}
            }
        }
        let choose: String = KINDS
            .iter()
            .map(|kind| format!("\"{}\" = \"{}\"\n", kind.suffix, kind.scale))
            .collect();
        let moves: Vec<String> = (0..self.rungs.len())
            .map(|at| match at.checked_sub(1) {
                None => "start".to_owned(),
                Some(before) => match self.rungs[at] - self.rungs[before] {
                    0 => "repeat".to_owned(),
                    up @ 1.. => format!("up {up} steps"),
                    down => format!("down {} steps", -down),
                },
            })
            .collect();
        let (kind, variants) = if self.guide_tones {
            ("guide tones", String::new())
        } else {
            let names: Vec<String> = self
                .variants
                .iter()
                .map(|at| format!("\"{}\"", VARIANTS[*at]))
                .collect();
            ("changes", format!("variants = [{}]\n", names.join(", ")))
        };
        format!(
            "title = \"Small\"\n\
             [keys]\nonly = [\"C\"]\n\
             [[player]]\ninstrument = \"flute\"\nlow = \"{}\"\nhigh = \"{}\"\n\
             [changes]\nkey = \"C\"\nbars = \"{bars}|\"\n\
             [choose]\n{choose}\
             [figure]\nmoves = \"{}\"\ncount = \"{}\"\n\
             [[exercise]]\nkind = \"{kind}\"\n{variants}\
             weights = {{ smooth = {}, variety = {}, range = {}, strong_beats = {} }}\n\
             in_a_row = {}\nseed = {}\n",
            pitch(self.low),
            pitch(self.high),
            moves.join(", "),
            COUNTS[self.count].0,
            self.smooth,
            self.variety,
            self.range,
            self.strong_beats,
            self.in_a_row,
            self.seed,
        )
    }

    /// Each chord until the next; a statement begins where its chord does and
    /// is repeated bar after bar, what is left of less than half a bar being
    /// held.
    fn times(&self) -> Vec<Time> {
        let mut chords: Vec<(Chord, i32, i32)> = Vec::new();
        let bars = self.bars.iter().zip((0..).step_by(8));
        let parts = bars.flat_map(|((first, second), zero)| match second {
            None => vec![(*first, zero, zero + 8)],
            Some((late, second)) => {
                let change = zero + if *late { 6 } else { 4 };
                vec![(*first, zero, change), (*second, change, zero + 8)]
            }
        });
        for (chord, from, until) in parts {
            match chords.last_mut() {
                Some((before, _, end)) if *before == chord => *end = until,
                _ => chords.push((chord, from, until)),
            }
        }
        let mut times = Vec::new();
        for (chord, from, until) in chords {
            let mut start = from;
            while start < until {
                let mut length = (until - start).min(8);
                if until - start - length < 4 {
                    length = until - start;
                }
                times.push(Time {
                    chord,
                    start,
                    length,
                });
                start += length;
            }
        }
        times
    }

    /// Everything that can be played at a time.
    fn ways(&self, time: &Time, last: bool) -> Vec<Way> {
        let (root, kind) = (ROOTS[time.chord.0].1, &KINDS[time.chord.1]);
        let size = kind.rungs.len() as i32;
        let sound = |rung: i32| {
            root + kind.rungs[rung.rem_euclid(size) as usize] + 12 * rung.div_euclid(size)
        };
        let is_tone = |pitch: i32| kind.tones.contains(&(pitch - root).rem_euclid(12));
        let (forms, onsets): (Vec<(usize, Vec<i32>)>, &[i32]) = if self.guide_tones {
            (vec![(0, vec![0])], &[0])
        } else {
            let forms = self.variants.iter().map(|at| (*at, form(&self.rungs, *at)));
            (forms.collect(), COUNTS[self.count].1)
        };
        let mut ways = Vec::new();
        for (variant, rungs) in forms {
            for base in -3 * size..=3 * size {
                let played = onsets.iter().filter(|onset| **onset < time.length);
                let notes: Vec<i32> = rungs
                    .iter()
                    .zip(played.clone())
                    .map(|(rung, _)| sound(base + rung))
                    .collect();
                if notes
                    .iter()
                    .any(|note| *note < self.low || *note > self.high)
                {
                    continue;
                }
                let non_chord_tones = notes.iter().zip(played).filter(|(note, onset)| {
                    let strong = (time.start + *onset) % 4 == 0;
                    strong && !is_tone(**note)
                });
                let (lowest, highest) = (notes.iter().min(), notes.iter().max());
                let degree = (sound(base) - root).rem_euclid(12);
                ways.push(Way {
                    variant,
                    degree,
                    own: 2 * self.strong_beats * non_chord_tones.count() as i32
                        + self.range
                            * (self.outside(*lowest.unwrap()) + self.outside(*highest.unwrap())),
                    settles: is_tone(*notes.last().unwrap()),
                    guides: kind.guides.contains(&degree),
                    notes,
                });
            }
        }
        wish(&mut ways, |way| !self.guide_tones || way.guides);
        wish(&mut ways, |way| !last || way.settles);
        ways
    }

    /// Half steps outside of the middle, a sixth of the range being left out
    /// on both sides.
    fn outside(&self, pitch: i32) -> i32 {
        let edge = (self.high - self.low) / 6;
        let under = self.low + edge - pitch;
        let over = pitch - (self.high - edge);
        under.max(over).max(0)
    }

    fn join(&self, from: &Way, to: &Way) -> i32 {
        let (left, reached) = (*from.notes.last().unwrap(), to.notes[0]);
        let interval = (left - reached).abs();
        let leap = if self.guide_tones {
            interval
        } else {
            // Same note, half step, whole step, thirds, fourths to a fifth.
            let row = [2, 0, 0, 1, 1, 3, 3, 3];
            let wide = || interval - 4;
            row.get(interval as usize).copied().unwrap_or_else(wide)
        };
        let further = self.outside(left) > 0 && self.outside(reached) > self.outside(left);
        let varies = self.variants.len() > 1 && !self.guide_tones;
        let again = i32::from(varies && from.variant == to.variant)
            + i32::from(!self.guide_tones && from.degree == to.degree);
        self.smooth * leap + self.variety * again + 2 * self.range * i32::from(further)
    }

    /// Whether no variant and no starting degree stands too often in a row.
    fn varied(&self, line: &[&Way]) -> bool {
        let within = |key: fn(&Way) -> i32| {
            let same = line.chunk_by(|one, next| key(one) == key(next));
            same.map(<[&Way]>::len).max().unwrap_or(0) <= self.in_a_row
        };
        self.guide_tones
            || ((self.variants.len() < 2 || within(|way| way.variant as i32))
                && within(|way| way.degree))
    }

    /// The cost of the cheapest of all lines; held to the limit or not.
    fn cheapest(&self, layers: &[Vec<Way>], limited: bool) -> Option<i32> {
        let mut best = None;
        let mut line: Vec<usize> = vec![0; layers.len()];
        loop {
            let ways: Vec<&Way> = line.iter().zip(layers).map(|(at, all)| &all[*at]).collect();
            if !limited || self.varied(&ways) {
                let own: i32 = ways.iter().map(|way| way.own).sum();
                let joins = ways.windows(2).map(|pair| self.join(pair[0], pair[1]));
                let cost = own + joins.sum::<i32>();
                best = Some(best.map_or(cost, |best: i32| best.min(cost)));
            }
            // The next line, as an odometer turns.
            let turned = (0..line.len()).find(|at| {
                line[*at] = (line[*at] + 1) % layers[*at].len();
                line[*at] > 0
            });
            if turned.is_none() {
                return best;
            }
        }
    }
}

/// The figure as a variant says it.
fn form(rungs: &[i32], variant: usize) -> Vec<i32> {
    match VARIANTS[variant] {
        "flipped" => rungs.iter().map(|rung| -rung).collect(),
        "reversed" => rungs.iter().rev().copied().collect(),
        _ => rungs.to_vec(),
    }
}

fn wish(ways: &mut Vec<Way>, met: impl Fn(&Way) -> bool) {
    if ways.iter().any(&met) {
        ways.retain(met);
    }
}

/// Checks what the composer chose: that its notes are one of the lines there
/// are, that its costs are what is said, and that none is cheaper.
fn check(case: &Case, layers: &[Vec<Way>], sheet: &Sheet) -> Result<(), TestCaseError> {
    let told = &sheet.report.exercises[0];
    prop_assert_eq!(told.statements.len(), layers.len());
    let mut played: Vec<Vec<i32>> = vec![Vec::new(); layers.len()];
    for note in sounding_notes(&sheet.score) {
        let place = usize::from(note.origin.statement);
        played[place].push(i32::from(note.written.midi()) - 60);
    }
    let mut before: Option<&Way> = None;
    let mut line = Vec::new();
    for ((statement, notes), layer) in told.statements.iter().zip(&played).zip(layers) {
        let variant = VARIANTS.iter().position(|one| *one == statement.variant);
        let start = i32::from(statement.start.interval().semitones()).rem_euclid(12);
        let way = layer.iter().find(|way| {
            way.notes == *notes
                && way.degree == start
                && (case.guide_tones || Some(way.variant) == variant)
        });
        prop_assert!(way.is_some(), "{:?} can't be played", notes);
        let way = way.unwrap();
        prop_assert_eq!(statement.own as i32, way.own);
        let join = statement
            .join
            .map(|join| (join.semitones, join.cost as i32));
        let expected = before.map(|before| {
            let interval = way.notes[0] - before.notes[before.notes.len() - 1];
            (interval, case.join(before, way))
        });
        prop_assert_eq!(join, expected);
        line.push(way);
        before = Some(way);
    }
    let cost: u32 = told.statements.iter().map(etude::Statement::cost).sum();
    match case.cheapest(layers, true) {
        Some(best) => {
            prop_assert_eq!(cost as i32, best);
            prop_assert!(case.varied(&line));
            prop_assert!(told.remarks.is_empty());
        }
        None => {
            prop_assert_eq!(Some(cost as i32), case.cheapest(layers, false));
            prop_assert_eq!(told.remarks.len(), 1);
        }
    }
    Ok(())
}

fn chord() -> impl Strategy<Value = Chord> {
    (0..ROOTS.len(), 0..KINDS.len())
}

fn case() -> impl Strategy<Value = Case> {
    let second = prop::option::of((any::<bool>(), chord()));
    let bars =
        prop::collection::vec((chord(), second), 1..4).prop_filter("two to four chords", |bars| {
            let chords: usize = bars
                .iter()
                .map(|bar| 1 + usize::from(bar.1.is_some()))
                .sum();
            (2..=4).contains(&chords)
        });
    let steps = prop::collection::vec(-3..=3, 3);
    let figure = (0..COUNTS.len(), steps).prop_map(|(count, steps)| {
        let mut rungs = vec![0];
        for step in steps.into_iter().take(COUNTS[count].1.len() - 1) {
            rungs.push(rungs[rungs.len() - 1] + step);
        }
        (count, rungs)
    });
    let variants = prop::sample::subsequence(vec![0, 1, 2], 1..=3);
    let weights = (0..6, 0..6, 0..6, 0..6);
    let range = (0..8, 10..20);
    let rest = (prop::bool::weighted(0.2), 1usize..4, any::<u32>());
    (bars, figure, variants, weights, range, rest).prop_map(
        |(bars, (count, rungs), mut variants, weights, (low, width), rest)| {
            // What is the same again is left out.
            let mut known = Vec::new();
            variants.retain(|variant| {
                let form = form(&rungs, *variant);
                let new = !known.contains(&form);
                known.push(form);
                new
            });
            Case {
                bars,
                rungs,
                count,
                variants,
                guide_tones: rest.0,
                low,
                high: low + width,
                smooth: weights.0,
                variety: weights.1,
                range: weights.2,
                strong_beats: weights.3,
                in_a_row: rest.1,
                seed: rest.2,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 300,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]
    /// The composer's line against every line there is.
    #[test]
    fn no_line_of_a_small_lesson_is_cheaper(case in case()) {
        let times = case.times();
        let layers: Vec<Vec<Way>> = times
            .iter()
            .enumerate()
            .map(|(at, time)| case.ways(time, at + 1 == times.len()))
            .collect();
        let lines: usize = layers.iter().map(Vec::len).product();
        prop_assume!(lines <= 60_000);
        let text = case.lesson();
        match sheet(&text, 0) {
            Ok(sheet) => check(&case, &layers, &sheet)?,
            Err(_) => prop_assert_eq!(lines, 0),
        }
    }
}
