//! Lines over changes: what stands on the sheet.

use std::fmt::Write;

use etude::Composer;
use proptest::prelude::*;
use rhythm::{Fraction, Meter};
use score::{Element, Score, sounding_notes};

use crate::support::{check, lesson};

pub(crate) fn over(changes: &str, figure: &str, exercise: &str) -> String {
    format!(
        "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\n{changes}\n[figure]\n{figure}\n[[exercise]]\n{exercise}\n"
    )
}

#[test]
fn a_meter_that_changes() {
    // Trimmed in a shorter bar, held in a longer one.
    check(
        &over(
            "bars = \"| C6 | in 3/4 Dm7 | in 5/4 G7 | in 4/4 C6 |\"",
            "moves = \"start, repeat, repeat, repeat\"\ncount = \"1 2 3 4\"",
            "kind = \"changes\"",
        ),
        "E4/2 E4/2 E4/2 E4/2 | F4/2 F4/2 F4/2 | G4/2 G4/2 G4/2 G4/4 | A4/2 A4/2 A4/2 A4/2",
    );
}

#[test]
fn a_chord_within_a_slash_parts_it() {
    check(
        &over(
            "bars = \"| C6 | Dm7 (3&) G7 |\"",
            "moves = \"start\"\ncount = \"1\"",
            "kind = \"changes\"\nchoruses = [\"line\", \"slashes\"]",
        ),
        "E4/8 | F4/4~ F4 G4/3 | //2 //2 //2 //2 | //2 //2 x x //2",
    );
}

#[test]
fn what_comes_early_takes_its_beat_from_the_slashes() {
    check(
        &over(
            "bars = \"| C6 |\"",
            "moves = \"start\"\ncount = \"1\"",
            "kind = \"changes\"\nchoruses = [\"line\", \"slashes\", \"line\"]\nanticipate = true",
        ),
        "A4/8 | //2 //2 //2 r G4~ | G4/8",
    );
}

#[test]
fn a_sheet_is_the_same_whoever_came_before_it() {
    // The recorder is left out for the C sharp of C♯7, the root of a major
    // scale as well: what names it must not name the chord's notes.
    let text = "title = \"Whoever\"\nlevel = \"beginner\"\ninstruments = [\"tenor recorder\", \"xylophone\"]\n\
        [keys]\nonly = [\"G\"]\n[changes]\nkey = \"C\"\nbars = \"| F#7 | Dm7b5 |\"\n[figure]\n\
        moves = \"start, skip down, up 3 steps, down 3 steps, down 3 steps, skip down, down 3 steps\"\n\
        count = \"1 & 2 & (3) & 4 &\"\n[[exercise]]\nkind = \"changes\"\n";
    let lesson = lesson(text);
    let sheet = |first: Option<usize>| {
        let composer = Composer::new(&lesson).unwrap();
        let plans = composer.plans();
        if let Some(first) = first {
            assert!(
                composer.compose(&plans[first]).is_err(),
                "the recorder is left out"
            );
        }
        composer.compose(&plans[1]).unwrap().score
    };
    assert_eq!(sheet(None), sheet(Some(0)));
}

/// Meters, and counts of a figure in them.
const METERS: [(&str, &str); 9] = [
    ("4/4", "1 & 2 & (3) & 4"),
    ("4/4", "4 & | 1 & 2 (3)"),
    ("3/4", "1 & 2 3"),
    ("6/8", "1 2 3 4 6"),
    ("5/4", "1 2 & 3 & 5"),
    ("7/8", "1 2 3 4 5 6 7"),
    ("2/2", "1 & 2 &"),
    ("12/8", "1 la li 2 la li 3 4"),
    ("4/4", "1 trip let 2 & (3) 4"),
];
const PLANS: [&str; 3] = [
    "every bar",
    "1 bar play, 1 bar rest",
    "3 bars play, 1 bar rest",
];
const CHORUSES: [&str; 6] = ["line", "elsewhere", "flipped", "later", "denser", "slashes"];
const KINDS: [&str; 3] = ["changes", "guide tones", "targets"];
const ROOTS: [&str; 13] = [
    "C", "Db", "D", "Eb", "E", "F", "F#", "Gb", "G", "Ab", "A", "Bb", "B",
];

/// A bar: another meter if it changes here, and chords by the numbers of its
/// count, the first on 1.
#[derive(Debug, Clone)]
struct Bar {
    meter: Option<usize>,
    chords: Vec<(u16, usize, usize)>,
}

fn bar() -> impl Strategy<Value = Bar> {
    let chord = (1u16..16, 0..ROOTS.len(), 0..200usize);
    let meter = prop::option::weighted(0.2, 0..METERS.len());
    (meter, prop::collection::vec(chord, 1..4)).prop_map(|(meter, chords)| Bar { meter, chords })
}

