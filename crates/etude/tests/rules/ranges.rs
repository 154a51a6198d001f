//! Rule 6: every sheet is on the horn, turns, jumps, or is left out; and the
//! smallest lesson suits every instrument at every level.

use etude::{Composer, CountedRemark, Remark, Sheet};
use lesson::Lesson;
use theory::{Instrument, Level};

use crate::support::{lesson, line_of, missing, sheet};

const FIGURE: &str = "[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n[[exercise]]\nkind = \"sequence\"\n";

fn player(low: &str, high: &str, rest: &str) -> String {
    let player =
        format!("[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n");
    format!("{rest}{FIGURE}{player}")
}

/// What is said of a sheet's first exercise.
fn said(sheet: &Sheet) -> Vec<String> {
    let remarks = &sheet.report.exercises[0].remarks;
    remarks.iter().map(CountedRemark::to_string).collect()
}

#[test]
fn the_octave_nearest_the_middle() {
    // From F3 to G5 of reach; C3 to C7 has its middle at C5.
    let text = "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\ncount = \"1 3\"\n[[exercise]]\nkind = \"figure\"\n[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"C6\"\n";
    let line = line_of(&sheet(text, 0).unwrap());
    assert_eq!(line, "C5/4 D5/4");
}

#[test]
fn turning_early() {
    let text = player("C4", "D5", "[keys]\nonly = [\"C\"]\n");
    let sheet = sheet(&text, 0).unwrap();
    assert_eq!(
        line_of(&sheet),
        "C4/2 D4/2 E4/2 G4/2 | D4/2 E4/2 F4/2 A4/2 | E4/2 F4/2 G4/2 B4/2 | F4/2 G4/2 A4/2 C5/2 | \
         G4/2 A4/2 B4/2 D5/2 | G4/2 F4/2 E4/2 C4/2 | C4/8"
    );
    assert_eq!((sheet.report.turns, sheet.report.jumps), (1, 0));
    assert_eq!(said(&sheet), ["turns early: 5 of 8 statements up, 1 down"]);
}

#[test]
fn jumping_between_statements() {
    let text = player("C4", "F5", "[keys]\nonly = [\"C\"]\n").replace(
        "kind = \"sequence\"",
        "kind = \"sequence\"\ndirection = \"up\"\nwhen_too_wide = \"jump\"",
    );
    let sheet = sheet(&text, 0).unwrap();
    let line = line_of(&sheet);
    assert_eq!(sheet.report.jumps, 1, "{line}");
    let notes = sheet
        .score
        .part
        .measures
        .iter()
        .filter(|measure| !measure.elements.is_empty())
        .count();
    assert_eq!(notes, 9, "all eight statements and the root: {line}");
}

#[test]
fn left_out_with_the_note_and_the_range() {
    let text = player("C4", "D5", "[keys]\nonly = [\"C\", \"Ab\"]\n").replace(
        "kind = \"sequence\"",
        "kind = \"sequence\"\nwhen_too_wide = \"leave out\"",
    );
    let left_out = sheet(&text, 0).unwrap_err();
    assert_eq!(
        (
            missing(&left_out).1.low.to_string(),
            missing(&left_out).1.high.to_string()
        ),
        ("C4".to_owned(), "D5".to_owned())
    );
    let (note, range) = missing(&left_out);
    assert!(!range.holds(note));
    // A figure wider than the horn fits nowhere, whatever is said.
    let wide = player("C4", "D5", "[keys]\nonly = [\"C\"]\n").replace("1 2 3 5", "1 5 high 5 5");
    assert!(sheet(&wide, 0).is_err());
}

#[test]
fn together_they_turn_at_the_same_place() {
    let text = format!(
        "together = true\n[keys]\nonly = [\"C\", \"F\", \"D\"]\n{FIGURE}[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"D5\"\n[[player]]\ninstrument = \"violin\"\n[[player]]\ninstrument = \"alto saxophone\"\nlevel = \"beginner\"\n"
    );
    let lesson = lesson(&text);
    let composer = Composer::new(&lesson).unwrap();
    for number in 1..=3 {
        let sheets = composer.plans().iter().filter(|plan| plan.number == number);
        let bars: Vec<u32> = sheets
            .map(|plan| composer.compose(plan).unwrap().report.bars)
            .collect();
        assert_eq!(bars.len(), 3);
        assert!(
            bars.iter().all(|one| *one == bars[0]),
            "key {number}: {bars:?}"
        );
    }
}

