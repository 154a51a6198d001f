//! Signatures, chord symbols, labels, and bars that are always full.

use proptest::prelude::*;
use rhythm::{Fraction, Meter};
use score::{Element, sounding_notes};

use crate::support::{lesson, sheet};

fn first_key(scale: &str, key: &str, style: &str) -> (i8, Option<theory::Mode>) {
    let text = format!(
        "signature = \"{style}\"\n[keys]\nonly = [\"{key}\"]\n[scale]\nname = \"{scale}\"\n[figure]\nmoves = \"start\"\n"
    );
    let sheet = sheet(&text, 0).unwrap();
    let key = sheet.score.part.measures[0].key.unwrap();
    (key.signature.fifths(), key.mode)
}

#[test]
fn signatures() {
    use theory::Mode::{Major, Minor};
    assert_eq!(first_key("major", "D", "fitting"), (2, Some(Major)));
    assert_eq!(first_key("dorian", "D", "fitting"), (0, None));
    assert_eq!(first_key("dorian", "D", "tonic"), (-1, None));
    assert_eq!(
        first_key("natural minor", "D", "fitting"),
        (-1, Some(Minor))
    );
    assert_eq!(
        first_key("harmonic minor", "D", "fitting"),
        (-1, Some(Minor))
    );
    assert_eq!(first_key("lydian dominant", "C", "fitting"), (0, None));
    assert_eq!(first_key("major pentatonic", "E", "fitting"), (4, None));
    assert_eq!(first_key("major", "D", "none"), (0, None));
}

#[test]
fn the_chord_stands_over_the_first_note() {
    let text = "instruments = [\"alto saxophone\"]\n[scale]\nname = \"lydian dominant\"\n[figure]\nmoves = \"rest, start, step up\"\ncount = \"(1) 2 3\"\n";
    let sheet = sheet(text, 0).unwrap();
    assert_eq!(
        sheet
            .score
            .chords
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>(),
        ["A7(#11)"]
    );
    let exercises = sheet
        .score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements);
    let over: Vec<bool> = exercises
        .filter(|element| element.written().chord.is_some())
        .map(|element| matches!(element, Element::Note(_)))
        .collect();
    assert_eq!(over, [true; 3]);
    let own = sheet_chords("[scale]\nname = \"major\"\nchord = \"6/9\"\n");
    assert_eq!(own, ["C6/9"]);
    assert!(sheet_chords("[scale]\nname = \"chromatic\"\n").is_empty());
}

fn sheet_chords(scale: &str) -> Vec<String> {
    let sheet = sheet(&format!("{scale}[figure]\nmoves = \"start\"\n"), 0).unwrap();
    sheet.score.chords.iter().map(ToString::to_string).collect()
}

#[test]
fn labels_stand_on_the_first_of_tied_notes() {
    let text = "labels = [\"degrees\", \"counts\", \"moves\", \"note names\"]\n[keys]\nonly = [\"Eb\"]\n[scale]\nname = \"natural minor\"\n[figure]\nmoves = \"start, from below, skip up, repeat\"\ncount = \"1 & 2 4\"\n[[exercise]]\nkind = \"figure\"\n";
    let sheet = sheet(text, 0).unwrap();
    let rows: Vec<String> = sheet.score.part.measures[0]
        .elements
        .iter()
        .filter_map(|element| match element {
            Element::Note(note) if !note.tied_from => Some(
                note.lyrics
                    .iter()
                    .flatten()
                    .map(|l| l.as_ref())
                    .collect::<Vec<_>>()
                    .join(" "),
            ),
            _ => None,
        })
        .collect();
    assert_eq!(
        rows,
        ["1 1 start E♭", "2 & below F", "♭3 2 +2 G♭", "♭3 4 = G♭"]
    );
}

const METERS: [(&str, &str); 12] = [
    ("4/4", "1 & 2 & (3) & 4 &"),
    ("4/4", "1 trip let 2 & | 3 4"),
    ("3/4", "1 e & a 2 3"),
    ("5/4", "1 2 & 3 & 5"),
    ("6/8", "1 2 3 4 6"),
    ("7/8", "1 2 3 4 5 6 7"),
    ("2/2", "1 & 2 &"),
    ("4/4", "4 & | 1 & 2 (3)"),
    ("12/8", "1 la li 2 la li 3 4"),
    ("4/4", "1-2 & 3-4 & | -1-2 let"),
    ("4/4", "3 & | 1-2 & -3 (4)"),
    ("7/8", "1-3 & 5-6 & | -1 3"),
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    #[test]
    fn bars_are_full_and_nothing_leaves_the_horn(
        meter in 0..METERS.len(),
        steps in prop::collection::vec(-3..4i32, 12),
        scale in 0..theory::Scale::catalogue().len(),
        instrument in 0..theory::Instrument::catalogue().len(),
        level in 0..3usize,
        options in 0..27usize,
    ) {
        let (meter_said, count) = METERS[meter];
        let parsed: Meter = meter_said.parse().unwrap();
        let sounding = rhythm::Count::read(count, &parsed, None).unwrap().sounding();
        let moves = steps[1..sounding].iter().map(|step| match step {
            0 => "repeat".to_owned(),
            up if *up > 0 => format!("up {up} steps"),
            down => format!("down {} steps", -down),
        });
        let moves = ["start".to_owned()].into_iter().chain(moves).collect::<Vec<_>>().join(", ");
        let scale = &theory::Scale::catalogue()[scale];
        let instrument = &theory::Instrument::catalogue()[instrument];
        let directions = ["up", "down", "up and down"];
        let spans = ["one octave", "two octaves", "whole horn"];
        let wide = ["turn early", "jump", "leave out"];
        let text = format!(
            "instruments = [\"{}\"]\nlevel = \"{}\"\n[scale]\nname = \"{}\"\n[figure]\nmeter = \"{meter_said}\"\nmoves = \"{moves}\"\ncount = \"{count}\"\n[[exercise]]\nkind = \"scale\"\n[[exercise]]\nkind = \"sequence\"\ndirection = \"{}\"\nspan = \"{}\"\nwhen_too_wide = \"{}\"\n",
            instrument.id,
            theory::Level::ALL[level].word(),
            scale.id.as_deref().unwrap(),
            directions[options % 3],
            spans[options / 3 % 3],
            wide[options / 9],
        );
        let lesson = lesson(&text);
        let composer = etude::Composer::new(&lesson).unwrap();
        for plan in composer.plans() {
            let Ok(sheet) = composer.compose(plan) else { continue };
            let score = &sheet.score;
            let range = lesson.players[0].range(lesson.players[0].level);
            for note in sounding_notes(score) {
                prop_assert!(range.holds(note.written), "{} in {}", note.written, text);
                prop_assert_eq!(note.sounding, note.written + plan.written_to_sounding);
                prop_assert!(note.length > Fraction::ZERO);
            }
            let mut meter = None;
            for measure in &score.part.measures {
                meter = measure.meter.clone().or(meter);
                let full = meter.as_ref().unwrap().bar() * i64::from(score.divisions);
                let length: i64 = measure.elements.iter().map(|element| i64::from(element.written().length)).sum();
                prop_assert!(measure.implicit || Fraction::from(length) == full);
                prop_assert!(!measure.implicit || Fraction::from(length) < full);
            }
            prop_assert_eq!(composer.compose(plan).unwrap(), sheet);
        }
    }
}
