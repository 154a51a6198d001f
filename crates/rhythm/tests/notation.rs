//! Rules 7 and 8: values, ties, rests, beams and tuplets as they are written.
#![cfg(test)]

use proptest::prelude::*;
use rhythm::{
    BarPieces, Beam, BeamStyle, Count, Event, Fraction, Meter, Piece, PieceKind, Ticks, TupletEdge,
    ValueKind, divisions, notate,
};

fn bars_of(meter: &str, count: &str, style: BeamStyle) -> (u32, Vec<Event>, Vec<BarPieces>) {
    let meter: Meter = meter.parse().unwrap();
    let count = Count::read(count, &meter, None).unwrap();
    let times = count
        .slots
        .iter()
        .flat_map(|slot| [slot.onset, slot.length]);
    let per_quarter = divisions(times.chain(meter.beats()).chain([meter.bar()])).unwrap();
    let ticks = |time: Fraction| (time * i64::from(per_quarter)).to_integer();
    let sounding = count.slots.iter().filter(|slot| !slot.silent);
    let events: Vec<Event> = sounding
        .map(|s| Event {
            onset: ticks(s.onset),
            length: ticks(s.length),
        })
        .collect();
    let bars = notate(&meter, per_quarter, &events, ticks(count.span), style);
    (per_quarter, events, bars)
}

fn value(piece: &Piece) -> String {
    let kind = match piece.value.kind {
        ValueKind::SixtyFourth => "64",
        ValueKind::ThirtySecond => "32",
        ValueKind::Sixteenth => "16",
        ValueKind::Eighth => "8",
        ValueKind::Quarter => "4",
        ValueKind::Half => "2",
        ValueKind::Whole => "1",
        ValueKind::Breve => "breve",
    };
    let dots = ".".repeat(usize::from(piece.value.dots));
    let tuplet = piece.value.tuplet.map_or(String::new(), |tuplet| {
        format!("/{}:{}", tuplet.actual, tuplet.normal)
    });
    match piece.kind {
        PieceKind::Note { tied_to, .. } => {
            format!("{kind}{dots}{tuplet}{}", if tied_to { "~" } else { "" })
        }
        PieceKind::Rest => format!("r{kind}{dots}{tuplet}"),
        PieceKind::BarRest => "R".to_owned(),
    }
}

/// Values bar by bar: `8.` dotted, `r4` a rest, `~` tied on, `/3:2` in a
/// triplet, `R` a silent bar.
fn check(meter: &str, count: &str, expected: &str) {
    let (_, _, bars) = bars_of(meter, count, BeamStyle::ByHalfBar);
    let bars = bars
        .iter()
        .map(|bar| bar.pieces.iter().map(value).collect::<Vec<_>>().join(" "));
    assert_eq!(
        bars.collect::<Vec<_>>().join(" | "),
        expected,
        "{meter}: {count}"
    );
}

/// The same for notes given in sixteenths, `onset+length`.
fn check_at(meter: &str, notes: &str, expected: &str) {
    let parsed: Meter = meter.parse().unwrap();
    let events: Vec<Event> = notes
        .split(' ')
        .map(|note| {
            let (onset, length) = note.split_once('+').unwrap();
            Event {
                onset: onset.parse().unwrap(),
                length: length.parse().unwrap(),
            }
        })
        .collect();
    let bars = notate(&parsed, 4, &events, 1, BeamStyle::ByHalfBar);
    let bars = bars
        .iter()
        .map(|bar| bar.pieces.iter().map(value).collect::<Vec<_>>().join(" "));
    assert_eq!(
        bars.collect::<Vec<_>>().join(" | "),
        expected,
        "{meter}: {notes}"
    );
}

