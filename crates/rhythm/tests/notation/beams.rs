//! Beams, and brackets where there are none.

use rhythm::{Beam, BeamStyle, TupletEdge};

use crate::written::{bars_at, bars_of};

/// `b` begin, `c` continue, `e` end, `>` and `<` hooks, `-` none.
fn beam_sign(beam: Option<Beam>) -> char {
    match beam {
        Some(Beam::Begin) => 'b',
        Some(Beam::Continue) => 'c',
        Some(Beam::End) => 'e',
        Some(Beam::ForwardHook) => '>',
        Some(Beam::BackwardHook) => '<',
        None => '-',
    }
}

/// Beams of level `level`.
fn check_beams(meter: &str, count: &str, style: BeamStyle, level: usize, expected: &str) {
    let (_, _, bars) = bars_of(meter, count, style);
    let said = bars
        .iter()
        .flat_map(|bar| &bar.pieces)
        .map(|piece| beam_sign(piece.beams[level - 1]));
    assert_eq!(said.collect::<String>(), expected, "{meter}: {count}");
}

/// Sixteenths' own beams in a line of notes given in sixteenths, `onset+length`.
fn check_hooks(meter: &str, notes: &str, expected: &str) {
    let bars = bars_at(meter, 4, notes);
    let said = bars.iter().flat_map(|bar| &bar.pieces);
    let said = said.map(|piece| beam_sign(piece.beams[1]));
    assert_eq!(said.collect::<String>(), expected, "{meter}: {notes}");
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
    // Nor does a beam hide the quarters of seven.
    let sevenths = "1 & 2 & 3 & 4 & 5 & 6 & 7 &";
    check_beams("7/4", sevenths, ByHalfBar, 1, "bebebebebebebe");
    check_beams("4/4", "1 e & a 2", ByHalfBar, 2, "bcce-");
    // Thirty-seconds have three beams, sixty-fourths four.
    check_beams("4/8", "1 e & a 2 3 4", ByHalfBar, 3, "bcce---");
    check_beams("4/16", "1 e & a 2 3 4", ByHalfBar, 4, "bcce---");
    check_beams("4/4", "1 & a 2", ByHalfBar, 2, "-be-");
    check_beams("4/4", "1 a 2", ByHalfBar, 2, "-<-");
    check_beams("4/4", "1 e 2", ByHalfBar, 2, ">--");
    check_beams("4/4", "1 e a 2", ByHalfBar, 2, ">-<-");
    check_beams("4/4", "1 trip let 2", ByHalfBar, 1, "bce-");
    check_beams("4/4", "1 let 2", ByHalfBar, 1, "---");
    check_beams("4/4", "4 & | 1 2 3", ByHalfBar, 1, "be----");
    // A pickup's half bar is one beam as any other (common practice).
    check_beams("4/4", "3 & 4 & | 1", ByHalfBar, 1, "bcce--");
    // Eighths that are beats go in pairs (common practice).
    check_beams("4/8", "1 2 3 4", ByBeat, 1, "bebe");
}

#[test]
fn hooks_inside_a_beam() {
    use BeamStyle::ByBeat;
    // Toward the beat, or the part of it, that the note belongs to; never out
    // of the beam (common practice).
    check_beams("6/8", "1 2 & 3 4", ByBeat, 2, "-be--");
    check_beams("6/8", "1 & 2 3 4", ByBeat, 2, "be---");
    check_hooks("6/8", "0+3 3+1 4+2 6+6", "-<--"); // 8. 16 8
    check_hooks("6/8", "0+2 2+1 3+3 6+6", "->--"); // 8 16 8.
    check_hooks("6/8", "0+2 2+2 4+1 6+6", "--<--"); // 8 8 16 and a rest
    check_hooks("6/8", "1+1 2+2 4+2 6+6", "->---"); // a rest and 16 8 8
    // Groups of five sixteenths, wherever they begin.
    check_hooks("8/16 = 5+3", "0+2 2+1 3+2 5+1 6+1 7+1", "->-bce");
    check_hooks("8/16 = 3+5", "0+1 1+1 2+1 3+2 5+1 6+2", "bce->-");
    check_hooks("9/8", "0+6 6+3 9+1 10+2 12+6", "--<--");
    check_hooks("9/8", "0+6 6+2 8+1 9+3 12+6", "-->--");
    check_hooks("6/8", "-6+3 -3+1 -2+2 0+12", "-<--"); // a pickup
    check_hooks("6/8", "-4+1 -3+3 0+12", ">--");
    check_beams("6/8", "1 e a 2 3 4", ByBeat, 3, ">-<---"); // 32 16 32 8 8
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
