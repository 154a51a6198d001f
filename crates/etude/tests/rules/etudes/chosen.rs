//! What the composer chose, held against every line there is.

use etude::{Remark, Sheet, UnmetWish};
use proptest::prelude::*;
use rhythm::Fraction;
use score::sounding_notes;

use super::{BAR, BARS, Case, Way};

/// Checks what the composer chose: that its notes are one of the lines there
/// are, that its costs are what is said, and that none is cheaper.
pub(super) fn check(case: &Case, layers: &[Vec<Way>], sheet: &Sheet) -> Result<(), TestCaseError> {
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
        remarks.push(UnmetWish::InARow {
            limit: case.in_a_row as u8,
        });
    }
    let wanted = match (case.high_point, past, one) {
        (0, _, _) => any,
        (_, Some(_), _) => past,
        (_, None, Some(_)) => one,
        (_, None, None) => {
            remarks.push(UnmetWish::NoHighPoint);
            any
        }
    };
    prop_assert_eq!(Some(cost as i32), wanted);
    let leaps = told
        .statements
        .iter()
        .filter(|one| one.join.is_some_and(|join| join.cost >= 1000));
    let leaps = leaps.count() as u32;
    if leaps > 0 {
        remarks.push(UnmetWish::Leap);
    }
    if case.high_point > 0 && one.is_some() {
        prop_assert!(has_peak);
        prop_assert_eq!(peaks.len(), 1);
        prop_assert!(told.statements[peaks[0]].high_point.is_some());
        if past.is_none() {
            remarks.push(UnmetWish::HighPointElsewhere {
                bar: peaks[0] as i64 + 1,
            });
        } else {
            prop_assert_eq!(peaks[0], 3);
        }
    }
    let expected = remarks.into_iter().map(|wish| {
        let times = if wish == UnmetWish::Leap { leaps } else { 1 };
        (Remark::Wish(wish), times)
    });
    let counted = told
        .remarks
        .iter()
        .map(|one| (one.remark.clone(), one.times));
    prop_assert_eq!(counted.collect::<Vec<_>>(), expected.collect::<Vec<_>>());
    Ok(())
}
