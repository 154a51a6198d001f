//! One book per horn: all of a player's sheets after each other, each on a
//! page of its own.

use theory::{Instrument, KeySignature};

use crate::{
    Break, Chords, Direction, Element, Exercise, HeadLine, Measure, Note, Numbering, Score, Slash,
    Transposition, Written,
};

/// Binds sheets of one player, in order, into one score.
///
/// A part keeps one transposition, so the book has the instrument's own: where
/// a sheet's key was renamed on the horn, a reader's concert view spells that
/// key enharmonically. Bars are numbered through; what is printed begins with
/// 1 in each exercise. None if there are no sheets.
pub fn book(sheets: &[Score], instrument: &Instrument) -> Option<Score> {
    let first = sheets.first()?;
    let shared = |line: &HeadLine| sheets.iter().all(|sheet| sheet.head.contains(line));
    let mut bound = Score {
        head: first
            .head
            .iter()
            .filter(|line| shared(line))
            .cloned()
            .collect(),
        chords: Chords::default(),
        exercises: Vec::new(),
        ..first.clone()
    };
    bound.part.measures = Vec::new();
    bound.part.transposition = Transposition::of(instrument.written_to_sounding);
    let mut binding = Binding::default();
    for sheet in sheets {
        let own: Vec<&HeadLine> = sheet.head.iter().filter(|line| !shared(line)).collect();
        binding.add(sheet, &own, &mut bound);
    }
    bound.chords = binding.chords;
    Some(bound)
}

/// Where a book has come to.
#[derive(Debug, Default)]
struct Binding {
    numbering: Numbering,
    chords: Chords,
    key: Option<KeySignature>,
}

impl Binding {
    fn add(&mut self, sheet: &Score, own: &[&HeadLine], bound: &mut Score) {
        let places: Vec<u16> = sheet
            .chords
            .iter()
            .map(|chord| self.chords.place_of(&chord.symbol, &chord.scale))
            .collect();
        let measures = bound.part.measures.len();
        let before = bound.exercises.len() as u16;
        let exercises = sheet.exercises.iter().cloned();
        bound.exercises.extend(exercises.map(|exercise| Exercise {
            first: measures + exercise.first,
            ..exercise
        }));
        let mut shown = 0;
        for (at, measure) in sheet.part.measures.iter().enumerate() {
            let mut measure = measure.clone();
            if sheet.exercise_from(at).is_some() {
                shown = 0;
            }
            for element in &mut measure.elements {
                shift(element, &places, before);
            }
            if at == 0 {
                self.open_sheet(own, bound, &mut measure);
            }
            self.numbering.number(&mut measure);
            if !measure.implicit {
                shown += 1;
                measure.shown = Some(shown);
            }
            bound.part.measures.push(measure);
        }
        self.key = bound
            .part
            .measures
            .iter()
            .rev()
            .find_map(|measure| measure.key);
    }

    /// A sheet's first measure: on a new page, with what only it says.
    fn open_sheet(&self, own: &[&HeadLine], bound: &Score, measure: &mut Measure) {
        let begun = &bound.part.measures;
        let meter = begun
            .iter()
            .rev()
            .find_map(|measure| measure.meter.as_ref());
        if meter.is_some() && meter == measure.meter.as_ref() {
            measure.meter = None;
        }
        if measure.key == self.key {
            measure.key = None;
        }
        measure.begins = (!begun.is_empty()).then_some(Break::Page);
        for line in own.iter().rev() {
            measure
                .directions
                .insert(0, Direction::Words(line.text.clone().into()));
        }
    }
}

fn shift(element: &mut Element, places: &[u16], exercises: u16) {
    let moved =
        |chord: Option<u16>| chord.and_then(|place| places.get(usize::from(place)).copied());
    let shifted = |written: Written| Written {
        chord: moved(written.chord),
        ..written
    };
    match element {
        Element::Note(note) | Element::Slash(Slash { note, .. }) => {
            let Note {
                written, origin, ..
            } = note;
            *written = shifted(*written);
            origin.chord = moved(origin.chord);
            origin.exercise += exercises;
        }
        Element::Rest(rest) => rest.written = shifted(rest.written),
    }
}
