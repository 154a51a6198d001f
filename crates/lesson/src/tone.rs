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

/// Every tone upside down around the first rung; an ornament from below
/// becomes one from above, an enclosure goes below, then above.
pub fn flipped(tones: &[CellTone]) -> Vec<CellTone> {
    let axis = tones.iter().find_map(|tone| match tone {
        CellTone::Rung(rung) => Some(*rung),
        CellTone::Above | CellTone::Below => None,
    });
    let axis = axis.unwrap_or(0);
    let turned = tones.iter().map(|tone| match tone {
        CellTone::Rung(rung) => CellTone::Rung(2 * axis - rung),
        CellTone::Above => CellTone::Below,
        CellTone::Below => CellTone::Above,
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