#[test]
fn only_the_same_key_is_played_together() {
    let text = |others: &str| {
        format!(
            "together = true\n[keys]\nonly = [\"C\"]\n{FIGURE}[[player]]\nname = \"High\"\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"D6\"\nkeys = {{ only = [\"D\"] }}\n{others}"
        )
    };
    let other = |key: &str| {
        text(&format!(
            "[[player]]\nname = \"Low\"\ninstrument = \"violin\"\nlow = \"G3\"\nhigh = \"C5\"\nkeys = {{ only = [\"{key}\"] }}\n"
        ))
    };
    // Each is the second key of its player, after the lesson's one.
    let alone = sheet(&text(""), 0).unwrap();
    assert_eq!(line_of(&sheet(&other("A"), 0).unwrap()), line_of(&alone));
    assert_ne!(line_of(&sheet(&other("D"), 0).unwrap()), line_of(&alone));
}

#[test]
fn every_instrument_at_every_level() {
    let text = "title = \"Small\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up, step up\"\n";
    let mut sheets = 0;
    let mut turns = [0; 3];
    let mut left_out_sheets = 0;
    for instrument in Instrument::catalogue() {
        for level in Level::ALL {
            let mut lesson: Lesson = lesson(text);
            lesson.players[0].instrument = instrument.clone();
            lesson.players[0].level = level;
            let composer = Composer::new(&lesson).unwrap();
            assert_eq!(composer.plans().len(), 12);
            for plan in composer.plans() {
                let range = instrument.range(level);
                let sheet = match composer.compose(plan) {
                    Ok(sheet) => sheet,
                    Err(left_out) => {
                        // Only where the figure's major third fits in no octave.
                        let third = |octave| {
                            let root = plan.written.at(octave);
                            let top = root + theory::Interval::from_steps(2, 4);
                            range.holds(root) && range.holds(top)
                        };
                        let nowhere = !(-1..10).any(third);
                        assert!(nowhere, "{} {}: {left_out}", instrument.id, level.word());
                        assert!(!range.holds(missing(&left_out).0), "{left_out}");
                        left_out_sheets += 1;
                        continue;
                    }
                };
                assert!(
                    range.holds(sheet.report.lowest) && range.holds(sheet.report.highest),
                    "{} {}",
                    instrument.id,
                    level.word()
                );
                sheets += 1;
                turns[level as usize] += u32::from(sheet.report.turns > 0);
            }
        }
    }
    assert_eq!(
        sheets + left_out_sheets,
        Instrument::catalogue().len() * 3 * 12
    );
    assert!(left_out_sheets * 100 < sheets, "{left_out_sheets} left out");
    // A beginner's octave and a bit turns many round early; the advanced few.
    assert!(turns[2] * 4 < turns[0], "turn early, by level: {turns:?}");
}

#[test]
fn where_nothing_suits_all_each_plays_alone() {
    // From C4 to D5 the seventh degree's statement needs a jump that the
    // other, from A3 to B4, can't make there.
    let text = format!(
        "together = true\n[keys]\nonly = [\"C\"]\n{FIGURE}direction = \"up\"\nwhen_too_wide = \"jump\"\n[[player]]\nname = \"High\"\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"D5\"\n[[player]]\nname = \"Low\"\ninstrument = \"violin\"\nlow = \"A3\"\nhigh = \"B4\"\n"
    )
    .replace("degrees = \"1 2 3 5\"", "degrees = \"1 2 3 2\"");
    let lesson = lesson(&text);
    let composer = Composer::new(&lesson).unwrap();
    for plan in composer.plans() {
        let sheet = composer.compose(plan).unwrap();
        assert!(sheet.report.jumps > 0);
        let remarks = &sheet.report.exercises[0].remarks;
        let alone = |counted: &CountedRemark| counted.remark == Remark::PlaysAlone;
        assert!(remarks.iter().any(alone), "{remarks:?}");
        // All of it is played: nothing turns.
        assert_eq!(sheet.report.turns, 0);
        let range = lesson.players[plan.player].range(Level::Intermediate);
        assert!(range.holds(sheet.report.lowest) && range.holds(sheet.report.highest));
    }
}

/// A figure that comes down, so that its flip lies wholly above its root.
const FALLS: &str = "[scale]\nname = \"major\"\n[figure]\ndegrees = \"5 4 3 2 1\"\ncount = \"1 & 2 & 3\"\n[[exercise]]\nkind = \"sequence\"\nspan = \"whole horn\"\n";

