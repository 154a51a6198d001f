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