fn named((_, root, kind): (u16, usize, usize)) -> String {
    let chords = theory::Chord::catalogue();
    let kind = &chords[kind % chords.len()];
    if kind.is_none() {
        "N.C.".to_owned()
    } else {
        format!("{}{}", ROOTS[root], kind.suffix())
    }
}

/// What a lesson of random bars says, and where its chords should stand, in
/// quarters from the first bar line.
fn changes(bars: &[Bar], begun: usize) -> (String, Vec<(Fraction, String)>, Fraction) {
    let mut meter: Meter = METERS[begun].0.parse().unwrap();
    let (mut said, mut placed, mut at) = (String::new(), Vec::new(), Fraction::ZERO);
    for bar in bars {
        said.push_str("| ");
        if let Some(change) = bar.meter {
            meter = METERS[change].0.parse().unwrap();
            write!(said, "in {meter} ").unwrap();
        }
        let mut numbers: Vec<u16> = bar
            .chords
            .iter()
            .map(|chord| chord.0 % meter.upper())
            .collect();
        numbers[0] = 0;
        numbers.sort_unstable();
        numbers.dedup();
        for (number, chord) in numbers.iter().zip(&bar.chords) {
            let symbol = named(*chord);
            if *number > 0 {
                write!(said, "({}) ", number + 1).unwrap();
            }
            write!(said, "{symbol} ").unwrap();
            placed.push((at + meter.unit() * i64::from(*number), symbol));
        }
        at += meter.bar();
    }
    // The same chord again is one.
    placed.dedup_by(|next, one| next.1 == one.1);
    (format!("{said}|"), placed, at)
}

/// Where chord symbols stand on a sheet, from its first bar line.
fn symbols(score: &Score) -> Vec<Fraction> {
    let mut at = 0;
    let mut found = Vec::new();
    for measure in &score.part.measures {
        let length = |element: &Element| i64::from(element.written().length);
        if measure.implicit {
            at -= measure.elements.iter().map(length).sum::<i64>();
        }
        for element in &measure.elements {
            if element.written().chord.is_some() {
                found.push(Fraction::new(at, i64::from(score.divisions)));
            }
            at += length(element);
        }
    }
    found
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 300,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]
    /// Random changes: bars are full, chords stand in their places, and
    /// nothing leaves the horn.
    #[test]
    fn any_changes(
        bars in prop::collection::vec(bar(), 1..7),
        begun in 0..METERS.len(),
        steps in prop::collection::vec(-3..4i32, 12),
        ornaments in prop::collection::vec(prop::bool::weighted(0.2), 12),
        pickup in prop::option::weighted(0.3, (1u16..16, 0..ROOTS.len(), 0..200usize)),
        instrument in 0..theory::Instrument::catalogue().len(),
        level in 0..3usize,
        kind in 0..KINDS.len(),
        plan in 0..PLANS.len(),
        choruses in prop::collection::vec(0..CHORUSES.len(), 1..4),
        weights in (0..6, 0..6, 0..6, 0..6),
        rest in (any::<bool>(), 1..4, any::<u32>(), 0..12usize),
    ) {
        let (anticipate, in_a_row, seed, key) = rest;
        // The figure is in the first bar's meter.
        let mut bars = bars;
        bars[0].meter = None;
        let (meter, count) = METERS[begun];
        let parsed: Meter = meter.parse().unwrap();
        let sounding = rhythm::Count::read(count, &parsed, None).unwrap().sounding();
        let moves: Vec<String> = (0..sounding).map(|at| match steps[at] {
            _ if at == 0 => "start".to_owned(),
            // A rung before and after each ornament.
            _ if at % 2 == 1 && at + 1 < sounding && ornaments[at] => "from below".to_owned(),
            0 if at % 2 == 0 && ornaments[at - 1] => "step up".to_owned(),
            0 => "repeat".to_owned(),
            up @ 1.. => format!("up {up} steps"),
            down => format!("down {} steps", -down),
        }).collect();
        let mut names: Vec<&str> = choruses.iter().map(|at| CHORUSES[*at]).collect();
        if names[0] == "slashes" {
            names[0] = "line";
        }
        let (mut said, mut placed, length) = changes(&bars, begun);
        let pickup = pickup.filter(|_| parsed.upper() > 1);
        if let Some(chord) = pickup {
            let number = 1 + chord.0 % (parsed.upper() - 1);
            let (chord, at) = (named(chord), parsed.unit() * i64::from(number) - parsed.bar());
            said = format!("| pickup ({}) {chord} {said}", number + 1);
            placed.insert(0, (at, chord));
        }
        let instrument = &theory::Instrument::catalogue()[instrument];
        let text = format!(
            "instruments = [\"{}\"]\nlevel = \"{}\"\n\
             [changes]\nkey = \"C\"\nmeter = \"{meter}\"\nbars = \"{said}\"\n\
             [figure]\nmeter = \"{meter}\"\nmoves = \"{}\"\ncount = \"{count}\"\n\
             [[exercise]]\nkind = \"{}\"\nvariants = [\"as it is\", \"flipped\", \"reversed\"]\n\
             choruses = {names:?}\nplan = \"{}\"\nanticipate = {anticipate}\nin_a_row = {in_a_row}\nseed = {seed}\n\
             weights = {{ smooth = {}, variety = {}, range = {}, strong_beats = {} }}\n",
            instrument.id,
            theory::Level::ALL[level].word(),
            moves.join(", "),
            KINDS[kind],
            PLANS[plan],
            weights.0, weights.1, weights.2, weights.3,
        );
        let text = if kind > 0 { text.replace("variants = [\"as it is\", \"flipped\", \"reversed\"]\n", "") } else { text };
        prop_assume!(placed.iter().any(|(_, symbol)| symbol != "N.C."));
        let lesson = lesson(&text);
        let composer = Composer::new(&lesson).unwrap();
        let plan = &composer.plans()[key];
        let Ok(sheet) = composer.compose(plan) else { return Ok(()) };
        let score = &sheet.score;
        let range = lesson.players[0].range(lesson.players[0].level);
        let mut end = Fraction::ZERO;
        for note in sounding_notes(score) {
            prop_assert!(range.holds(note.written), "{} in {}", note.written, text);
            prop_assert!(note.length > Fraction::ZERO);
            prop_assert!(note.onset >= end, "{} overlaps in {}", note.written, text);
            end = note.onset + note.length;
        }
        let mut meter = None;
        for measure in &score.part.measures {
            meter = measure.meter.clone().or(meter);
            let full = meter.as_ref().unwrap().bar() * i64::from(score.divisions);
            let length: i64 = measure.elements.iter().map(|element| i64::from(element.written().length)).sum();
            prop_assert!(measure.implicit || Fraction::from(length) == full, "{length} of {full} in bar {}: {text}", measure.number);
        }
        let wanted: Vec<Fraction> = (0i64..).zip(&names).flat_map(|(chorus, _)| {
            // The pickup is played once; where it is the first chord already,
            // that isn't said again.
            let mut placed = placed.clone();
            if chorus > 0 && pickup.is_some() {
                placed.remove(0);
            } else if pickup.is_some() && placed[0].1 == placed[1].1 {
                placed.remove(1);
            }
            placed.into_iter().map(move |(at, _)| length * chorus + at)
        }).collect();
        prop_assert_eq!(symbols(score), wanted, "{}", text);
        prop_assert_eq!(composer.compose(plan).unwrap(), sheet);
    }
}

