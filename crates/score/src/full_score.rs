//! One score with everyone in it: sheets of one key laid bar to bar.

use std::collections::BTreeMap;

use rhythm::{Meter, NoteValue, ValueKind};
use theory::KeySignature;

use crate::{Element, Exercise, Measure, Numbering, Rest, Score, Slash, Written};

/// Lays sheets bar to bar as the parts of one score: each exercise as long as
/// its longest form, who lacks bars of it, or the whole of it, resting.
/// Systems begin where the first sheet's do, and what is said over the music
/// stands over the first part alone.
pub fn full_score(mut parts: Vec<Score>) -> Vec<Score> {
    let mut all: Vec<Passages> = parts.iter_mut().map(take_passages).collect();
    let mut exercises: BTreeMap<usize, Exercise> = BTreeMap::new();
    for exercise in parts.iter().flat_map(|part| &part.exercises) {
        exercises
            .entry(exercise.place)
            .or_insert_with(|| exercise.clone());
    }
    let models: Vec<(usize, Vec<Bar>)> = exercises
        .keys()
        .map(|place| (*place, model(*place, &all)))
        .collect();
    for (number, (part, own)) in parts.iter_mut().zip(&mut all).enumerate() {
        lay(part, own, &models, number == 0);
        // Whoever has no part in an exercise is led through it by the others.
        let others = exercises.values().map(|exercise| {
            let own = part.exercises.iter();
            let own = own.clone().find(|one| one.place == exercise.place);
            own.unwrap_or(exercise).clone()
        });
        let mut first = 0;
        part.exercises = others
            .zip(&models)
            .map(|(exercise, (_, model))| {
                let begins = first;
                first += model.len();
                Exercise {
                    first: begins,
                    ..exercise
                }
            })
            .collect();
    }
    parts
}

/// A bar of a sheet with what is in force there, printed or not.
#[derive(Debug, Clone)]
struct Bar {
    measure: Measure,
    meter: Option<Meter>,
    key: Option<KeySignature>,
}

/// A sheet's bars, exercise by exercise, by their places in the lesson.
type Passages = BTreeMap<usize, Vec<Bar>>;

fn take_passages(sheet: &mut Score) -> Passages {
    let places: Vec<usize> = (0..sheet.part.measures.len())
        .map(|at| sheet.exercises.get(sheet.exercise_of(at)))
        .map(|exercise| exercise.map_or(0, |exercise| exercise.place))
        .collect();
    let mut passages = Passages::new();
    let (mut meter, mut key) = (None, None);
    for (at, measure) in sheet.part.measures.drain(..).enumerate() {
        meter = measure.meter.clone().or(meter);
        key = measure.key.or(key);
        let place = places.get(at).copied().unwrap_or(0);
        passages.entry(place).or_default().push(Bar {
            measure,
            meter: meter.clone(),
            key,
        });
    }
    passages
}

/// The longest form of an exercise, under what stands over the first player's.
fn model(place: usize, all: &[Passages]) -> Vec<Bar> {
    let mut forms = all.iter().filter_map(|passages| passages.get(&place));
    let first = forms.clone().next();
    let longest = forms
        .by_ref()
        .fold(None, |longest: Option<&Vec<Bar>>, form| {
            longest.filter(|one| one.len() >= form.len()).or(Some(form))
        });
    let mut model = longest.cloned().unwrap_or_default();
    for (bar, over) in model.iter_mut().zip(first.into_iter().flatten()) {
        bar.measure.directions.clone_from(&over.measure.directions);
        bar.measure.cues.clone_from(&over.measure.cues);
        bar.measure.begins = over.measure.begins;
    }
    model
}