#[test]
fn beat_three_shows_in_four_four() {
    // Rhythm rows of the reference table (handbook rules; common practice).
    check_at("4/4", "6+4", "r4 r8 8~ 8 r8 r4");
    check("4/4", "1 2 4", "4 2 4");
    check("4/4", "1 (4)", "2. r4");
    check("4/4", "1 2", "4 2.");
    check_at("4/4", "2+12", "r8 4.~ 4. r8");
    check_at("4/4", "6+8", "r4 r8 8~ 4. r8");
    check_at("4/4", "0+2 2+4 6+2 8+2 10+4 14+2", "8 4 8 8 4 8");
    check_at("4/4", "0+2 2+4 6+4 10+4 14+2", "8 4 8~ 8 4 8");
    check_at("4/4", "0+6 6+6 12+4", "4. 8~ 4 4");
    check_at("4/4", "0+2 2+14", "8 4.~ 2");
    check_at("4/4", "4+6 10+6", "r4 4~ 8 4.");
    check("4/4", "(1 2) 3 4", "r2 4 4");
    check("4/4", "1 (2 3) 4", "4 r4 r4 4");
    check("4/4", "1 (2 3 4)", "4 r4 r2");
    check("4/4", "1 & | 3", "8 4.~ 2~ | 2 2");
    check("4/4", "1 & 3", "8 4. 2");
    check("4/4", "1", "1");
    check("4/4", "1 | (1) | 1", "1 | R | 1");
}

#[test]
fn other_simple_meters() {
    check("3/4", "1 2", "4 2");
    check("3/4", "1 3", "2 4");
    check("3/4", "1", "2.");
    check("3/4", "1 (2 3)", "4 r4 r4");
    check("3/4", "1 | (1)", "2. | R");
    check_at("3/4", "0+6 6+4 10+2", "4. 4 8");
    check_at("3/4", "2+8 10+2", "r8 8~ 4. 8");
    check("3/4", "(1) 3", "r4 r4 4");
    check_at("2/4", "0+2 2+4 6+2", "8 4 8");
    check_at("2/2", "0+4 4+8 12+4", "4 2 4");
    check("3/2", "1 2", "2 1");
    check("4/8", "1 2 3 4", "8 8 8 8");
}

#[test]
fn within_the_beat() {
    check("4/4", "1 e & a 2 e a 3 a 4", "16 16 16 16 16 8 16 8. 16 4");
    check("4/4", "1 e 2", "16 8. 2.");
    check_at("4/4", "0+3 3+3 6+2 8+8", "8. 16~ 8 8 2");
    check("4/4", "1 a (2) & 3", "8. 16 r8 8 2");
    check("4/4", "1 (e) & 2", "16 r16 8 2.");
    check("4/4", "(1) e 2", "r16 8. 2.");
}

#[test]
fn compound_meters_show_their_beats() {
    check("6/8", "1 2 3 4 5 6", "8 8 8 8 8 8");
    check("6/8", "1 4", "4. 4.");
    check("6/8", "1", "2.");
    check("6/8", "1 5", "4.~ 8 4");
    check("6/8", "1 3 6", "4 8~ 4 8");
    check("6/8", "1 (4 5 6)", "4. r4.");
    check("6/8", "1 (2 3) 4", "8 r8 r8 4.");
    check("6/8", "(1 2) 3 4", "r4 8 4.");
    check("9/8", "1", "2.~ 4.");
    check("9/8", "1 7", "2. 4.");
    check("12/8", "1", "1.");
    check("12/8", "1 4 10", "4. 4.~ 4. 4.");
    check("12/8", "1 (7 8 9 10 11 12)", "2. r2.");
    check("6/8", "1 la li 2 li", "8 8 8 4 8");
    check("6/8", "1 & 4", "16 16~ 4 4.");
}

#[test]
fn odd_meters_show_their_groups() {
    check("5/4", "1 3", "2 2.");
    check("5/4", "1 2", "4 4~ 2.");
    check("5/4", "1", "2~ 2.");
    check("5/4 = 3+2", "1 4", "2. 2");
    check("7/8", "1 3 5", "4 4 4.");
    check("7/8", "1 4", "4~ 8 8~ 4.");
    check("7/8", "1 (3 4) 5", "4 r4 4.");
    check("5/8", "1 2 3 4 5", "8 8 8 8 8");
}

