//! Any line of notes in any meter, and any text of a count.

use proptest::prelude::*;
use rhythm::{
    Beam, BeamStyle, Count, Event, Fraction, Meter, Piece, PieceKind, Ticks, TupletEdge, ValueKind,
    notate,
};

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
            match Count::read_with_spans(&text, &meter, None, said) {
                Ok((count, places)) => {
                    prop_assert!(count.slots.iter().all(|slot| slot.length > Fraction::ZERO));
                    prop_assert!(count.slots.windows(2).all(|pair| pair[0].onset + pair[0].length == pair[1].onset));
                    prop_assert_eq!(places.len(), count.slots.len());
                    prop_assert!(places.into_iter().all(|place| text.get(place).is_some_and(|word| !word.is_empty())));
                }
                Err(mistakes) => {
                    prop_assert!(!mistakes.is_empty());
                    for mistake in mistakes {
                        let text = if mistake.in_length { &length } else { &text };
                        prop_assert!(text.get(mistake.span).is_some());
                    }
                }
            }
        }
        let _ = text.parse::<Meter>();
    }
}
