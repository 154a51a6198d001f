//! Values, ties, rests and tuplets.

use rhythm::{BeamStyle, Event, Meter, ValueKind, notate};

use crate::written::{bars_at, bars_of, value};

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
    check_on_grid(meter, 4, notes, expected);
}

/// The same for notes on a grid of so many ticks to a quarter.
fn check_on_grid(meter: &str, per_quarter: u32, notes: &str, expected: &str) {
    let bars = bars_at(meter, per_quarter, notes);
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
    // Rests and ties show the beat and its halves (common practice).
    check("4/4", "1 (e &) a 2", "16 r16 r16 16 2.");
    check_at("4/4", "0+1 1+4 5+3 8+8", "16 8.~ 16 8. 2");
    check_at("4/4", "0+2 2+3 5+3 8+8", "8 8~ 16 8. 2");
    check_at("4/4", "0+1 1+6 7+1 8+8", "16 8.~ 8. 16 2");
    check_at("6/8", "0+1 1+4 5+1 6+6", "16 16~ 8. 16 4.");
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
    // A beat of silence is one dotted rest whatever the beat is written in
    // (common practice).
    check("6/4", "1 (4 5 6)", "2. r2.");
    check("9/4", "1 (4 5 6) 7", "2. r2. 2.");
    check("12/4", "1 (4 5 6 7 8 9) 10", "2. r2. r2. 2.");
    check("6/4", "1 (2 3) 4", "4 r4 r4 2.");
    check("6/8", "(1 2) 3 4", "r4 8 4.");
    check("9/8", "1", "2.~ 4.");
    check("9/8", "1 7", "2. 4.");
    check("12/8", "1", "1.");
    check("12/8", "1 4 10", "4. 4.~ 4. 4.");
    check("12/8", "1 7", "2. 2.");
    check("12/8", "1 4 7", "4. 4. 2.");
    check("12/8", "1 (7 8 9 10 11 12)", "2. r2.");
    check("12/8", "1 (2 3) 4 7 10", "8 r8 r8 4. 4. 4.");
    check("12/8", "1 (4 5 6 7 8 9) 10", "4. r4. r4. 4.");
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
    // A group of four rests in twos; quarters aren't rested by dots (common
    // practice).
    check("7/8 = 3+4", "1 4 (6 7)", "4. 4 r4");
    check("5/4", "1 (3 4 5)", "2 r2 r4");
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
    check_even("4/4", 6, 12, ["16/6:4"; 12].join(" ").as_str());
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
fn tuplets_over_two_beats() {
    // Three in the time of two, in the halves of four four, in a group of an
    // odd meter, or where only whole beats are hidden (common practice).
    let three = "4/3:2 4/3:2 4/3:2";
    check_on_grid("4/4", 3, "0+2 2+2 4+2 6+6", &format!("{three} 2"));
    check_on_grid("4/4", 3, "0+6 6+2 8+2 10+2", &format!("2 {three}"));
    check_on_grid("3/4", 3, "0+2 2+2 4+2 6+3", &format!("{three} 4"));
    check_on_grid("3/4", 3, "0+3 3+2 5+2 7+2", &format!("4 {three}"));
    check_on_grid("2/4", 3, "0+2 2+2 4+2", three);
    check_on_grid("5/4", 3, "0+2 2+2 4+2 6+9", &format!("{three} 2."));
    check_on_grid("5/4", 3, "0+6 6+2 8+2 10+2 12+3", &format!("2 {three} 4"));
    check_on_grid("5/4", 3, "0+6 6+3 9+2 11+2 13+2", &format!("2 4 {three}"));
    check_on_grid("4/4", 3, "0+4 4+4 8+4", "2/3:2 2/3:2 2/3:2");
    let eighths = "8/3:2 8/3:2 8/3:2";
    check_on_grid("6/8", 6, "0+2 2+2 4+2 6+3 9+9", &format!("{eighths} 8 4."));
    check_on_grid("6/8", 6, "0+3 3+2 5+2 7+2 9+9", &format!("8 {eighths} 4."));
    // Over the middle, or from group to group, each beat has its own.
    let tied = "4 4/3:2 8/3:2~ 8/3:2 4/3:2";
    check_on_grid("4/4", 3, "0+3 3+2 5+2 7+2 9+3", &format!("{tied} 4"));
    check_on_grid("5/4", 3, "0+3 3+2 5+2 7+2 9+6", &format!("{tied} 2"));
    // What divides one beat only is tied to the next.
    let fifths = "8/5:4 8/5:4 16/5:4~ 4 2";
    check_on_grid("4/4", 5, "0+2 2+2 4+6 10+10", fifths);
}

#[test]
fn what_a_tuplets_numbers_count() {
    let check = |meter: &str, per_quarter, notes: &str, expected: ValueKind| {
        let bars = bars_at(meter, per_quarter, notes);
        let tuplet = bars[0].pieces[0].value.tuplet;
        assert_eq!(tuplet.map(|tuplet| tuplet.unit), Some(expected), "{meter}");
    };
    // MusicXML 4.0 normal-type; as long together as the notes they replace
    // (arithmetic).
    check("4/4", 3, "0+1 1+1 2+1 3+9", ValueKind::Eighth);
    check("4/4", 3, "0+2 2+2 4+2 6+6", ValueKind::Quarter);
    check("4/4", 3, "0+4 4+4 8+4", ValueKind::Half);
    check(
        "4/4",
        6,
        "0+1 1+1 2+1 3+1 4+1 5+1 6+18",
        ValueKind::Sixteenth,
    );
    check("4/4", 5, "0+2 2+3 5+15", ValueKind::Sixteenth);
    check("6/8", 4, "0+3 3+3 6+6", ValueKind::Eighth);
    check("6/4", 2, "0+3 3+3 6+6", ValueKind::Quarter);
}

#[test]
fn values_inside_a_tuplet() {
    // As in a group of so many units (common practice).
    check_on_grid("4/4", 5, "0+2 2+3 5+15", "8/5:4 8./5:4 2.");
    check_on_grid("4/4", 5, "0+1 1+3 4+1 5+15", "16/5:4 8./5:4 16/5:4 2.");
    check_on_grid("4/4", 7, "0+2 2+5 7+21", "8/7:4 4/7:4~ 16/7:4 2.");
    let syncopated = "16/3:2 16/3:2~ 8./3:2 16/3:2 2.";
    check_on_grid("4/4", 6, "0+1 1+4 5+1 6+18", syncopated);
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