#[test]
fn the_whole_horn_comes_down_from_below_the_root_if_it_must() {
    let text = format!("instruments = [\"b-flat trumpet\"]\nlevel = \"beginner\"\n{FALLS}");
    let sheet = sheet(&text, 0).unwrap();
    // B3 to D5: up from D while the top of the figure fits; upside down it
    // ends on D5 from the statement on C sharp, and goes down to B3.
    assert_eq!(
        line_of(&sheet),
        "A4 G4 F#4 E4 D4/4 | B4 A4 G4 F#4 E4/4 | C#5 B4 A4 G4 F#4/4 | D5 C#5 B4 A4 G4/4 | \
         G4 A4 B4 C#5 D5/4 | F#4 G4 A4 B4 C#5/4 | E4 F#4 G4 A4 B4/4 | D4 E4 F#4 G4 A4/4 | \
         C#4 D4 E4 F#4 G4/4 | B3 C#4 D4 E4 F#4/4 | D4/8"
    );
    assert_eq!(said(&sheet), [""; 0]);
}

#[test]
fn going_down_alone_needs_only_its_own_notes() {
    let text = format!(
        "[keys]\nonly = [\"C\"]\n{FALLS}direction = \"down\"\n[[player]]\ninstrument = \"flute\"\nlow = \"D4\"\nhigh = \"A5\"\n"
    );
    assert_eq!(
        line_of(&sheet(&text, 0).unwrap()),
        "D5 E5 F5 G5 A5/4 | C5 D5 E5 F5 G5/4 | B4 C5 D5 E5 F5/4 | A4 B4 C5 D5 E5/4 | \
         G4 A4 B4 C5 D5/4 | F4 G4 A4 B4 C5/4 | E4 F4 G4 A4 B4/4 | D4 E4 F4 G4 A4/4 | C5/8"
    );
    // Where the figure as it is has no room, its form coming down may have.
    let wide = text.replace(
        "[[exercise]]",
        "flipped = \"start, step down\"\n[[exercise]]",
    );
    let wide = wide.replace(
        "degrees = \"5 4 3 2 1\"\ncount = \"1 & 2 & 3\"",
        "degrees = \"1 low low 1\"\ncount = \"1 3\"",
    );
    assert_eq!(
        line_of(&sheet(&wide, 0).unwrap()),
        "A5/4 G5/4 | G5/4 F5/4 | F5/4 E5/4 | E5/4 D5/4 | D5/4 C5/4 | C5/4 B4/4 | B4/4 A4/4 | \
         A4/4 G4/4 | G4/4 F4/4 | F4/4 E4/4 | E4/4 D4/4 | C5/8"
    );
}

#[test]
fn no_way_down_is_lost_without_a_word() {
    let horns = [
        "flute",
        "b-flat-clarinet",
        "alto-saxophone",
        "b-flat-trumpet",
        "trombone",
    ];
    let mut sheets = 0;
    for horn in horns {
        let text = format!("instruments = [\"{horn}\"]\nlevel = \"beginner\"\n{FALLS}");
        let lesson = lesson(&text);
        let composer = Composer::new(&lesson).unwrap();
        for plan in composer.plans() {
            let Ok(sheet) = composer.compose(plan) else {
                continue;
            };
            let notes = score::sounding_notes(&sheet.score);
            // Upside down a statement rises.
            let comes_down = notes.chunks(5).any(|statement| {
                statement.len() == 5 && statement[0].written.midi() < statement[1].written.midi()
            });
            assert!(comes_down, "{horn}: {}", line_of(&sheet));
            sheets += 1;
        }
    }
    assert!(sheets >= 50, "{sheets}");
    // Where it can't come down at all, that is said.
    let text = format!(
        "[keys]\nonly = [\"C\"]\n{}[[player]]\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"D5\"\n",
        FALLS.replace(
            "[[exercise]]",
            "flipped = \"start, up 12 steps, repeat, repeat, repeat\"\n[[exercise]]"
        )
    );
    let sheet = sheet(&text, 0).unwrap();
    assert_eq!(
        said(&sheet),
        ["the way down is left out: it fits nowhere on the horn"]
    );
    assert_eq!(sheet.report.turns, 1);
}

#[test]
fn the_note_that_is_missing_lies_outside_the_range() {
    // D to G is on the horn, the root that closes is not.
    let text = player("D4", "B4", "[keys]\nonly = [\"C\"]\n").replace("1 2 3 5", "2 3 4 5");
    for span in ["one octave", "whole horn"] {
        for direction in ["up", "down", "up and down"] {
            let text = text.replace(
                "kind = \"sequence\"",
                &format!("kind = \"sequence\"\nspan = \"{span}\"\ndirection = \"{direction}\""),
            );
            let left_out = sheet(&text, 0).unwrap_err();
            let (note, range) = missing(&left_out);
            assert!(!range.holds(note), "{left_out}");
        }
    }
}

