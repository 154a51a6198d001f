//! Whether a rhythm can be written down exactly.

use crate::{BeamStyle, Count, Event, Fraction, Meter, Ticks, divisions, notate};

/// Statements of a count one after another, which together show every place
/// it can take in a bar of a study's length.
const STATEMENTS: i64 = 4;

/// Whether a count's notes, said several times in a row, are written exactly
/// in a meter: none too fine, no tuplet torn by a beat.
pub fn writable(meter: &Meter, count: &Count) -> bool {
    let times = count
        .slots
        .iter()
        .flat_map(|slot| [slot.onset, slot.length]);
    let frame = [count.length, count.pickup, meter.bar()];
    let Ok(per_quarter) = divisions(times.chain(frame).chain(meter.beats())) else {
        return false;
    };
    if count.pickup >= meter.bar() || count.length <= Fraction::ZERO {
        return false;
    }
    let ticks = |time: Fraction| -> Ticks { (time * i64::from(per_quarter)).to_integer() };
    let statements = 0..STATEMENTS;
    let events: Vec<Event> = statements
        .flat_map(|statement| {
            let sounding = count.slots.iter().filter(|slot| !slot.silent);
            sounding.map(move |slot| (slot, count.length * statement))
        })
        .map(|(slot, from)| Event {
            onset: ticks(slot.onset + from),
            length: ticks(slot.length),
        })
        .collect();
    let bars = notate(meter, per_quarter, &events, 0, BeamStyle::ByBeat);
    let mut pieces = bars.iter().flat_map(|bar| &bar.pieces);
    pieces.all(|piece| {
        let length = Fraction::new(piece.length, i64::from(per_quarter));
        matches!(piece.kind, crate::PieceKind::BarRest) || piece.value.quarters() == length
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Slot;

    /// A count in a meter, moved and drawn out.
    fn check(meter: &str, count: &str, later: (i64, i64), by: (i64, i64), expected: bool) {
        let meter: Meter = meter.parse().unwrap();
        let mut count = Count::read(count, &meter, None).unwrap();
        let (later, by) = (Fraction::new(later.0, later.1), Fraction::new(by.0, by.1));
        for slot in &mut count.slots {
            slot.onset = (slot.onset + later) * by;
            slot.length *= by;
        }
        count.length *= by;
        count.pickup *= by;
        assert_eq!(writable(&meter, &count), expected, "{meter} {later} {by}");
    }

    #[test]
    fn exact_or_not() {
        check("4/4", "1 & 2 & 3 & 4 &", (0, 1), (1, 1), true);
        check("4/4", "1 & 2 & 3 & 4 &", (3, 2), (1, 1), true);
        check("4/4", "1 e & a 2", (0, 1), (1, 2), true);
        check("4/4", "1 e & a 2", (0, 1), (1, 4), true);
        check("4/4", "1 e & a 2", (0, 1), (1, 8), false); // 128ths
        check("4/4", "1 trip let 2", (0, 1), (1, 1), true);
        check("4/4", "1 trip let 2", (1, 1), (1, 1), true);
        check("7/8", "1 2 3 4 5 6 7", (5, 2), (1, 1), true);
        check("6/8", "1 2 3 4 5 6", (0, 1), (1, 2), true);
        check("4/4", "1 2", (0, 1), (0, 1), false); // no time at all
        check("4/4", "4 | 1 2 3", (0, 1), (3, 1), true);
        check("4/4", "4 | 1 2 3", (0, 1), (4, 1), false); // a pickup of a bar
    }

    #[test]
    fn one_statement_follows_another() {
        // Thirteenths of one beat and thirds of the next: in thirty-seconds
        // and eighths, which no beat can have both of; a sixteenth late the
        // thirteenths would be finer than sixty-fourths (arithmetic).
        let check = |span: Fraction, expected: bool| {
            let meter = Meter::common();
            let mut count = Count::read("1", &meter, None).unwrap();
            let thirteenths = (0..13).map(|part| (Fraction::new(part, 13), Fraction::new(1, 13)));
            let thirds = (3..6).map(|part| (Fraction::new(part, 3), Fraction::new(1, 3)));
            let slot = |(onset, length)| Slot {
                onset,
                length,
                silent: false,
            };
            count.slots = thirteenths.chain(thirds).map(slot).collect();
            count.length = span;
            assert_eq!(writable(&meter, &count), expected, "{span}");
        };
        check(Fraction::from(2), true);
        check(Fraction::from(4), true);
        check(Fraction::new(9, 4), false);
    }
}
