//! Rows of valves and positions. Fingerings themselves are held against
//! published charts in `theory`.

use etude::{PrintGap, Remark, Sheet};
use lesson::Label;
use score::Element;

use crate::support::sheet;

fn scale(instrument: &str, labels: &str) -> Sheet {
    let text = format!(
        "title = \"Fingered\"\nlabels = {labels}\n{instrument}\n[keys]\nonly = [\"Bb\"]\n\
         [scale]\nname = \"major\"\n[[exercise]]\nkind = \"scale\"\nspan = \"one octave\"\n\
         direction = \"up\"\n"
    );
    sheet(&text, 0).unwrap()
}

/// A row, from the lowest note to the octave.
fn row(sheet: &Sheet, at: usize) -> Vec<Option<String>> {
    let measures = sheet.score.part.measures.iter();
    let elements = measures.flat_map(|measure| &measure.elements);
    elements
        .filter_map(|element| match element {
            Element::Note(note) if !note.tied_from => {
                Some(note.lyrics[at].as_deref().map(str::to_owned))
            }
            Element::Note(_) | Element::Rest(_) | Element::Slash(_) => None,
        })
        .collect()
}

fn check(sheet: &Sheet, at: usize, expected: &str) {
    let found: Vec<String> = row(sheet, at)
        .into_iter()
        .map(|word| word.unwrap_or_else(|| "-".to_owned()))
        .collect();
    assert_eq!(found.join(" "), expected);
}

// Beginners' charts, common practice.
#[test]
fn rows_of_valves_and_positions() {
    let trumpet = scale("instruments = [\"b-flat trumpet\"]", "[\"valves\"]");
    check(&trumpet, 0, "0 13 12 1 0 12 2 0");
    let trombone = scale(
        "[[player]]\ninstrument = \"trombone\"\nlow = \"Bb2\"\nhigh = \"Bb3\"",
        "[\"positions\"]",
    );
    check(&trombone, 0, "1 6 4 3 1 4 2 1");
    assert!(trombone.report.exercises[0].remarks.is_empty());
}

#[test]
fn a_row_that_the_instrument_lacks_is_left_out_and_told() {
    let told = |sheet: &Sheet| -> Vec<Remark> {
        let remarks = sheet.report.exercises[0].remarks.iter();
        remarks.map(|counted| counted.remark.clone()).collect()
    };
    let alto = scale(
        "instruments = [\"alto saxophone\"]",
        "[\"valves\", \"degrees\"]",
    );
    check(&alto, 0, "1 2 3 4 5 6 7 1");
    assert_eq!(told(&alto), [Remark::Print(PrintGap::Row(Label::Valves))]);
    let trombone = scale(
        "instruments = [\"trombone\"]",
        "[\"valves\", \"positions\", \"degrees\"]",
    );
    assert_eq!(
        told(&trombone),
        [Remark::Print(PrintGap::Row(Label::Valves))]
    );
    check(&trombone, 1, "1 2 3 4 5 6 7 1");
}

#[test]
fn notes_without_a_fingering_have_none_and_are_counted() {
    // Below E the trombone has its lowest notes again from B flat on: nothing
    // from E flat to B.
    let trombone = scale(
        "[[player]]\ninstrument = \"trombone\"\nlow = \"Bb1\"\nhigh = \"Bb2\"",
        "[\"positions\"]",
    );
    check(&trombone, 0, "1 - - - 6 4 2 1");
    let [told] = &trombone.report.exercises[0].remarks[..] else {
        panic!("{:?}", trombone.report.exercises[0].remarks);
    };
    let row = Remark::Print(PrintGap::Fingering(Label::Positions));
    assert_eq!((&told.remark, told.times), (&row, 3));
    assert_eq!(told.to_string(), "3 notes have no positions");
}
