//! What moves sound: rungs against the statement's root, and ornaments.

use crate::{Move, Moves};

/// A tone of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CellTone {
    /// So many rungs above the statement's root.
    Rung(i32),
    /// A half step above the next rung sounded.
    Above,
    /// A half step below the next rung sounded.
    Below,
}

/// What each sounding move sounds, on a scale of so many rungs to the octave.
pub fn tones(moves: &[Move], size: i32) -> Vec<CellTone> {
    let mut tones = Vec::with_capacity(moves.len() + 1);
    let mut rung = 0;
    for said in moves {
        rung = match *said {
            Move::Start { rungs } => rungs,
            Move::Rungs(steps) => rung + steps,
            Move::Octaves(octaves) => rung + octaves * size,
            Move::Repeat => rung,
            Move::Rest => continue,
            Move::FromBelow => {
                tones.push(CellTone::Below);
                continue;
            }
            Move::FromAbove => {
                tones.push(CellTone::Above);
                continue;
            }
            Move::Enclose => {
                tones.extend([CellTone::Above, CellTone::Below]);
                continue;
            }
        };
        tones.push(CellTone::Rung(rung));
    }
    tones
}

/// The moves that sound so; rests are left to the count.
pub(crate) fn moves(tones: &[CellTone]) -> Moves {
    let mut last = None;
    let said = tones.iter().map(|tone| match (*tone, last) {
        (CellTone::Above, _) => Move::FromAbove,
        (CellTone::Below, _) => Move::FromBelow,
        (CellTone::Rung(rungs), before) => {
            last = Some(rungs);
            match before {
                None => Move::Start { rungs },
                Some(before) if before == rungs => Move::Repeat,
                Some(before) => Move::Rungs(rungs - before),
            }
        }
    });
    said.collect()
}

/// Every move upside down from the first rung on; an ornament from below
/// becomes one from above, an enclosure goes below, then above. The moves into
/// `unflipped` notes (each a rung with the ornaments that lead to it, from 0)
/// keep their direction, and their ornaments their side.
pub fn flipped(tones: &[CellTone], unflipped: &[usize]) -> Vec<CellTone> {
    let mut note = 0;
    let mut last: Option<(i32, i32)> = None;
    let turned = tones.iter().map(|tone| {
        let keeps = unflipped.contains(&note);
        match *tone {
            CellTone::Above if !keeps => CellTone::Below,
            CellTone::Below if !keeps => CellTone::Above,
            CellTone::Rung(rung) => {
                note += 1;
                let over = match last {
                    None => rung,
                    Some((before, over)) if keeps => over + (rung - before),
                    Some((before, over)) => over - (rung - before),
                };
                last = Some((rung, over));
                CellTone::Rung(over)
            }
            ornament => ornament,
        }
    });
    turned.collect()
}

/// The same tones last to first. An ornament goes with the rung it leads to
/// and still comes before it; ornaments that lead out of the cell stay at its
/// end.
pub fn reversed(tones: &[CellTone]) -> Vec<CellTone> {
    let order: Vec<usize> = (0..notes(tones).len()).rev().collect();
    reordered(tones, &order)
}

/// The notes of a cell: each rung with the ornaments that lead to it, as
/// places of the first and past the last tone.
pub(crate) fn notes(tones: &[CellTone]) -> Vec<std::ops::Range<usize>> {
    let mut from = 0;
    let mut notes = Vec::new();
    for (place, tone) in tones.iter().enumerate() {
        if matches!(tone, CellTone::Rung(_)) {
            notes.push(from..place + 1);
            from = place + 1;
        }
    }
    notes
}

/// The notes of a cell in another order; what leads out of the cell stays at
/// its end.
pub(crate) fn reordered(tones: &[CellTone], order: &[usize]) -> Vec<CellTone> {
    let notes = notes(tones);
    let end = notes.last().map_or(0, |note| note.end);
    let inside = order.iter().filter_map(|place| notes.get(*place));
    let mut turned: Vec<CellTone> = inside
        .flat_map(|note| tones[note.clone()].iter().copied())
        .collect();
    turned.extend_from_slice(&tones[end..]);
    turned
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Tones as `0 1 <3 3 >`: rungs, and ornaments below or above the next.
    fn read(text: &str) -> Vec<CellTone> {
        let tone = |word: &str| match word {
            "<" => CellTone::Below,
            ">" => CellTone::Above,
            rung => CellTone::Rung(rung.parse().unwrap()),
        };
        text.split_whitespace().map(tone).collect()
    }

    #[test]
    fn moves_into_unflipped_notes_keep_their_direction() {
        let check = |plain: &str, unflipped: &[usize], expected: &str| {
            let found = flipped(&read(plain), unflipped);
            assert_eq!(found, read(expected), "{plain} but {unflipped:?}");
        };
        // E G B A, rest, A G on E minor pentatonic: E D A B, B A.
        check("0 1 3 2 2 1", &[], "0 -1 -3 -2 -2 -1");
        check("0 1 3 2 2 1", &[5], "0 -1 -3 -2 -2 -3");
        check("0 1 3 2 2 1", &[4, 5], "0 -1 -3 -2 -2 -3"); // a repeat goes nowhere
        check("0 1 3 2 2 1", &[1, 2], "0 1 3 4 4 5");
        check("0 1 3", &[0], "0 -1 -3"); // nothing moves into the first
        check("2 4 3", &[2], "2 0 -1");
        // An ornament keeps its side with its note.
        check("< 0 > 2 < 3 >", &[], "> 0 < -2 > -3 <");
        check("< 0 > 2 < 3 >", &[2], "> 0 < -2 < -1 <");
        check("0 > < 2", &[1], "0 > < 2");
    }

    proptest! {
        #[test]
        fn twice_flipped_is_as_it_was(
            tones in proptest::collection::vec((0u8..6, -9i32..9), 0..12),
            unflipped in proptest::collection::vec(0usize..12, 0..4),
        ) {
            let tone = |(kind, rung): &(u8, i32)| match kind {
                0 => CellTone::Above,
                1 => CellTone::Below,
                _ => CellTone::Rung(*rung),
            };
            let plain: Vec<CellTone> = tones.iter().map(tone).collect();
            let twice = flipped(&flipped(&plain, &unflipped), &unflipped);
            prop_assert_eq!(twice, plain);
        }
    }
}
