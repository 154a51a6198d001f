//! Rule 6: every sheet is on the horn, turns, jumps, or is left out; and the
//! smallest lesson suits every instrument at every level.

use etude::Composer;
use lesson::Lesson;
use theory::{Instrument, Level};

use crate::support::{lesson, line_of, sheet};

const FIGURE: &str = "[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n[[exercise]]\nkind = \"sequence\"\n";

fn player(low: &str, high: &str, rest: &str) -> String {
    let player =
        format!("[[player]]\ninstrument = \"flute\"\nlow = \"{low}\"\nhigh = \"{high}\"\n");
    format!("{rest}{FIGURE}{player}")
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
    assert_eq!(
        sheet.report.exercises[0].remarks,
        ["turns early: 5 of 8 statements up, 1 down"]
    );
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
            left_out.range.low.to_string(),
            left_out.range.high.to_string()
        ),
        ("C4".to_owned(), "D5".to_owned())
    );
    assert!(!left_out.range.holds(left_out.note));
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
    assert_eq!(sheets + left_out_sheets, 59 * 3 * 12);
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
        assert!(
            remarks
                .iter()
                .any(|remark| remark.starts_with("plays alone")),
            "{remarks:?}"
        );
        let range = lesson.players[plan.player].range(Level::Intermediate);
        assert!(range.holds(sheet.report.lowest) && range.holds(sheet.report.highest));
    }
}
