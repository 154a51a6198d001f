//! Through the keys on one sheet.

use etude::Composer;
use score::{Direction, Element, Measure};

use crate::support::{check, lesson, line_of, sheet};

const HEAD: &str =
    "[scale]\nname = \"mixolydian\"\n[figure]\ndegrees = \"1 3 5\"\ncount = \"1 2 3\"\n";

fn through(more: &str) -> String {
    format!("{HEAD}[[exercise]]\nkind = \"keys\"\n{more}\n")
}

fn chords(text: &str, place: usize) -> Vec<String> {
    let sheet = sheet(text, place).unwrap();
    let elements = sheet
        .score
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements);
    elements
        .filter_map(|element| element.written().chord)
        .map(|chord| sheet.score.chords.symbol(chord).unwrap().root.to_string())
        .collect()
}

#[test]
fn each_key_begins_as_near_as_can_be() {
    // From C up a fourth to F: nearer than any other F. No signature.
    check(
        &through("keys = [\"C\", \"F\", \"Bb\"]"),
        "C4/2 E4/2 G4/4 | F4/2 A4/2 C5/4 | Bb4/2 D5/2 F5/4",
    );
}

#[test]
fn one_sheet_a_player_without_a_signature() {
    let text = format!(
        "title = \"T\"\ninstruments = [\"alto saxophone\", \"tuba\"]\n{}",
        through("")
    );
    let lesson = lesson(&text);
    let composer = Composer::new(&lesson).unwrap();
    let stems: Vec<String> = composer.plans().iter().map(|plan| plan.stem()).collect();
    assert_eq!(stems, ["01-through-keys", "01-through-keys"]);
    for plan in composer.plans() {
        let sheet = composer.compose(plan).unwrap();
        let keys: Vec<i8> = sheet
            .score
            .part
            .measures
            .iter()
            .filter_map(|measure| measure.key)
            .map(|key| key.signature.fifths())
            .collect();
        assert_eq!(keys, [0]);
        // The transposition stays the instrument's own (design, rule 1).
        let own = lesson.players[plan.player].instrument.written_to_sounding;
        assert_eq!(plan.written_to_sounding, own);
    }
    assert_eq!(
        chords(&text, 0),
        [
            "A", "D", "G", "C", "F", "Bb", "Eb", "Ab", "Db", "F#", "B", "E"
        ]
    );
    assert_eq!(
        chords(&text, 1),
        [
            "C", "F", "Bb", "Eb", "Ab", "Db", "F#", "B", "E", "A", "D", "G"
        ]
    );
}

#[test]
fn sheets_in_a_key_come_first() {
    let text = format!("{}[[exercise]]\nkind = \"scale\"\n", through(""));
    let lesson = lesson(&text);
    let composer = Composer::new(&lesson).unwrap();
    let stems: Vec<String> = composer.plans().iter().map(|plan| plan.stem()).collect();
    assert_eq!(stems.len(), 13);
    assert_eq!(
        (stems[0].as_str(), stems[12].as_str()),
        ("01-c", "13-through-keys")
    );
    assert_eq!(
        composer
            .compose(&composer.plans()[0])
            .unwrap()
            .report
            .exercises
            .len(),
        1
    );
}

#[test]
fn a_shuffle_prints_its_seed_and_says_every_key_once() {
    let text = |seed: u32| through(&format!("keys = {{ order = \"shuffled\", seed = {seed} }}"));
    assert_eq!(sheet(&text(7), 0).unwrap(), sheet(&text(7), 0).unwrap());
    let first = chords(&text(7), 0);
    assert_ne!(first, chords(&text(8), 0));
    let mut each = first;
    each.sort();
    each.dedup();
    assert_eq!(each.len(), 12);
    let words = |measure: &Measure| {
        let said = measure.directions.iter().find_map(|said| match said {
            Direction::Heading(words) => Some(words.to_string()),
            _ => None,
        });
        said.unwrap()
    };
    let sheet = sheet(&text(7), 0).unwrap();
    assert_eq!(
        words(&sheet.score.part.measures[0]),
        "Mixolydian: the figure through the keys, shuffled from concert C (seed 7)"
    );
}

#[test]
fn a_sequence_closes_in_each_key() {
    check(
        "[scale]\ndegrees = \"1 3 5\"\n[figure]\nmoves = \"start, step up\"\ncount = \"1 2\"\n[[exercise]]\nkind = \"keys\"\nsay = \"sequence\"\ndirection = \"up\"\nkeys = [\"C\", \"G\"]",
        "C4/2 E4/6 | E4/2 G4/6 | G4/2 C5/6 | C5/2 E5/6 | C5/8 | G4/2 B4/6 | B4/2 D5/6 | D5/2 G5/6 | G5/2 B5/6 | G5/8",
    );
}

#[test]
fn a_pickup_leads_into_each_key() {
    check(
        "[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up, step up\"\ncount = \"4 | 1 2\"\n[[exercise]]\nkind = \"keys\"\nkeys = [\"C\", \"D\"]",
        "C5/2 | D5/2 E5/4 D5/2 | E5/2 F#5/6",
    );
}

#[test]
fn a_key_without_a_symbol_is_named() {
    let text = "[scale]\ndegrees = \"1 b2 4\"\n[figure]\nmoves = \"start\"\n[[exercise]]\nkind = \"keys\"\nkeys = [\"C\", \"Eb\"]";
    let sheet = sheet(text, 0).unwrap();
    assert_eq!(line_of(&sheet), "C5/8 | Eb5/8");
    assert_eq!(
        sheet.score.part.measures[1].directions,
        [Direction::Words("on E♭".into())]
    );
    assert!(
        sheet.score.part.measures[1]
            .elements
            .iter()
            .all(|element| matches!(element, Element::Note(_)))
    );
}