#[test]
fn one_two_three_five_from_every_root() {
    check(
        &over(
            "bars = \"| Dm7 | G7 | Cmaj7 |\"",
            "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"",
            "kind = \"changes\"\nbegins = \"1\"",
        ),
        "D4/2 E4/2 F4/2 A4/2 | G4/2 A4/2 B4/2 D5/2 | C5/2 D5/2 E5/2 G5/2",
    );
}

#[test]
fn statements_begin_on_the_degrees_that_are_said() {
    let text = over(
        "bars = \"| Dm7 | G7 | Cmaj7 | Dm7 | G7 | Cmaj7 |\"",
        "degrees = \"1 2\"\ncount = \"1 3\"",
        "kind = \"changes\"\nbegins = \"b3 5\"",
    );
    let report = crate::support::sheet(&text, 0).unwrap().report;
    let starts: Vec<String> = report.exercises[0]
        .statements
        .iter()
        .map(|statement| statement.start.to_string())
        .collect();
    // Mixolydian and major have no b3.
    assert!(
        starts.iter().all(|start| start == "5" || start == "b3"),
        "{starts:?}"
    );
    assert_eq!([&starts[1], &starts[2], &starts[4], &starts[5]], ["5"; 4]);
    let said: Vec<String> = report.exercises[0]
        .remarks
        .iter()
        .map(etude::CountedRemark::to_string)
        .collect();
    assert_eq!(
        said,
        [
            "Mixolydian has no b3 to begin on",
            "Major has no b3 to begin on"
        ]
    );
    // A scale that has none of them: the root.
    let text = text.replace("b3 5", "b2");
    let report = crate::support::sheet(&text, 0).unwrap().report;
    let starts = report.exercises[0].statements.iter();
    assert!(
        starts
            .clone()
            .all(|statement| statement.start.to_string() == "1")
    );
}
