//! Signatures, chord symbols, labels, and bars that are always full.

use proptest::prelude::*;
use rhythm::{Fraction, Meter};
use score::{Element, sounding_notes};

use crate::support::{lesson, line_of, sheet};

/// The first chord symbol of a sheet in C whose scale is heard over a chord.
fn first_symbol(chord: &str, horn: &str) -> String {
    let text = format!(
        "instruments = [\"{horn}\"]\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"mixolydian\"\nchord = \"{chord}\"\n[figure]\nmoves = \"start\"\n"
    );
    let sheet = sheet(&text, 0).unwrap();
    let mut elements = sheet.score.part.measures[0].elements.iter();
    let chord = elements.find_map(|element| element.written().chord);
    let symbol = chord.and_then(|at| sheet.score.chords.symbol(at));
    symbol.unwrap().to_string()
}

/// The bass of a chord over another is named after the slash, by a name that
/// the horn reads (common practice).
#[test]
fn a_chord_over_another_bass() {
    assert_eq!(first_symbol("/b7", "flute"), "C/Bb");
    assert_eq!(first_symbol("/3", "flute"), "C/E");
    assert_eq!(first_symbol("/3", "alto saxophone"), "A/C#");
    assert_eq!(first_symbol("7", "flute"), "C7");
}

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
    assert_eq!(first_key("dorian", "D", "tonic"), (-1, Some(Minor)));
    assert_eq!(
        first_key("natural minor", "D", "fitting"),
        (-1, Some(Minor))
    );
    assert_eq!(
        first_key("harmonic minor", "D", "fitting"),
        (-1, Some(Minor))
    );
    // B flat is in it; F sharp is one sign a bar.
    assert_eq!(first_key("lydian dominant", "C", "fitting"), (-1, None));
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
            .map(|chord| chord.symbol.to_string())
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
    sheet
        .score
        .chords
        .iter()
        .map(|chord| chord.symbol.to_string())
        .collect()
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
        ["1 1 start E♭", "& below F", "♭3 2 +2 G♭", "♭3 4 = G♭"]
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

/// The labels under the notes of a lesson's first sheet, row by row.
#[test]
fn ornaments_are_never_double_nor_white_keys_with_signs() {
    // Half steps below and above each rung of scales with many signs: in all
    // twelve keys nothing is double, and E♯ B♯ C♭ F♭ stand only where the
    // signature has them or the scale itself does.
    let scales = [
        "major",
        "dorian",
        "lydian dominant",
        "mixolydian",
        "altered",
        "blues",
        "whole-tone",
        "diminished whole-half",
        "bebop dominant",
        "phrygian dominant",
    ];
    for scale in scales {
        let text = format!(
            "[scale]\nname = \"{scale}\"\n[figure]\nmoves = \"start, from below, step up, from above, step up\"\ncount = \"1 & 2 & 3\"\n[[exercise]]\nkind = \"sequence\"\n"
        );
        let lesson = lesson(&text);
        let composer = etude::Composer::new(&lesson).unwrap();
        for plan in composer.plans() {
            let sheet = composer.compose(plan).unwrap();
            let key = sheet.score.part.measures[0].key.unwrap();
            for note in sounding_notes(&sheet.score) {
                let name = note.written.name();
                if !note.origin.ornament {
                    continue;
                }
                assert!(
                    name.alteration().abs() < 2,
                    "{scale} on {}: {name}",
                    plan.written
                );
                let white = name.alteration() != 0 && name.twin().alteration() == 0;
                assert!(
                    !white || key.signature.has(name),
                    "{scale} on {}: {name}",
                    plan.written
                );
            }
        }
    }
}

#[test]
fn chord_symbols_off() {
    let symbols = |text: &str| {
        let score = sheet(text, 0).unwrap().score;
        let elements = score
            .part
            .measures
            .iter()
            .flat_map(|measure| &measure.elements);
        elements
            .filter(|element| element.written().chord.is_some())
            .count()
    };
    let plain = "[keys]\nonly = [\"C\"]\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up\"\n[[exercise]]\nkind = \"scale\"\n[[exercise]]\nkind = \"figure\"\n";
    assert_eq!(symbols(plain), 2);
    assert_eq!(symbols(&format!("chord_symbols = false\n{plain}")), 0);
    assert_eq!(symbols(&format!("{plain}chord_symbols = false\n")), 1);
    let over = "[keys]\nonly = [\"C\"]\n[changes]\nkey = \"C\"\nbars = \"| C6 | Dm7 |\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"changes\"\n";
    assert_eq!(symbols(over), 2);
    assert_eq!(symbols(&format!("{over}chord_symbols = false\n")), 0);
    // Through the keys words say them then.
    let keys = "[keys]\nonly = [\"C\", \"F\"]\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"keys\"\nchord_symbols = false\n";
    let score = sheet(keys, 0).unwrap().score;
    let said: Vec<String> = score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.directions)
        .filter_map(|direction| match direction {
            score::Direction::Words(words) => Some(words.to_string()),
            _ => None,
        })
        .collect();
    assert_eq!(said, ["on C", "on F"]);
}