/// Gives a part the bars of every exercise, its own ones or silent ones.
fn lay(part: &mut Score, own: &mut Passages, models: &[(usize, Vec<Bar>)], first_part: bool) {
    let mut key = own.values().flatten().find_map(|bar| bar.key);
    let renumbered = renumbered(&part.exercises, models);
    let (mut shown_key, mut shown_meter) = (None, None);
    let mut numbering = Numbering::default();
    for (place, model) in models {
        let mut played = own.remove(place).unwrap_or_default().into_iter();
        for bar in model {
            let mine = played.next();
            key = mine.as_ref().and_then(|mine| mine.key).or(key);
            let mut measure = Measure {
                directions: Vec::new(),
                cues: Vec::new(),
                ..mine.map_or_else(|| silent(bar), |mine| mine.measure)
            };
            if first_part {
                measure.directions.clone_from(&bar.measure.directions);
                measure.cues.clone_from(&bar.measure.cues);
            }
            measure.begins = bar.measure.begins;
            measure.barline = bar.measure.barline;
            measure.meter = bar.meter.clone().filter(|_| shown_meter != bar.meter);
            shown_meter.clone_from(&bar.meter);
            measure.key = key.filter(|_| shown_key != key);
            shown_key = key;
            numbering.number(&mut measure);
            for element in &mut measure.elements {
                if let Element::Note(note) | Element::Slash(Slash { note, .. }) = element {
                    let old = usize::from(note.origin.exercise);
                    note.origin.exercise = renumbered.get(old).copied().unwrap_or(0);
                }
            }
            part.part.measures.push(measure);
        }
    }
}

/// The number in the full score of each of a part's own exercises.
fn renumbered(exercises: &[Exercise], models: &[(usize, Vec<Bar>)]) -> Vec<u16> {
    let number = |exercise: &Exercise| {
        let found = models
            .iter()
            .position(|(place, _)| *place == exercise.place);
        found.map_or(0, |number| number as u16)
    };
    exercises.iter().map(number).collect()
}

/// A bar of silence as long as a bar.
fn silent(bar: &Bar) -> Measure {
    let length = bar
        .measure
        .elements
        .iter()
        .map(|element| element.written().length)
        .sum();
    let value = NoteValue {
        kind: ValueKind::Whole,
        dots: 0,
        tuplet: None,
    };
    let written = Written {
        length,
        value,
        edge: None,
        chord: None,
    };
    Measure {
        elements: vec![Element::Rest(Rest {
            written,
            whole_bar: true,
            hidden: false,
        })],
        implicit: bar.measure.implicit,
        ..Measure::default()
    }
}

#[cfg(test)]
mod tests {
    use theory::Signature;

    use super::*;
    use crate::sample::{exercise, note, score};
    use crate::{Barline, Break, Cue, Direction};

    fn key(fifths: i16) -> Option<KeySignature> {
        Some(KeySignature {
            signature: Signature::new(fifths).unwrap(),
            mode: None,
        })
    }

    /// A part whose exercises (by their places in the lesson) have so many
    /// bars of 4/4 in one key.
    fn part(name: &str, fifths: i16, exercises: &[(usize, usize)]) -> Score {
        let bars = exercises.iter().map(|(_, bars)| bars).sum::<usize>();
        let mut part = score(1, (0..bars).map(|_| vec![note("C5", 4)]));
        part.part.name = name.to_owned();
        let mut first = 0;
        for (number, (place, bars)) in exercises.iter().enumerate() {
            part.exercises.push(exercise(*place, first));
            for measure in &mut part.part.measures[first..first + bars] {
                if let Element::Note(note) = &mut measure.elements[0] {
                    note.origin.exercise = number as u16;
                }
            }
            let opens = &mut part.part.measures[first];
            let said = format!("{name} {place}");
            opens.directions.push(Direction::Text(said.clone()));
            opens.cues.push(Cue { at: 0, words: said });
            first += bars;
            part.part.measures[first - 1].barline = Some(Barline::Double);
        }
        if let Some(opens) = part.part.measures.first_mut() {
            opens.meter = "4/4".parse().ok();
            opens.key = key(fifths);
        }
        part
    }

    /// What each bar plays: the number of a note's exercise, `-` where it
    /// rests.
    fn plays(part: &Score) -> String {
        let bars = part.part.measures.iter().map(|bar| match &bar.elements[0] {
            Element::Note(note) => note.origin.exercise.to_string(),
            Element::Rest(rest) if rest.whole_bar && !rest.hidden => "-".to_owned(),
            other => panic!("{other:?}"),
        });
        bars.collect()
    }

    #[test]
    fn each_exercise_is_as_long_as_its_longest_form() {
        let parts = full_score(vec![
            part("A", 0, &[(0, 2), (3, 1)]),
            part("B", -3, &[(0, 3), (2, 2), (3, 1)]),
            part("C", 2, &[(2, 1)]),
        ]);
        let played: Vec<String> = parts.iter().map(plays).collect();
        assert_eq!(played, ["00---2", "000112", "---1--"]);
        for part in &parts {
            let begin: Vec<_> = part
                .exercises
                .iter()
                .map(|one| (one.place, one.first))
                .collect();
            assert_eq!(begin, [(0, 0), (2, 3), (3, 5)], "{}", part.part.name);
            let bars = &part.part.measures;
            let labels: Vec<String> = bars.iter().map(|bar| bar.label().to_string()).collect();
            assert_eq!(labels, ["1", "2", "3", "4", "5", "6"]);
            assert!(bars.iter().all(|bar| bar.length() == 4));
            let lines: Vec<bool> = bars.iter().map(|bar| bar.barline.is_some()).collect();
            assert_eq!(lines, [false, false, true, false, true, true]);
        }
    }