#[test]
fn tuplets() {
    check("4/4", "1 trip let 2", "8/3:2 8/3:2 8/3:2 2.");
    check("4/4", "1 let 2", "4/3:2 8/3:2 2.");
    check("4/4", "1 trip 2", "8/3:2 4/3:2 2.");
    check("4/4", "1 (trip) let 2", "8/3:2 r8/3:2 8/3:2 2.");
    check("4/4", "1 let 3", "4/3:2 8/3:2~ 4 2");
    check(
        "4/4",
        "1 trip let 2 trip let 3 4",
        "8/3:2 8/3:2 8/3:2 8/3:2 8/3:2 8/3:2 4 4",
    );
    check("4/4", "(1) trip let 2", "r8/3:2 8/3:2 8/3:2 2.");
    check("2/2", "1 trip let 2", "4/3:2 4/3:2 4/3:2 2");
    check("6/8", "1 trip let 2 3 4", "16/3:2 16/3:2 16/3:2 8 8 4.");
    // Two in the time of three (MusicXML 4.0 time-modification 2:3, tuplet
    // arithmetic; music21 duration.Tuplet), and four.
    check("6/8", "1 & 2 la li", "8/2:3 8/2:3 8 8 8");
    check("6/8", "1 & 2 la", "8/2:3 8/2:3 8 4");
    check("6/8", "1 e & a 2 la", "8/4:3 8/4:3 8/4:3 8/4:3 8 4");
    check("6/8", "(1) & 2 la", "r8/2:3 8/2:3 8 4");
    check("6/8", "1 a 2 la", "4./4:3 8/4:3 8 4");
    check("6/4", "1 & 2 la", "4/2:3 4/2:3 4 2");
    check("9/8", "1 2 & 3 la", "4. 8/2:3 8/2:3 8 4");
}

/// Notes of equal length on a grid of so many to a quarter.
fn check_even(meter: &str, per_quarter: u32, notes: i64, expected: &str) {
    let parsed: Meter = meter.parse().unwrap();
    let events: Vec<Event> = (0..notes).map(|onset| Event { onset, length: 1 }).collect();
    let bars = notate(&parsed, per_quarter, &events, 1, BeamStyle::ByHalfBar);
    let first: Vec<String> = bars[0]
        .pieces
        .iter()
        .take(notes as usize)
        .map(value)
        .collect();
    assert_eq!(first.join(" "), expected, "{meter}: {notes}");
}

#[test]
fn other_tuplets() {
    // Ratios: MusicXML 4.0 time-modification, tuplet arithmetic; music21
    // duration.Tuplet.
    check_even("4/4", 6, 6, "16/6:4 16/6:4 16/6:4 16/6:4 16/6:4 16/6:4");
    check_even("4/4", 6, 3, "16/3:2 16/3:2 16/3:2");
    check_even("4/4", 5, 5, "16/5:4 16/5:4 16/5:4 16/5:4 16/5:4");
    check_even(
        "4/4",
        7,
        7,
        "16/7:4 16/7:4 16/7:4 16/7:4 16/7:4 16/7:4 16/7:4",
    );
}

#[test]
fn a_triplet_off_the_beat_is_tied_over_it() {
    // Begun an eighth late: each half beat has its own triplet of sixteenths.
    let meter: Meter = "4/4".parse().unwrap();
    let events: Vec<Event> = (0..3)
        .map(|at| Event {
            onset: 3 + 2 * at,
            length: 2,
        })
        .collect();
    let bars = notate(&meter, 6, &events, 24, BeamStyle::ByHalfBar);
    let said: Vec<String> = bars[0].pieces.iter().map(value).collect();
    assert_eq!(said.join(" "), "r8 8/3:2 16/3:2~ 16/3:2 8/3:2 r8 r2");
}

