//! Lines for the tests of this crate: cells on even eighths over small scales.

use std::sync::OnceLock;

use lesson::{Direction, FigureMarks};
use rhythm::{Fraction, Meter, Ticks};
use theory::{Degree, Ladder, Scale};

use crate::compose::course::StatementCourse;
use crate::compose::figure::{Cell, CellNote, CellTone};
use crate::compose::line::{FigureLine, ScaleLine};
use crate::heights::Heights;

/// The major scale, or any other by its degrees.
pub(crate) fn scale(degrees: &str) -> Scale {
    let degrees = degrees
        .split(' ')
        .map(|degree| degree.parse::<Degree>().unwrap())
        .collect();
    Scale {
        id: None,
        name: "sample".into(),
        degrees,
        descending: None,
        chord: None,
    }
}

/// Tones in even eighths from the bar line: `0 1 2`, with `v` and `^` for
/// ornaments from below and from above.
pub(crate) fn cell(tones: &str) -> Cell {
    let notes = tones.split(' ').enumerate().map(|(place, tone)| CellNote {
        onset: place as Ticks,
        length: 1,
        tone: match tone {
            "v" => CellTone::Below,
            "^" => CellTone::Above,
            rung => CellTone::Rung(rung.parse().unwrap()),
        },
    });
    Cell {
        notes: notes.collect(),
    }
}

/// What `cell` reads.
pub(crate) fn said(cell: &Cell) -> String {
    let tones = cell.notes.iter().map(|note| match note.tone {
        CellTone::Below => "v".to_owned(),
        CellTone::Above => "^".to_owned(),
        CellTone::Rung(rung) => rung.to_string(),
    });
    tones.collect::<Vec<_>>().join(" ")
}

/// A sequence of a cell over so many octaves, flipped coming down.
pub(crate) fn line(degrees: &str, tones: &str, course: StatementCourse) -> FigureLine {
    let rising = cell(tones);
    FigureLine {
        meter: Meter::common(),
        falling: rising.flipped(&[]),
        rising,
        turned: None,
        heights: Heights::of(&Ladder::new(&scale(degrees))),
        length: Fraction::from(4),
        ends_at: Fraction::from(4),
        pickup: Fraction::ZERO,
        closes_with_rest: false,
        counting: rhythm::Counting::default(),
        course,
        closes: true,
        when_too_wide: lesson::TooWide::TurnEarly,
        trade: None,
        marks: FigureMarks::default(),
        literal: None,
        whole: OnceLock::new(),
    }
}

/// The scale over so many octaves, or the whole horn.
pub(crate) fn scale_line(degrees: &str, octaves: Option<i32>, direction: Direction) -> ScaleLine {
    ScaleLine {
        when_too_wide: lesson::TooWide::TurnEarly,
        meter: Meter::common(),
        heights: Heights::of(&Ladder::new(&scale(degrees))),
        direction,
        octaves,
    }
}