    #[test]
    fn what_is_said_stands_over_the_first_part_alone() {
        let parts = full_score(vec![
            part("A", 0, &[(0, 2), (3, 1)]),
            part("B", 0, &[(0, 3), (2, 2), (3, 1)]),
        ]);
        let said = |part: &Score| -> Vec<(usize, String)> {
            let bars = part.part.measures.iter().enumerate();
            let said = bars.flat_map(|(at, bar)| {
                let over = bar.directions.iter().map(|one| match one {
                    Direction::Text(text) => text.clone(),
                    other => panic!("{other:?}"),
                });
                let cues = bar.cues.iter().map(|cue| cue.words.clone());
                over.chain(cues).map(move |words| (at, words))
            });
            said.collect()
        };
        // Of an exercise that the first part hasn't, what its first player's
        // sheet says.
        let expected = [(0, "A 0"), (3, "B 2"), (5, "A 3")];
        let twice = expected.into_iter().flat_map(|one| [one, one]);
        let twice: Vec<_> = twice.map(|(at, words)| (at, words.to_owned())).collect();
        assert_eq!(said(&parts[0]), twice);
        assert_eq!(said(&parts[1]), []);
    }

    #[test]
    fn systems_begin_where_the_first_sheet_has_them() {
        let mut first = part("A", 0, &[(0, 2)]);
        first.part.measures[1].begins = Some(Break::System);
        let mut second = part("B", 0, &[(0, 3)]);
        second.part.measures[2].begins = Some(Break::System);
        for part in full_score(vec![first, second]) {
            let begin = part.part.measures.iter().map(|bar| bar.begins);
            let begin: Vec<_> = begin.collect();
            // Past the first one's end, its own.
            let expected = [None, Some(Break::System), Some(Break::System)];
            assert_eq!(begin, expected, "{}", part.part.name);
        }
    }

    #[test]
    fn keys_and_meters_are_printed_where_they_change() {
        let mut first = part("A", -1, &[(0, 1), (1, 1), (2, 1)]);
        first.part.measures[1].meter = "3/4".parse().ok();
        first.part.measures[2].key = key(2);
        let silent_first = part("B", 4, &[(2, 1)]);
        let parts = full_score(vec![first, silent_first]);
        let printed = |part: &Score| -> Vec<(Option<i8>, Option<String>)> {
            let bars = part.part.measures.iter();
            let printed = bars.map(|bar| {
                let key = bar.key.map(|key| key.signature.fifths());
                (key, bar.meter.as_ref().map(ToString::to_string))
            });
            printed.collect()
        };
        let meters = [Some("4/4".to_owned()), Some("3/4".to_owned()), None];
        let [four, three, same] = meters;
        assert_eq!(
            printed(&parts[0]),
            [
                (Some(-1), four.clone()),
                (None, three.clone()),
                (Some(2), same)
            ]
        );
        // Who rests at first reads the key that comes; its last exercise is in
        // the meter of the model, the first part's.
        assert_eq!(
            printed(&parts[1]),
            [(Some(4), four), (None, three), (None, None)]
        );
    }

    #[test]
    fn pickups_are_numbered_apart() {
        let mut sheets = Vec::new();
        for name in ["A", "B"] {
            let mut sheet = part(name, 0, &[(0, 2), (1, 2)]);
            sheet.part.measures[0].implicit = true;
            sheet.part.measures[2].implicit = true;
            sheets.push(sheet);
        }
        sheets[1].exercises.pop();
        sheets[1].part.measures.truncate(2);
        for part in full_score(sheets) {
            let bars = part.part.measures.iter();
            let labels: Vec<String> = bars.map(|bar| bar.label().to_string()).collect();
            assert_eq!(labels, ["0", "1", "X1", "2"], "{}", part.part.name);
        }
        assert_eq!(full_score(Vec::new()), []);
    }
}