/// Rule 8: four eighths under one beam are for those who read them at a glance
/// (common practice).
#[test]
fn beginners_read_eighths_by_the_beat() {
    use rhythm::Beam::{Begin, Continue, End};
    let beams = |level: &str| {
        let text = format!(
            "level = \"{level}\"\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 4 5 4 3 2\"\n[[exercise]]\nkind = \"figure\"\n"
        );
        let score = sheet(&text, 0).unwrap().score;
        let elements = score.part.measures[0].elements.clone();
        elements
            .into_iter()
            .filter_map(|element| match element {
                Element::Note(note) => note.beams[0],
                Element::Rest(_) | Element::Slash(_) => None,
            })
            .collect::<Vec<_>>()
    };
    let half_bars = [Begin, Continue, Continue, End].repeat(2);
    assert_eq!(beams("beginner"), [Begin, End].repeat(4));
    assert_eq!(beams("intermediate"), half_bars);
    assert_eq!(beams("advanced"), half_bars);
}

/// One slash for each beat that is counted: in five quarters five, in unequal
/// eighths one for each group (common practice).
#[test]
fn slashes_stand_on_the_counted_beats() {
    let slashes = |meter: &str| {
        let text = format!(
            "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmeter = \"{meter}\"\nmoves = \"start\"\ncount = \"1\"\n[[exercise]]\nkind = \"trade\"\ndirection = \"up\"\nwritten = 1\nslashes = 1\n"
        );
        let line = line_of(&sheet(&text, 0).unwrap());
        line.split(" | ").nth(1).unwrap().to_owned()
    };
    assert_eq!(slashes("4/4"), "//2 //2 //2 //2");
    assert_eq!(slashes("5/4"), "//2 //2 //2 //2 //2");
    assert_eq!(slashes("5/4 = 3+2"), "//2 //2 //2 //2 //2");
    assert_eq!(slashes("6/8"), "//3 //3");
    assert_eq!(slashes("7/8"), "//2 //2 //3");
    assert_eq!(slashes("5/8"), "//2 //3");
}

/// An ornament wants its half step on the horn as much as any note.
#[test]
fn ornaments_lie_on_the_horn() {
    let fits = |moves: &str, low: &str, high: &str| {
        let text = format!(
            "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"{moves}\"\n[[exercise]]\nkind = \"figure\"\n[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
        );
        sheet(&text, 0).is_ok()
    };
    // C4, E flat 4, D4; C4, B3, C4.
    assert!(!fits("start, from above, step up", "C4", "D4"));
    assert!(fits("start, from above, step up", "C4", "Eb4"));
    assert!(!fits("start, from below, repeat", "C4", "D4"));
    assert!(fits("start, from below, repeat", "B3", "D4"));
}

#[test]
fn the_beat_of_three_eight_is_its_bar() {
    let mark = |meter: &str| {
        let text = format!(
            "tempo = 60\n[scale]\nname = \"major\"\n[figure]\nmeter = \"{meter}\"\nmoves = \"start\"\n[[exercise]]\nkind = \"figure\"\n"
        );
        let score = sheet(&text, 0).unwrap().score;
        let directions = &score.part.measures[0].directions;
        directions.iter().find_map(|direction| match direction {
            score::Direction::Tempo(mark) => Some((mark.beat.kind, mark.beat.dots)),
            _ => None,
        })
    };
    use rhythm::ValueKind::{Eighth, Quarter};
    assert_eq!(mark("3/8"), Some((Quarter, 1)));
    assert_eq!(mark("6/8"), Some((Quarter, 1)));
    assert_eq!(mark("3/4"), Some((Quarter, 0)));
    assert_eq!(mark("7/8"), Some((Eighth, 0)));
}

#[test]
fn scales_whose_steps_repeat_have_no_signature() {
    // Messiaen's third mode repeats every four half steps.
    for scale in [
        "messiaen 3",
        "whole-tone",
        "diminished whole-half",
        "augmented",
    ] {
        assert_eq!(first_key(scale, "D", "fitting"), (0, None), "{scale}");
    }
}