#[test]
fn a_scale_together_goes_as_far_as_all_can() {
    let text = "together = true\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[[exercise]]\nkind = \"scale\"\n[[player]]\nname = \"Low\"\ninstrument = \"flute\"\nlow = \"D4\"\nhigh = \"D5\"\n[[player]]\nname = \"Wide\"\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"C6\"\n[[player]]\nname = \"Deep\"\ninstrument = \"trombone\"\nlow = \"E2\"\nhigh = \"E4\"\n";
    // Low has no C but C5: a step up from it, and down to D4.
    let expected = "C5 D5/3 C5 B4 A4 G4 | F4 E4 D4 E4 F4 G4 A4 B4 | C5/8";
    let sheets = |text: &str| -> Vec<Sheet> {
        let lesson = lesson(text);
        let composer = Composer::new(&lesson).unwrap();
        let plans = composer.plans().iter();
        plans.map(|plan| composer.compose(plan).unwrap()).collect()
    };
    let [low, wide, deep] = &sheets(text)[..] else {
        panic!("three sheets");
    };
    assert_eq!(line_of(low), expected);
    assert_eq!(line_of(wide), expected);
    assert_eq!(
        line_of(deep),
        "C4 D4/3 C4 B3 A3 G3 | F3 E3 D3 E3 F3 G3 A3 B3 | C4/8"
    );
    assert_eq!((said(low), low.report.turns), (Vec::new(), 0));
    assert_eq!(said(wide), ["as far as everyone can play together"]);
    // One octave fits all but Low, who binds the others.
    let octave = text.replace(
        "kind = \"scale\"",
        "kind = \"scale\"\nspan = \"one octave\"",
    );
    let octave = sheets(&octave);
    assert_eq!(line_of(&octave[1]), expected);
    assert_eq!(
        said(&octave[0]),
        ["the whole horn instead of one octave: more would leave it"]
    );
    assert_eq!(
        said(&octave[1]),
        ["as far as everyone can play together instead of one octave"]
    );
    // With another Low it is Deep, who has one octave, and each plays it where
    // it suits the horn.
    let two = text.replace(
        "kind = \"scale\"",
        "kind = \"scale\"\nspan = \"two octaves\"",
    );
    let two = sheets(&two.replace("D4\"\nhigh = \"D5", "C4\"\nhigh = \"C7"));
    let begin = |sheet: &Sheet| line_of(sheet)[..2].to_owned();
    assert_eq!(
        [begin(&two[0]), begin(&two[1]), begin(&two[2])],
        ["C5", "C4", "C3"]
    );
    assert_eq!(
        said(&two[0]),
        ["as far as everyone can play together instead of two octaves"]
    );
    assert_eq!(said(&two[0]), said(&two[1]));
    assert_eq!(
        said(&two[2]),
        ["one octave instead of two octaves: more would leave the horn"]
    );
}

#[test]
fn a_root_that_isn_t_sounded_may_lie_below_the_range() {
    // C4 is off this horn, but the figure begins on its third and closes on
    // the highest root.
    let text = "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\ndegrees = \"3 4 5\"\ncount = \"1 2 3\"\n[[exercise]]\nkind = \"sequence\"\nspan = \"whole horn\"\ndirection = \"up\"\n[[player]]\ninstrument = \"flute\"\nlow = \"D4\"\nhigh = \"C6\"\n";
    let line = line_of(&sheet(text, 0).unwrap());
    assert!(line.starts_with("E4/2 F4/2 G4/4 | F4/2"), "{line}");
    assert!(line.ends_with("A5/2 B5/2 C6/4 | C6/8"), "{line}");
    // Up and down it closes on the root that it began on, which must be there.
    let both = text.replace("\"up\"", "\"up and down\"");
    let line = line_of(&sheet(&both, 0).unwrap());
    assert!(
        line.starts_with("E5/2 F5/2 G5/4") && line.ends_with("| C5/8"),
        "{line}"
    );
    // Turning early, too: the root below is passed over.
    let early = text.replace("whole horn", "two octaves");
    let line = line_of(&sheet(&early, 0).unwrap());
    assert!(
        line.starts_with("E5/2 F5/2 G5/4") && line.ends_with("| C5/8"),
        "{line}"
    );
}
