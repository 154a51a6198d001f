//! Which sheets there are, and what their keys are called.

use etude::{Composer, SheetPlan};

use crate::support::lesson;

fn plans(text: &str) -> Vec<SheetPlan> {
    let lesson = lesson(&format!("{text}\n[figure]\nmoves = \"start, step up\"\n"));
    Composer::new(&lesson).unwrap().plans().to_vec()
}

/// `number written/concert` of each sheet of the only player.
fn check(text: &str, expected: &str) {
    let said = plans(text)
        .into_iter()
        .map(|plan| format!("{} {}/{}", plan.number, plan.written, plan.concert));
    assert_eq!(said.collect::<Vec<_>>().join(", "), expected, "{text}");
}

const ALTO: &str = "instruments = [\"alto saxophone\"]\n";
const TRUMPET: &str = "instruments = [\"b-flat trumpet\"]\n";

#[test]
fn fourths_from_c() {
    check(
        "[scale]\nname = \"major\"",
        "1 C/C, 2 F/F, 3 Bb/Bb, 4 Eb/Eb, 5 Ab/Ab, 6 Db/Db, 7 Gb/Gb, 8 B/B, 9 E/E, 10 A/A, 11 D/D, 12 G/G",
    );
    check(
        &format!("{ALTO}[scale]\nname = \"major\""),
        "1 A/C, 2 D/F, 3 G/Bb, 4 C/Eb, 5 F/Ab, 6 Bb/Db, 7 Eb/Gb, 8 Ab/B, 9 Db/E, 10 F#/A, 11 B/D, 12 E/G",
    );
}

#[test]
fn only_these_respelled_by_rule_one() {
    check(
        "[keys]\nonly = [\"A#\", \"Db\", \"F#\"]\n[scale]\nname = \"major\"",
        "1 Bb/Bb, 2 Db/Db, 3 F#/F#",
    );
    check(
        "[keys]\nonly = [\"F#\", \"Db\"]\nprefer = \"sharps\"\n[scale]\nname = \"major\"",
        "1 F#/F#, 2 Db/Db",
    );
    check(
        "[keys]\nonly = [\"Ab\"]\n[scale]\nname = \"harmonic minor\"",
        "1 Ab/Ab",
    );
}

#[test]
fn concert_b_for_trumpet_is_written_d_flat() {
    // MusicXML 4.0 transpose element: letters and semitones both −2.
    let plan = plans(&format!(
        "{TRUMPET}[keys]\nonly = [\"B\"]\n[scale]\nname = \"major\""
    ))[0];
    assert_eq!(plan.written.to_string(), "Db");
    assert_eq!(
        (
            plan.written_to_sounding.steps(),
            plan.written_to_sounding.semitones()
        ),
        (-2, -2)
    );
    let plan = plans(&format!(
        "{ALTO}[keys]\nonly = [\"E\"]\n[scale]\nname = \"major\""
    ))[0];
    assert_eq!(plan.written.to_string(), "Db");
    assert_eq!(
        (
            plan.written_to_sounding.steps(),
            plan.written_to_sounding.semitones()
        ),
        (-6, -9)
    );
}

#[test]
fn written_keys_are_the_same_for_all() {
    let text = "instruments = [\"alto saxophone\", \"b-flat trumpet\", \"flute\"]\n[keys]\nonly = [\"C\", \"Gb\"]\nnamed = \"written\"\n[scale]\nname = \"major\"";
    let said: Vec<String> = plans(text)
        .iter()
        .map(|plan| format!("{}/{}", plan.written, plan.concert))
        .collect();
    assert_eq!(said, ["C/Eb", "Gb/A", "C/Bb", "Gb/E", "C/C", "Gb/Gb"]);
}

#[test]
fn a_player_leaves_keys_out_and_numbers_stay() {
    let text = "[[player]]\ninstrument = \"flute\"\nkeys = { only = [\"Bb\", \"G\"] }\n[scale]\nname = \"major\"";
    check(text, "3 Bb/Bb, 12 G/G");
}

#[test]
fn an_exercise_with_keys_of_its_own() {
    let text = "title = \"Test\"\n[keys]\nonly = [\"C\", \"F\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n[[exercise]]\nkind = \"figure\"\n[[exercise]]\nkind = \"sequence\"\nkeys = { only = [\"F\", \"D\"] }\n";
    let lesson = lesson(text);
    let composer = Composer::new(&lesson).unwrap();
    let said: Vec<String> = composer
        .plans()
        .iter()
        .map(|plan| {
            let sheet = composer.compose(plan).unwrap();
            format!(
                "{} {} {}",
                plan.number,
                plan.written,
                sheet.report.exercises.len()
            )
        })
        .collect();
    assert_eq!(said, ["1 C 1", "2 F 2", "3 D 1"]);
}

