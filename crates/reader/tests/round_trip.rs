//! Lift, then write: every phrase comes back, note for note; and sheets that
//! were written are read as they were written.
#![cfg(test)]

mod lifted;

use std::fs;
use std::path::{Path, PathBuf};

use etude::Composer;
use lesson::{Lesson, Named, PhraseNote};
use lifted::{gives_back, phrase};
use proptest::prelude::*;
use reader::{Asked, Bars, lift};
use rhythm::Fraction;
use score::{Element, Score, sounding_notes};
use theory::{Mode, Scale};

fn fixture(name: &str) -> PathBuf {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures")).join(name)
}

/// The shipped lessons that can be read by themselves, with their files.
fn shipped() -> Vec<(PathBuf, Lesson)> {
    let mut files: Vec<_> = fs::read_dir(fixture("lessons"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|file| file.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    files.sort();
    let read = |file: PathBuf| {
        let text = fs::read_to_string(&file).unwrap();
        let lesson = lesson_text::read(&text, "shipped").unwrap().lesson;
        (file, lesson)
    };
    files.into_iter().map(read).collect()
}

/// Every notated line of the fixtures that is one phrase comes back.
#[test]
fn fixtures_come_back() {
    let asked = Asked::default();
    let mut lifted = 0;
    for (name, bars) in [
        ("01_alto_harmony.musicxml", "1-2"),
        ("01_alto_harmony.musicxml", "3-4"),
        ("02_pickup.musicxml", "0-3"),
        ("03_triplets.musicxml", "1-3"),
        ("04_ties.musicxml", "4"),
        ("05_five_four.musicxml", "1-2"),
        ("06_repeat_endings.musicxml", "1-3"),
        ("07_key_change.musicxml", "1-2"),
        ("07_key_change.musicxml", "3-4"),
        ("08_lyrics_accidentals.musicxml", "1-3"),
        ("09_trumpet.mxl", "1-2"),
        ("10_tenor_swing.musicxml", "1"),
        ("13_trip_mixed_nonormaltype.musicxml", "1"),
        ("20_pickup_0_implicit.musicxml", "0-1"),
        ("50_lyrics.musicxml", "1"),
    ] {
        let bytes = fs::read(fixture("notation").join(name)).unwrap();
        let phrase = reader::phrase(&bytes, &asked, bars.parse().ok())
            .unwrap()
            .value;
        match lift(&phrase, None) {
            Ok(lesson) => {
                let _ = gives_back(&phrase, &lesson);
                lifted += 1;
            }
            Err(error) => assert!(
                error.to_string().starts_with("the count has no word"),
                "{name}: {error}"
            ),
        }
    }
    assert!(lifted >= 13, "{lifted}");
}

/// Whole sheets of the shipped lessons, written as files and read back: the
/// same notes, written and sounding.
#[test]
fn sheets_are_read_back() {
    let mut sheets = 0;
    for (file, lesson) in shipped() {
        let composer = Composer::new(&lesson).unwrap();
        for plan in composer.plans().iter().step_by(5) {
            let Ok(sheet) = composer.compose(plan) else {
                continue;
            };
            let mut bytes = Vec::new();
            writer::musicxml(&sheet.score, &mut bytes);
            let packed = writer::mxl(&bytes, "sheet.musicxml").unwrap();
            let expected = sounding_notes(&sheet.score);
            for named in [Named::Concert, Named::Written] {
                let asked = Asked { part: None, named };
                let reading = match reader::phrase(&packed, &asked, None) {
                    Ok(reading) => reading,
                    Err(error) => {
                        assert!(error.reason.starts_with("the meter changes"), "{error}");
                        continue;
                    }
                };
                // Answering bars are slashes on the sheet: no notes of anyone's.
                let slashes = "slashes were taken as silence";
                let guessed = reading
                    .warnings
                    .iter()
                    .find(|warning| warning.message != slashes);
                assert_eq!(guessed, None, "{}", file.display());
                let first = reading.value.pickup;
                let found: Vec<_> = reading
                    .value
                    .notes
                    .iter()
                    .filter_map(|note| Some((note.onset + first, note.length, note.pitch?)))
                    .collect();
                let expected: Vec<_> = expected
                    .iter()
                    .map(|note| {
                        let pitch = if named == Named::Concert {
                            note.sounding
                        } else {
                            note.written
                        };
                        (note.onset, note.length, pitch)
                    })
                    .collect();
                assert_eq!(found, expected, "{} {}", file.display(), plan.number);
                sheets += 1;
            }
        }
    }
    assert!(sheets > 40, "{sheets}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any line of scale notes and what leads to them comes back from its
    /// lesson's sheet.
    #[test]
    fn any_phrase_comes_back(
        steps in prop::collection::vec((-4i32..5, 0usize..6, any::<bool>()), 1..24),
        root in 0i16..12,
        scale in 0usize..1000,
        fifths in -7i16..8,
        told in 0u8..3,
    ) {
        let lengths = [(1, 1), (1, 2), (2, 1), (3, 2), (1, 4), (1, 3)].map(|(upper, lower)| Fraction::new(upper, lower));
        let scales = Scale::catalogue();
        let scale = &scales[scale % scales.len()];
        let ladder = theory::Ladder::new(scale);
        let zero = theory::PitchName::from_fifths(root - 5).at(4);
        let mut rung = 0;
        let mut onset = Fraction::ZERO;
        let mut notes = Vec::new();
        for (step, length, silent) in steps {
            rung = (rung + step).clamp(0, ladder.size() + 2);
            let pitch = zero + ladder.interval(theory::Rung(rung), theory::Form::Rising);
            let silent = silent && step == 0 && !notes.is_empty();
            // Short values come in whole beats.
            let values = match length { 4 => 4, 5 => 3, _ => 1 };
            for _ in 0..values {
                let pitch = (!silent).then_some(pitch);
                notes.push(PhraseNote { onset, length: lengths[length], pitch });
                onset += lengths[length];
            }
        }
        let key = match told {
            0 => None,
            1 => Some((fifths, None)),
            _ => Some((fifths, Some(Mode::Minor))),
        };
        let mut phrase = phrase("4/4", key, 0, "C5 1", "");
        // Silences that meet are one.
        let mut joined: Vec<PhraseNote> = Vec::new();
        for note in notes {
            match joined.last_mut().filter(|last| last.pitch.is_none() && note.pitch.is_none()) {
                Some(last) => last.length += note.length,
                None => joined.push(note),
            }
        }
        phrase.notes = joined;
        match lift(&phrase, None) {
            Ok(lifted) => { let _ = gives_back(&phrase, &lifted); }
            Err(error) => prop_assert!(error.to_string().starts_with("the count has no word"), "{}", error),
        }
    }
}

/// The measures of a sheet that a statement stands in, from the first that can
/// be asked for, by their numbers.
struct Statement {
    bars: Bars,
    begins: Fraction,
    ends: Fraction,
    measures: std::ops::Range<usize>,
}

/// Statements of a sheet, every so many of them.
fn statements(score: &Score, every: usize) -> Vec<Statement> {
    let quarters = |ticks: u32| Fraction::new(i64::from(ticks), i64::from(score.divisions));
    let mut at = Fraction::ZERO;
    let mut begins = Vec::new();
    let mut said: Vec<((u16, u16), (usize, usize))> = Vec::new();
    for (number, measure) in score.part.measures.iter().enumerate() {
        begins.push(at);
        for element in &measure.elements {
            if let Element::Note(note) = element {
                let own = (note.origin.exercise, note.origin.statement);
                match said.iter_mut().find(|(key, _)| *key == own) {
                    Some((_, range)) => range.1 = number,
                    None => said.push((own, (number, number))),
                }
            }
            at += quarters(element.written().length);
        }
    }
    begins.push(at);
    let numbered = |at: usize| u16::try_from(score.part.measures[at].number).unwrap();
    let whole = exercises(&said);
    let chosen = said.into_iter().step_by(every);
    chosen
        .chain(whole)
        .filter_map(|(_, (from, to))| {
            let from = (from..=to).find(|at| !score.part.measures[*at].extra)?;
            let to = (from..=to).rfind(|at| !score.part.measures[*at].extra)?;
            Some(Statement {
                bars: Bars {
                    from: numbered(from),
                    to: numbered(to),
                },
                begins: begins[from],
                ends: begins[to + 1],
                measures: from..to + 1,
            })
        })
        .collect()
}

/// Whether a measure's meter has its usual groups, which a file doesn't say.
fn usual(score: &Score, measure: usize) -> bool {
    let meters = score.part.measures[..=measure].iter();
    let meter = meters.filter_map(|measure| measure.meter.as_ref()).last();
    meter.is_some_and(|meter| {
        format!("{}/{}", meter.upper(), meter.lower()).parse() == Ok(meter.clone())
    })
}

/// Exercises of not too many bars, from the first statement to the last.
fn exercises(said: &[((u16, u16), (usize, usize))]) -> Vec<((u16, u16), (usize, usize))> {
    let mut whole: Vec<((u16, u16), (usize, usize))> = Vec::new();
    for ((exercise, _), (from, to)) in said {
        match whole.last_mut().filter(|((last, _), _)| last == exercise) {
            Some((_, range)) => range.1 = *to,
            None => whole.push(((*exercise, 0), (*from, *to))),
        }
    }
    whole.retain(|(_, (from, to))| to - from < 20);
    whole
}

/// What is printed of the notes in some measures: values and ties, but not
/// those into the first note and out of the last.
fn printed(score: &Score, measures: std::ops::Range<usize>) -> Vec<String> {
    let elements = score.part.measures[measures].iter();
    let notes =
        elements
            .flat_map(|measure| &measure.elements)
            .filter_map(|element| match element {
                Element::Note(note) => Some(note),
                _ => None,
            });
    let notes: Vec<_> = notes.collect();
    let last = notes.len().saturating_sub(1);
    let shown = notes.iter().enumerate().map(|(at, note)| {
        let from = note.tied_from && at > 0;
        let to = note.tied_to && at < last;
        format!("{:?} {from} {to}", note.written.value)
    });
    shown.collect()
}

/// Each statement of the shipped lessons and each exercise of a page, asked for
/// by its bars, is lifted and written again: the same notes at the same times, of the same printed values
/// and ties, on every horn and in every key that is looked at.
#[test]
fn statements_come_back() {
    let mut lifted = 0;
    for (file, lesson) in shipped() {
        let composer = Composer::new(&lesson).unwrap();
        let every = composer.plans().len().div_ceil(3);
        for plan in composer.plans().iter().step_by(every) {
            let Ok(sheet) = composer.compose(plan) else {
                continue;
            };
            let mut bytes = Vec::new();
            writer::musicxml(&sheet.score, &mut bytes);
            let every = sheet.score.part.measures.len().div_ceil(8);
            for statement in statements(&sheet.score, every) {
                let name = format!("{} {} {:?}", file.display(), plan.number, statement.bars);
                let reading = reader::phrase(&bytes, &Asked::default(), Some(statement.bars));
                let phrase = match reading {
                    Ok(reading) => reading.value,
                    Err(error) => panic!("{name}: {error}"),
                };
                let expected: Vec<_> = sounding_notes(&sheet.score)
                    .into_iter()
                    .filter_map(|note| {
                        let from = note.onset.max(statement.begins);
                        let to = (note.onset + note.length).min(statement.ends);
                        let onset = from - statement.begins - phrase.pickup;
                        (from < to).then_some((onset, to - from, note.sounding.midi()))
                    })
                    .collect();
                assert_eq!(lifted::asked(&phrase), expected, "{name}");
                let lesson = lift(&phrase, None).unwrap_or_else(|error| panic!("{name}: {error}"));
                let score = gives_back(&phrase, &lesson);
                // In shorter units ties fall elsewhere.
                let own_meter = !lesson
                    .remarks
                    .iter()
                    .any(|remark| remark.contains("is counted as"));
                if own_meter && usual(&sheet.score, statement.measures.start) {
                    let again = printed(&score, 0..statement.measures.len());
                    let before = printed(&sheet.score, statement.measures);
                    assert_eq!(again, before, "{name}\n{}", lesson.text);
                }
                lifted += 1;
            }
        }
    }
    assert!(lifted > 400, "{lifted}");
}

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
        let instruments = theory::Instrument::catalogue();
        let instrument = &instruments[instrument % instruments.len()];
        let text = format!(
            "title = \"A\"\ninstruments = [\"{}\"]\nlevel = \"advanced\"\n[scale]\nname = \"{}\"\n\
             [figure]\nmeter = \"{meter}\"\nmoves = \"{}\"\ncount = \"{count}\"\n[[exercise]]\nkind = \"figure\"\n",
            instrument.id, scale.id.as_deref().unwrap(), moves(&words, sounding),
        );
        let lesson = lesson_text::read(&text, "random").map_err(|mistakes| TestCaseError::fail(format!("{text}\n{mistakes:?}")))?.lesson;
        let composer = Composer::new(&lesson).unwrap();
        let Ok(sheet) = composer.compose(&composer.plans()[key]) else {
            return Ok(());
        };
        let mut bytes = Vec::new();
        writer::musicxml(&sheet.score, &mut bytes);
        let phrase = reader::phrase(&bytes, &Asked::default(), None).unwrap().value;
        let first = sounding_notes(&sheet.score);
        let expected: Vec<_> = first.iter().map(|note| (note.onset - phrase.pickup, note.length, note.sounding.midi())).collect();
        prop_assert_eq!(lifted::asked(&phrase), expected);
        let lifted = lift(&phrase, None).map_err(|error| TestCaseError::fail(format!("{text}\n{error}")))?;
        let score = gives_back(&phrase, &lifted);
        let bars = sheet.score.part.measures.len();
        prop_assert_eq!(printed(&score, 0..bars), printed(&sheet.score, 0..bars), "{}\n{}", text, lifted.text);
        twelve_keys(&phrase, &lifted);
    }
}

/// Alto and tenor play a lifted phrase in every key that their horns reach.
fn twelve_keys(phrase: &lesson::Phrase, lifted: &reader::Lifted) {
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
    let lesson = lesson_text::read(&text, "lifted").unwrap().lesson;
    let composer = Composer::new(&lesson).unwrap();
    assert_eq!(composer.plans().len(), 24);
    let asked = lifted::asked(phrase);
    for plan in composer.plans() {
        let Ok(sheet) = composer.compose(plan) else {
            continue;
        };
        // What the horn adds to a written pitch, from the standard's own table:
        // a major sixth down for alto, a major ninth down for tenor.
        let to_sounding = if plan.player == 0 { -9 } else { -14 };
        let played = lifted::first_exercise(&sheet.score);
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
