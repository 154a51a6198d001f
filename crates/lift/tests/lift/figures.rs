//! Figures of every sort, written, lifted and written again, and what alto and
//! tenor get of them in all keys.

use etude::Composer;
use lesson::Phrase;
use lift::{LiftedLesson, lift};
use proptest::prelude::*;
use reader::Selection;
use score::sounding_notes;
use theory::{Instrument, Scale};

use crate::made::{asked, first_exercise, gives_back};
use crate::statements::printed;

const COUNTS: [(&str, &str); 10] = [
    ("4/4", "1 & 2 & (3) & 4 &"),
    ("4/4", "1-2 & 3-4 & | -1-2 let"),
    ("4/4", "4 & | 1-2 & 3 (4)"),
    ("4/4", "3 a | 1-2 e -3 &"),
    ("3/4", "1 e & a-2 & 3"),
    ("5/4", "1-2 & 3 & 5"),
    ("6/8", "1 2 3 & 6 | -1-2 & 4"),
    ("7/8", "1 2 3-4 & 5 6 7"),
    ("2/2", "1 & 2 &"),
    ("12/8", "1 la li 2 la-3 li 4"),
];

const MOVES: [&str; 11] = [
    "step up",
    "step down",
    "skip up",
    "skip down",
    "up 3 steps",
    "down 4 steps",
    "octave down",
    "repeat",
    "from below, step up",
    "from above, skip down",
    "enclose, step up",
];

/// A figure of as many notes as the count sounds.
fn moves(words: &[usize], sounding: usize) -> String {
    let mut said = vec!["start"];
    for word in words.iter().cycle() {
        let more = MOVES[*word].split(", ");
        let notes = more
            .clone()
            .map(|word| if word == "enclose" { 2 } else { 1 })
            .sum::<usize>();
        let so_far = said
            .iter()
            .map(|word| if *word == "enclose" { 2 } else { 1 })
            .sum::<usize>();
        match sounding - so_far {
            0 => break,
            left if notes > left => said.push("repeat"),
            _ => said.extend(more),
        }
    }
    said.join(", ")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Any figure on any scale, written for any instrument in any key, is
    /// lifted from its sheet and written again: the same notes, values and
    /// ties. And alto and tenor get it in all twelve keys: the same steps from
    /// the key's root, and each reads what sounds right on its horn.
    #[test]
    fn any_figure_comes_back(
        words in prop::collection::vec(0..MOVES.len(), 1..12),
        count in 0..COUNTS.len(),
        scale in 0..1000usize,
        instrument in 0..1000usize,
        key in 0..12usize,
    ) {
        let (meter, count) = COUNTS[count];
        let sounding = rhythm::Count::read(count, &meter.parse().unwrap(), None).unwrap().sounding();
        let scales = Scale::catalogue();
        let scale = &scales[scale % scales.len()];
        let instruments = Instrument::catalogue();
        let instrument = &instruments[instrument % instruments.len()];
        let text = format!(
            "title = \"A\"\ninstruments = [\"{}\"]\nlevel = \"advanced\"\n[scale]\nname = \"{}\"\n\
             [figure]\nmeter = \"{meter}\"\nmoves = \"{}\"\ncount = \"{count}\"\n[[exercise]]\nkind = \"figure\"\n",
            instrument.id, scale.id.as_deref().unwrap(), moves(&words, sounding),
        );
        let lesson = lesson_text::read(&text, "random").map_err(|mistakes| TestCaseError::fail(format!("{text}\n{mistakes:?}")))?;
        let composer = Composer::new(&lesson).unwrap();
        let Ok(sheet) = composer.compose(&composer.plans()[key]) else {
            return Ok(());
        };
        let mut bytes = Vec::new();
        writer::musicxml(&sheet.score, &mut bytes);
        let phrase = reader::phrase(&bytes, &Selection::default(), None).unwrap().value;
        let first = sounding_notes(&sheet.score);
        let expected: Vec<_> = first.iter().map(|note| (note.onset - phrase.pickup, note.length, note.sounding.midi())).collect();
        prop_assert_eq!(asked(&phrase), expected);
        let lifted = lift(&phrase, None).map_err(|error| TestCaseError::fail(format!("{text}\n{error}")))?;
        let score = gives_back(&phrase, &lifted);
        let bars = sheet.score.part.measures.len();
        prop_assert_eq!(printed(&score, 0..bars), printed(&sheet.score, 0..bars), "{}\n{}", text, lifted.text);
        twelve_keys(&phrase, &lifted);
    }
}

/// Alto and tenor play a lifted phrase in every key that their horns reach.
fn twelve_keys(phrase: &Phrase, lifted: &LiftedLesson) {
    let from = lifted.text.find("\n[keys]").unwrap();
    let title = lifted.text.lines().next().unwrap();
    let until = lifted
        .text
        .find("\n[[instrument]]")
        .or(lifted.text.find("\n[[player]]"));
    let text = format!(
        "{title}\ninstruments = [\"alto saxophone\", \"tenor saxophone\"]\nlevel = \"advanced\"\n{}",
        &lifted.text[from..until.unwrap_or(lifted.text.len())],
    );
    let lesson = lesson_text::read(&text, "lifted").unwrap();
    let composer = Composer::new(&lesson).unwrap();
    assert_eq!(composer.plans().len(), 24);
    let asked = asked(phrase);
    for plan in composer.plans() {
        let Ok(sheet) = composer.compose(plan) else {
            continue;
        };
        // What the horn adds to a written pitch, from the standard's own table:
        // a major sixth down for alto, a major ninth down for tenor.
        let to_sounding = if plan.player == 0 { -9 } else { -14 };
        let played = first_exercise(&sheet.score);
        assert_eq!(played.len(), asked.len(), "{text}");
        let moved = i16::from(plan.concert.class()) - i16::from(lifted.root.class());
        for (note, (_, length, height)) in played.iter().zip(&asked) {
            let up = note.sounding.midi() - height - moved;
            assert_eq!(up.rem_euclid(12), 0, "{text}");
            assert_eq!(up, played[0].sounding.midi() - asked[0].2 - moved, "{text}");
            assert_eq!(note.written.midi() + to_sounding, note.sounding.midi());
            assert_eq!(note.length, *length);
        }
    }
}