#[test]
fn flats_and_sharps_of_minor_roots() {
    let check_roots = |scale: &str, expected: &str| {
        let text = format!("[keys]\norder = \"half steps\"\n[scale]\nname = \"{scale}\"");
        let said: Vec<String> = plans(&text)
            .iter()
            .map(|plan| plan.written.to_string())
            .collect();
        assert_eq!(said.join(" "), expected, "{scale}");
    };
    check_roots("major", "C Db D Eb E F Gb G Ab A Bb B");
    check_roots("natural minor", "C C# D Eb E F F# G G# A Bb B");
    check_roots("harmonic minor", "C C# D Eb E F F# G Ab A Bb B");
}

#[test]
fn drawn_for_a_jury() {
    let drawn = |keys: &str| -> Vec<String> {
        let plans = plans(&format!("[keys]\n{keys}\n[scale]\nname = \"major\""));
        plans
            .iter()
            .map(|plan| format!("{} {}", plan.number, plan.concert))
            .collect()
    };
    let three = drawn("draw = 3\nseed = 5");
    assert_eq!(three.len(), 3);
    assert_eq!(three, drawn("draw = 3\nseed = 5\nheard = []"));
    assert_ne!(three, drawn("draw = 3\nseed = 6"));
    let first = three[0].split(' ').next_back().unwrap();
    let next = drawn(&format!("draw = 11\nseed = 5\nheard = [\"{first}\"]"));
    assert_eq!(next.len(), 11);
    assert!(next.iter().all(|key| !key.ends_with(&format!(" {first}"))));
    assert_eq!(
        drawn("order = \"fourths\"\ndraw = 2\nheard = [\"C\"]"),
        ["1 F", "2 Bb"]
    );
}

/// The key line at the head of a lesson's first sheet.
fn head(text: &str) -> String {
    let lesson = lesson(&format!("{text}\n[figure]\nmoves = \"start, step up\"\n"));
    let composer = Composer::new(&lesson).unwrap();
    let sheet = composer.compose(&composer.plans()[0]).unwrap();
    let mut lines = sheet.score.head.iter();
    let key = lines.find(|line| line.about == score::About::Key);
    key.map_or(String::new(), |line| line.text.clone())
}

#[test]
fn heads_name_the_key() {
    let check = |horn: &str, key: &str, scale: &str, expected: &str| {
        let text = format!(
            "instruments = [\"{horn}\"]\n[keys]\nonly = [\"{key}\"]\n[scale]\nname = \"{scale}\""
        );
        assert_eq!(head(&text), expected, "{horn} {key} {scale}");
    };
    check("alto saxophone", "C", "major", "Written A · concert C");
    // The horn's plain interval names the concert key, whatever was typed.
    check("alto saxophone", "F#", "major", "Written E♭ · concert G♭");
    check("flute", "F#", "major", "Written F♯ · concert F♯");
    check("flute", "Gb", "major", "Written G♭ · concert G♭");
    check(
        "alto saxophone",
        "C",
        "natural minor",
        "Written A minor · concert C minor",
    );
    check(
        "alto saxophone",
        "C",
        "dorian",
        "Written A minor · concert C minor",
    );
    check(
        "flute",
        "Db",
        "melodic minor",
        "Written C♯ minor · concert C♯ minor",
    );
    check("flute", "C", "altered", "Written C · concert C");
    check(
        "flute",
        "C",
        "diminished whole-half",
        "Written C · concert C",
    );
    check("flute", "C", "locrian", "Written C · concert C");
}

#[test]
fn changes_typed_in_f_sharp_stay_there() {
    let chords = |horn: &str| {
        let text = format!(
            "instruments = [\"{horn}\"]\n[keys]\norder = \"fourths\"\n[changes]\nbars = \"| F# | D#m7 |\"\n[figure]\nmoves = \"start, step up\"\n[[exercise]]\nkind = \"changes\"\n"
        );
        let lesson = lesson(&text);
        let composer = Composer::new(&lesson).unwrap();
        let plans = composer.plans().iter();
        let mut keys = plans.filter(|plan| plan.concert.class() == 6);
        let sheet = composer.compose(keys.next().unwrap()).unwrap();
        let chords = sheet
            .score
            .chords
            .iter()
            .map(|chord| chord.symbol.to_string());
        chords.collect::<Vec<_>>().join(" ")
    };
    assert_eq!(chords("flute"), "F# D#m7");
    assert_eq!(chords("alto saxophone"), "Eb Cm7");
}

#[test]
fn changes_in_minor_are_called_so() {
    let text = "[keys]\nonly = [\"G\"]\n[changes]\nkey = \"C minor\"\nbars = \"| Dm7(b5) | G7 | Cm6 |\"\n[[exercise]]\nkind = \"changes\"\n";
    assert_eq!(head(text), "Written G minor · concert G minor");
}