#[test]
fn pickups_and_bar_lines() {
    check("4/4", "4 & | 1 2 3", "8 8 | 4 4 4 r4");
    check("4/4", "& | 1", "8 | 2~ 4. r8");
    // A pickup that begins inside a triplet has the whole triplet.
    check("4/4", "let | 1 2", "r4/3:2 8/3:2 | 4 2~ 4/3:2 r8/3:2");
    check(
        "4/4",
        "trip let | 1",
        "r8/3:2 8/3:2 8/3:2 | 2.~ 8/3:2 r8/3:2 r8/3:2",
    );
    check("6/8", "2 & | 1 la", "8/2:3 8/2:3 | 8 4 r4.");
    check("6/8", "6 | 1 4", "8 | 4. 4 r8");
    check("4/4", "1 4 & | 3", "2. 8 8~ | 2 2");
}

#[test]
fn a_syncopated_figure_begun_on_each_eighth() {
    // Note, note, rest, the same note off the beat: whatever eighth it begins
    // on, beat 3 shows, and the bar line is crossed by a tie.
    let meter: Meter = "4/4".parse().unwrap();
    let figure = [(0, 1), (1, 1), (3, 2), (5, 3)];
    let expected = [
        "8 8 r8 8~ 8 4. | R",
        "r8 8 8 r8 4 4~ | 8 r8 r4 r2",
        "r4 8 8 r8 4 8~ | 4 r4 r2",
        "r4 r8 8 8 r8 4 | 4. r8 r2",
        "r2 8 8 r8 8~ | 8 4. r2",
        "r2 r8 8 8 r8 | 4 4~ 8 r8 r4",
        "r2 r4 8 8 | r8 4 8~ 4 r4",
        "r2 r4 r8 8 | 8 r8 4 4. r8",
    ];
    for (shift, expected) in (0i64..).zip(expected) {
        let events: Vec<Event> = figure
            .iter()
            .map(|(at, length)| Event {
                onset: at + shift,
                length: *length,
            })
            .collect();
        let bars = notate(&meter, 2, &events, 16, BeamStyle::ByHalfBar);
        let bars = bars
            .iter()
            .map(|bar| bar.pieces.iter().map(value).collect::<Vec<_>>().join(" "));
        assert_eq!(
            bars.collect::<Vec<_>>().join(" | "),
            expected,
            "begun {shift} eighths late"
        );
    }
}

/// Beams of level `level`: `b` begin, `c` continue, `e` end, `>` and `<` hooks,
/// `-` none.
fn check_beams(meter: &str, count: &str, style: BeamStyle, level: usize, expected: &str) {
    let (_, _, bars) = bars_of(meter, count, style);
    let said = bars
        .iter()
        .flat_map(|bar| &bar.pieces)
        .map(|piece| match piece.beams[level - 1] {
            Some(Beam::Begin) => 'b',
            Some(Beam::Continue) => 'c',
            Some(Beam::End) => 'e',
            Some(Beam::ForwardHook) => '>',
            Some(Beam::BackwardHook) => '<',
            None => '-',
        });
    assert_eq!(said.collect::<String>(), expected, "{meter}: {count}");
}

#[test]
fn beams() {
    use BeamStyle::{ByBeat, ByHalfBar};
    // 4+4 in 4/4, never over the middle; never three and three in 3/4
    // (reference table; common practice).
    check_beams("4/4", "1 & 2 & 3 & 4 &", ByHalfBar, 1, "bccebcce");
    check_beams("4/4", "1 & 2 & 3 & 4 &", ByBeat, 1, "bebebebe");
    check_beams("4/4", "1 & 2 & (3) & 4 &", ByHalfBar, 1, "bcce--be");
    check_beams("4/4", "1 & 2 & 3 e & 4", ByHalfBar, 1, "bccebce-");
    check_beams("4/4", "1 e & 2 & 3", ByHalfBar, 1, "bcebe-");
    check_beams("3/4", "1 & 2 & 3 &", ByHalfBar, 1, "bcccce");
    check_beams("3/4", "1 & 2 & 3 &", ByBeat, 1, "bebebe");
    check_beams("3/4", "1 & 2 & 3", ByHalfBar, 1, "bebe-");
    check_beams("6/8", "1 2 3 4 5 6", ByBeat, 1, "bcebce");
    check_beams("7/8", "1 2 3 4 5 6 7", ByHalfBar, 1, "bebebce");
    check_beams("5/4", "1 & 2 & 3 & 4 & 5 &", ByHalfBar, 1, "bebebebebe");
    check_beams("4/4", "1 e & a 2", ByHalfBar, 2, "bcce-");
    check_beams("4/4", "1 & a 2", ByHalfBar, 2, "-be-");
    check_beams("4/4", "1 a 2", ByHalfBar, 2, "-<-");
    check_beams("4/4", "1 e 2", ByHalfBar, 2, ">--");
    check_beams("4/4", "1 e a 2", ByHalfBar, 2, ">-<-");
    check_beams("4/4", "1 trip let 2", ByHalfBar, 1, "bce-");
    check_beams("4/4", "1 let 2", ByHalfBar, 1, "---");
    check_beams("4/4", "4 & | 1 2 3", ByHalfBar, 1, "be----");
}

