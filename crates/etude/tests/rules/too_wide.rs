//! What becomes of lines that don't fit: they turn where all can, jump as seldom
//! as can be, or name the note that is missing.

use etude::{CountedRemark, Sheet};
use theory::Pitch;

use crate::support::{check, line_of, missing, sheet};

/// A line on C major in a range of its own.
fn major(range: (&str, &str), figure: &str, exercise: &str) -> String {
    let (low, high) = range;
    format!(
        "[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\n{figure}\n[[exercise]]\n{exercise}\n[[player]]\ninstrument = \"piano right hand\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
    )
}

fn said(sheet: &Sheet) -> Vec<String> {
    let remarks = &sheet.report.exercises[0].remarks;
    remarks.iter().map(CountedRemark::to_string).collect()
}

/// What comes down as it went up comes down to the root it began on.
#[test]
fn a_way_down_ends_on_its_root() {
    let text = major(
        ("C4", "D5"),
        "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"",
        "kind = \"sequence\"\ncoming_down = \"as it is\"",
    );
    let sheet = sheet(&text, 0).unwrap();
    assert_eq!(said(&sheet), ["turns early: 5 of 8 statements up, 5 down"]);
    assert!(line_of(&sheet).ends_with(" | C4/2 D4/2 E4/2 G4/2 | C4/8"));
}

/// Down over the whole horn begins on the highest rung of the way up: A B C
/// was its last, and flipped A G F is the first.
#[test]
fn down_the_whole_horn_begins_where_the_way_up_ends() {
    check(
        &major(
            ("F4", "C6"),
            "degrees = \"1 2 3\"\ncount = \"1 2 3\"",
            "kind = \"sequence\"\nspan = \"whole horn\"\ndirection = \"down\"",
        ),
        "A5/2 G5/2 F5/4 | G5/2 F5/2 E5/4 | F5/2 E5/2 D5/4 | E5/2 D5/2 C5/4 | D5/2 C5/2 B4/4 | C5/2 B4/2 A4/4 | B4/2 A4/2 G4/4 | A4/2 G4/2 F4/4 | C5/8",
    );
}

/// Jumps are as few as can be: from the lower root one, from the upper two.
#[test]
fn as_few_jumps_as_can_be() {
    let text = major(
        ("C4", "G5"),
        "degrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"",
        "kind = \"sequence\"\nspan = \"two octaves\"\ndirection = \"up\"\nwhen_too_wide = \"jump\"",
    );
    let sheet = sheet(&text, 0).unwrap();
    let line = line_of(&sheet);
    assert_eq!(sheet.report.jumps, 1, "{line}");
    assert!(line.starts_with("C4/2 D4/2 E4/2 G4/2 | "), "{line}");
}

/// An ornament that leads into the next statement sounds in that one's octave,
/// and must lie on the horn too.
#[test]
fn ornaments_before_a_jump_lie_on_the_horn() {
    let text = |ornament: &str, direction: &str| {
        major(
            ("C4", "C5"),
            &format!("moves = \"start, {ornament}\"\ncount = \"1 3\""),
            &format!(
                "kind = \"sequence\"\ndirection = \"{direction}\"\ncoming_down = \"as it is\"\nwhen_too_wide = \"jump\""
            ),
        )
    };
    check(
        &text("from above", "up"),
        "C4/4 Eb4/4 | D4/4 F4/4 | E4/4 Gb4/4 | F4/4 Ab4/4 | G4/4 Bb4/4 | A4/4 C5/4 | B4/4 Db4/4 | C4/4 Db4/4 | C4/8",
    );
    check(
        &text("from below", "down"),
        "C5/4 A#4/4 | B4/4 G#4/4 | A4/4 F#4/4 | G4/4 E4/4 | F4/4 D#4/4 | E4/4 C#4/4 | D4/4 B4/4 | C5/4 B4/4 | C5/8",
    );
}

/// The statement that fits nowhere is the one whose note is named: fourths fit
/// from F sharp to A sharp wherever they begin, but the augmented one on F.
#[test]
fn the_statement_that_keeps_a_line_from_jumping_is_named() {
    for direction in ["up", "up and down"] {
        let text = major(
            ("F#4", "A#5"),
            "moves = \"start, up 3 steps\"\ncount = \"1 3\"",
            &format!("kind = \"sequence\"\nwhen_too_wide = \"jump\"\ndirection = \"{direction}\""),
        );
        let (note, _) = missing(&sheet(&text, 0).unwrap_err());
        assert_eq!(note, "B5".parse::<Pitch>().unwrap(), "{direction}");
    }
}

/// Of a scale that doesn't fit, the note furthest outside.
#[test]
fn the_note_of_a_scale_that_is_furthest_outside() {
    let text = major(
        ("C4", "G4"),
        "moves = \"start\"",
        "kind = \"scale\"\nspan = \"one octave\"\nwhen_too_wide = \"leave out\"",
    );
    let (note, _) = missing(&sheet(&text, 0).unwrap_err());
    assert_eq!(note, "C5".parse::<Pitch>().unwrap());
}

/// Playing together, everyone turns where all of them can: three statements up
/// are the most of one, and from there the other has no way down.
#[test]
fn together_the_way_down_is_as_short_as_all_need() {
    let text = "together = true\n[keys]\nonly = [\"C\"]\n[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n[[exercise]]\nkind = \"sequence\"\n[[player]]\nname = \"Low\"\ninstrument = \"piano right hand\"\nlow = \"F3\"\nhigh = \"B4\"\n[[player]]\nname = \"High\"\ninstrument = \"flute\"\nlow = \"C4\"\nhigh = \"E5\"\n";
    for place in 0..2 {
        let sheet = sheet(text, place).unwrap();
        assert_eq!(
            line_of(&sheet),
            "C4/2 D4/2 E4/2 G4/2 | D4/2 E4/2 F4/2 A4/2 | E4/2 F4/2 G4/2 B4/2 | C4/8"
        );
        assert_eq!(
            said(&sheet),
            ["turns early: 3 of 8 statements up, and none coming down"]
        );
    }
}
