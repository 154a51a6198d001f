//! The figure's forms: a cell of tones on the figure's count, as it is,
//! flipped, or reversed.

pub(crate) use lesson::CellTone;
use lesson::{ComingDown, Figure, tones};
use rhythm::{Slot, Ticks};

use crate::ticks::ticks;

/// A note of a cell, in ticks from its statement's bar line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct CellNote {
    pub onset: Ticks,
    pub length: Ticks,
    pub tone: CellTone,
}

/// One form of the figure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Cell {
    pub notes: Vec<CellNote>,
}

impl Cell {
    /// The figure as it is said.
    pub fn of(figure: &Figure, size: i32, per_quarter: u32) -> Cell {
        Cell::on_count(tones(&figure.moves, size), &figure.count.slots, per_quarter)
    }

    /// What is said coming down: the figure's own wording of its flip where
    /// it has one.
    pub fn coming_down(figure: &Figure, how: ComingDown, size: i32, per_quarter: u32) -> Cell {
        let plain = Cell::of(figure, size, per_quarter);
        match (how, &figure.flipped) {
            (ComingDown::AsItIs, _) => plain,
            (ComingDown::Reversed, _) => plain.reversed(),
            (ComingDown::Flipped, None) => plain.flipped(&figure.unflipped),
            (ComingDown::Flipped, Some(own)) => {
                Cell::on_count(tones(own, size), &figure.count.slots, per_quarter)
            }
        }
    }

    /// Every move turned upside down around the first note; an ornament from
    /// below becomes one from above, an enclosure goes below, then above. The
    /// moves into `unflipped` notes stay as they are.
    pub fn flipped(&self, unflipped: &[usize]) -> Cell {
        self.with_tones(&lesson::flipped(&self.tones(), unflipped))
    }

    /// The same notes last to first over the unchanged count. An ornament
    /// goes with the rung it leads to and still comes before it; ornaments
    /// that lead out of the cell stay at its end.
    pub fn reversed(&self) -> Cell {
        self.with_tones(&lesson::reversed(&self.tones()))
    }

    /// The first rung sounded.
    pub fn first_rung(&self) -> i32 {
        self.rungs().next().unwrap_or(0)
    }

    /// The rungs sounded, in order.
    pub fn rungs(&self) -> impl Iterator<Item = i32> + '_ {
        self.notes.iter().filter_map(|note| match note.tone {
            CellTone::Rung(rung) => Some(rung),
            CellTone::Above | CellTone::Below => None,
        })
    }

    fn tones(&self) -> Vec<CellTone> {
        self.notes.iter().map(|note| note.tone).collect()
    }

    fn with_tones(&self, tones: &[CellTone]) -> Cell {
        let notes = self.notes.iter().zip(tones);
        Cell {
            notes: notes
                .map(|(note, tone)| CellNote {
                    tone: *tone,
                    ..*note
                })
                .collect(),
        }
    }

    fn on_count(tones: Vec<CellTone>, slots: &[Slot], per_quarter: u32) -> Cell {
        let sounding = slots.iter().filter(|slot| !slot.silent);
        let notes = sounding.zip(tones).map(|(slot, tone)| CellNote {
            onset: ticks(slot.onset, per_quarter),
            length: ticks(slot.length, per_quarter),
            tone,
        });
        Cell {
            notes: notes.collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use crate::sample::{cell, said};

    /// The flip and the reverse of a cell, in rungs.
    fn check(tones: &str, flipped: &str, reversed: &str) {
        assert_eq!(said(&cell(tones).flipped(&[])), flipped, "flip of {tones}");
        assert_eq!(
            said(&cell(tones).reversed()),
            reversed,
            "reverse of {tones}"
        );
    }

    #[test]
    fn forms() {
        // 1 2 3 5 in C from C5 comes down C5 B4 A4 F4, and backwards G E D C
        // (worked examples of the reference table, common practice).
        check("0 1 2 4", "0 -1 -2 -4", "4 2 1 0");
        // A start on 5 is the axis of its flip.
        check("4 5 6 4", "4 3 2 4", "4 6 5 4");
        // Ornaments turn over, and stay before what they lead to.
        check("0 v 2 3", "0 ^ -2 -3", "3 v 2 0");
        check("^ v 0 4", "v ^ 0 -4", "4 ^ v 0");
        // One that leads out of the cell stays at its end.
        check("0 1 2 v", "0 -1 -2 ^", "2 1 0 v");
    }

    fn tones() -> impl Strategy<Value = String> {
        let tone = prop_oneof![3 => (-9..9i32).prop_map(|rung| rung.to_string()), 1 => Just("v".to_owned()), 1 => Just("^".to_owned())];
        prop::collection::vec(tone, 0..12)
            .prop_map(|tones| [vec!["0".to_owned()], tones].concat().join(" "))
    }

    proptest! {
        #[test]
        fn twice_is_as_before(tones in tones()) {
            prop_assert_eq!(said(&cell(&tones).flipped(&[]).flipped(&[])), tones.clone());
            prop_assert_eq!(said(&cell(&tones).reversed().reversed()), tones);
        }

        #[test]
        fn the_count_never_changes(tones in tones()) {
            let times = |cell: &crate::compose::figure::Cell| cell.notes.iter().map(|n| (n.onset, n.length)).collect::<Vec<_>>();
            let plain = cell(&tones);
            prop_assert_eq!(times(&plain.flipped(&[])), times(&plain));
            prop_assert_eq!(times(&plain.reversed()), times(&plain));
        }
    }
}