#[test]
fn brackets_show_where_no_beam_does() {
    let bracket = |count: &str| {
        let (_, _, bars) = bars_of("4/4", count, BeamStyle::ByHalfBar);
        bars[0].pieces.iter().find_map(|piece| match piece.edge {
            Some(TupletEdge::Start { bracket }) => Some(bracket),
            _ => None,
        })
    };
    assert_eq!(bracket("1 trip let 2"), Some(false));
    assert_eq!(bracket("1 let 2"), Some(true));
    assert_eq!(bracket("1 (trip) let 2"), Some(true));
    assert_eq!(bracket("1 2"), None);
}

fn length(piece: &Piece, per_quarter: u32) -> Fraction {
    let quarter = i64::from(per_quarter);
    let plain = match piece.value.kind {
        ValueKind::SixtyFourth => Fraction::new(quarter, 16),
        ValueKind::ThirtySecond => Fraction::new(quarter, 8),
        ValueKind::Sixteenth => Fraction::new(quarter, 4),
        ValueKind::Eighth => Fraction::new(quarter, 2),
        ValueKind::Quarter => Fraction::from(quarter),
        ValueKind::Half => Fraction::from(quarter * 2),
        ValueKind::Whole => Fraction::from(quarter * 4),
        ValueKind::Breve => Fraction::from(quarter * 8),
    };
    let dotted = if piece.value.dots == 1 {
        plain * Fraction::new(3, 2)
    } else {
        plain
    };
    piece.value.tuplet.map_or(dotted, |t| {
        dotted * Fraction::new(i64::from(t.normal), i64::from(t.actual))
    })
}

const METERS: [&str; 22] = [
    "2/4",
    "3/4",
    "4/4",
    "2/2",
    "3/2",
    "4/2",
    "4/8",
    "2/8",
    "3/8",
    "6/8",
    "9/8",
    "12/8",
    "6/4",
    "5/4",
    "5/4 = 3+2",
    "7/4",
    "5/8",
    "7/8",
    "7/8 = 3+2+2",
    "8/8 = 3+3+2",
    "1/4",
    "7/16",
];

/// Events on a grid of so many parts of an eighth, with gaps.
fn line() -> impl Strategy<Value = (usize, i64, Vec<(i64, i64)>, i64)> {
    let event = (0..6i64, 1..24i64);
    (
        0..METERS.len(),
        prop_oneof![Just(1i64), Just(2), Just(4), Just(3), Just(6)],
        prop::collection::vec(event, 0..20),
        -6..1i64,
    )
}

