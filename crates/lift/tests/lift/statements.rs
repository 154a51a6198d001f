//! Statements of the shipped lessons, lifted from their sheets and written
//! again.

use std::ops::Range;

use etude::Composer;
use lift::lift;
use reader::{Bars, Selection};
use rhythm::Fraction;
use score::{Element, Score, sounding_notes};

use crate::made::{asked, gives_back, shipped};

/// The measures of a sheet that a statement stands in, from the first that can
/// be asked for, by their numbers.
struct Statement {
    bars: Bars,
    begins: Fraction,
    ends: Fraction,
    measures: Range<usize>,
}

/// An exercise and the number of a statement in it, and its first and last
/// measure.
#[derive(Clone, Copy)]
struct Found {
    own: (u16, u16),
    from: usize,
    to: usize,
}

/// Statements of a sheet, every so many of them, and its shorter exercises.
fn statements(score: &Score, every: usize) -> Vec<Statement> {
    let quarters = |ticks: u32| Fraction::new(i64::from(ticks), i64::from(score.divisions));
    let mut at = Fraction::ZERO;
    let mut begins = Vec::new();
    let mut all: Vec<Found> = Vec::new();
    for (number, measure) in score.part.measures.iter().enumerate() {
        begins.push(at);
        for element in &measure.elements {
            if let Element::Note(note) = element {
                let own = (note.origin.exercise, note.origin.statement);
                match all.iter_mut().find(|found| found.own == own) {
                    Some(found) => found.to = number,
                    None => all.push(Found {
                        own,
                        from: number,
                        to: number,
                    }),
                }
            }
            at += quarters(element.written().length);
        }
    }
    begins.push(at);
    let whole = exercises(&all);
    let chosen = all.into_iter().step_by(every).chain(whole);
    let numbered = |at: usize| u16::try_from(score.part.measures[at].number).unwrap();
    chosen
        .filter_map(|Found { from, to, .. }| {
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

/// Exercises of not too many bars, from the first statement to the last.
fn exercises(statements: &[Found]) -> Vec<Found> {
    let mut whole: Vec<Found> = Vec::new();
    for statement in statements {
        match whole
            .last_mut()
            .filter(|last| last.own.0 == statement.own.0)
        {
            Some(last) => last.to = statement.to,
            None => whole.push(*statement),
        }
    }
    whole.retain(|exercise| exercise.to - exercise.from < 20);
    whole
}

/// Whether a measure's meter has its usual groups, which a file doesn't say.
fn usual(score: &Score, measure: usize) -> bool {
    let meters = score.part.measures[..=measure].iter();
    let meter = meters
        .filter_map(|measure| measure.meter.as_ref())
        .next_back();
    meter.is_some_and(|meter| {
        format!("{}/{}", meter.upper(), meter.lower()).parse() == Ok(meter.clone())
    })
}

/// What is printed of the notes in some measures: values and ties, but not
/// those into the first note and out of the last.
pub fn printed(score: &Score, measures: Range<usize>) -> Vec<String> {
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
                let reading = reader::phrase(&bytes, &Selection::default(), Some(statement.bars));
                let reading = reading.unwrap_or_else(|error| panic!("{name}: {error}"));
                // A figure has one meter, but changes may have several.
                let one_meter = !reading
                    .warnings
                    .iter()
                    .any(|warning| warning.message.starts_with("the meter changes"));
                let phrase = reading.value;
                let expected: Vec<_> = sounding_notes(&sheet.score)
                    .into_iter()
                    .filter_map(|note| {
                        let from = note.onset.max(statement.begins);
                        let to = (note.onset + note.length).min(statement.ends);
                        let onset = from - statement.begins - phrase.pickup;
                        (from < to).then_some((onset, to - from, note.sounding.midi()))
                    })
                    .collect();
                assert_eq!(asked(&phrase), expected, "{name}");
                let lesson = lift(&phrase, None).unwrap_or_else(|error| panic!("{name}: {error}"));
                let score = gives_back(&phrase, &lesson);
                if one_meter && usual(&sheet.score, statement.measures.start) {
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