proptest! {
    #[test]
    fn every_bar_is_full((meter, fineness, steps, begin) in line()) {
        let meter: Meter = METERS[meter].parse().unwrap();
        let per_quarter = 4 * fineness as u32;
        let bar = (meter.bar() * i64::from(per_quarter)).to_integer();
        // Thirds stay inside an eighth: three notes or none.
        let mut at = begin.max(1 - bar / 2) * 2 * fineness;
        let mut events: Vec<Event> = Vec::new();
        for (gap, length) in steps {
            let unit = if fineness % 3 == 0 { 2 * fineness / 3 } else { 1 };
            let third = fineness % 3 == 0 && length % 2 == 0;
            if third {
                at = (at + 2 * fineness - 1).div_euclid(2 * fineness) * 2 * fineness;
                for part in 0..3 {
                    events.push(Event { onset: at + part * unit, length: unit });
                }
                at += 2 * fineness;
            } else {
                let grid = if fineness % 3 == 0 { 2 * fineness } else { 1 };
                at = (at + grid - 1).div_euclid(grid) * grid + gap * grid;
                events.push(Event { onset: at, length: length * grid });
                at += length * grid;
            }
        }
        for style in [BeamStyle::ByBeat, BeamStyle::ByHalfBar] {
            let bars = notate(&meter, per_quarter, &events, bar, style);
            let mut sounded: Vec<Ticks> = vec![0; events.len()];
            let mut line: Option<Ticks> = None;
            for bars in &bars {
                prop_assert!(bars.length == bar || bars.start < 0);
                prop_assert!(line.is_none_or(|line| line == bars.start));
                line = Some(bars.start + bars.length);
                let mut at = 0;
                let mut open = 0i32;
                let mut tuplet = false;
                for piece in &bars.pieces {
                    prop_assert_eq!(piece.at, at);
                    at += piece.length;
                    match piece.kind {
                        PieceKind::BarRest => {
                            prop_assert_eq!(piece.length, bar);
                            continue;
                        }
                        PieceKind::Rest => prop_assert!(piece.beams[0].is_none()),
                        PieceKind::Note { event, tied_from, tied_to } => {
                            prop_assert_eq!(tied_from, sounded[event] > 0);
                            sounded[event] += piece.length;
                            prop_assert_eq!(tied_to, sounded[event] < events[event].length);
                        }
                    }
                    prop_assert_eq!(length(piece, per_quarter), Fraction::from(piece.length), "{:?} in {}", piece, meter);
                    match piece.beams[0] {
                        Some(Beam::Begin) => { prop_assert_eq!(open, 0); open = 1; }
                        Some(Beam::Continue) => prop_assert_eq!(open, 1),
                        Some(Beam::End) => { prop_assert_eq!(open, 1); open = 0; }
                        Some(_) => prop_assert!(false, "a hook at the first level"),
                        None => prop_assert_eq!(open, 0),
                    }
                    if matches!(piece.edge, Some(TupletEdge::Start { .. })) {
                        prop_assert!(!tuplet);
                        tuplet = true;
                    }
                    prop_assert_eq!(piece.value.tuplet.is_some(), tuplet);
                    if piece.edge == Some(TupletEdge::Stop) {
                        tuplet = false;
                    }
                }
                prop_assert_eq!(at, bars.length);
                prop_assert_eq!(open, 0);
                prop_assert!(!tuplet);
            }
            for (event, sounded) in events.iter().zip(sounded) {
                prop_assert_eq!(event.length, sounded);
            }
        }
    }

    #[test]
    fn no_text_breaks_the_count(text in "[0-9&eal()| trip–-]{0,40}|.{0,20}", length in "[0-9a-z ]{0,12}", meter in 0..METERS.len()) {
        let meter: Meter = METERS[meter].parse().unwrap();
        for said in [None, Some(length.as_str())] {
            match Count::read(&text, &meter, said) {
                Ok(count) => {
                    prop_assert!(count.slots.iter().all(|slot| slot.length > Fraction::ZERO));
                    prop_assert!(count.slots.windows(2).all(|pair| pair[0].onset + pair[0].length == pair[1].onset));
                    prop_assert!(text.get(count.slots[0].place.clone()).is_some());
                }
                Err(mistakes) => {
                    prop_assert!(!mistakes.is_empty());
                    for mistake in mistakes {
                        let text = if mistake.in_length { &length } else { &text };
                        prop_assert!(text.get(mistake.place).is_some());
                    }
                }
            }
        }
        let _ = text.parse::<Meter>();
    }
}
