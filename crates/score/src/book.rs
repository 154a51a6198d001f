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

#[cfg(test)]
mod tests {
    use theory::{ChordSymbol, Degree, Instrument, Interval, Signature};

    use super::*;
    use crate::About;
    use crate::sample::{exercise, note, rest, score, tied};

    fn key(fifths: i16) -> Option<KeySignature> {
        Some(KeySignature {
            signature: Signature::new(fifths).unwrap(),
            mode: None,
        })
    }

    fn alto() -> Instrument {
        Instrument::named("alto saxophone").unwrap()
    }

    /// A pickup and three bars of two exercises, the second from its third
    /// measure on; a chord over the first bar's note and over the rest.
    fn sheet(fifths: i16, own: &str, chord: &str) -> Score {
        let mut sheet = score(
            2,
            [
                vec![note("G4", 2)],
                vec![note("C5", 4), rest(4)],
                vec![note("D5", 8)],
                vec![note("E5", 8)],
            ],
        );
        let symbol: ChordSymbol = chord.parse().unwrap();
        let place = sheet.chords.place_of(&symbol, &[Degree::ROOT]);
        let other = sheet.chords.place_of(&"C6".parse().unwrap(), &[]);
        let measures = &mut sheet.part.measures;
        measures[0].implicit = true;
        measures[0].key = key(fifths);
        measures[0].meter = "4/4".parse().ok();
        if let Element::Note(first) = &mut measures[1].elements[0] {
            first.written.chord = Some(place);
            first.origin.chord = Some(other);
        }
        if let Element::Rest(rest) = &mut measures[1].elements[1] {
            rest.written.chord = Some(other);
        }
        measures[3].elements = vec![Element::Slash(Slash {
            note: tied("B4", 8, false, false),
            rhythmic: false,
        })];
        for measure in &mut measures[2..] {
            if let Element::Note(note) | Element::Slash(Slash { note, .. }) =
                &mut measure.elements[0]
            {
                note.origin.exercise = 1;
                note.origin.chord = Some(place);
            }
        }
        sheet.exercises = vec![exercise(0, 0), exercise(1, 2)];
        sheet.head = ["Quay band", own]
            .map(|line| HeadLine::new(About::Player, line))
            .to_vec();
        sheet
    }

    #[test]
    fn sheets_follow_each_other_each_on_its_page() {
        let sheets = [
            sheet(0, "C", "G7"),
            sheet(0, "again", "A7"),
            sheet(1, "G", "G7"),
        ];
        let bound = book(&sheets, &alto()).unwrap();
        let measures = &bound.part.measures;
        let labels: Vec<String> = measures.iter().map(|one| one.label().to_string()).collect();
        let expected = ["0", "1", "2", "3", "X1", "4", "5", "6", "X2", "7", "8", "9"];
        assert_eq!(labels, expected);
        let printed: Vec<u32> = measures.iter().map(Measure::printed_number).collect();
        // A pickup isn't printed; each exercise begins with 1.
        assert_eq!(printed, [0, 1, 1, 2, 1, 1, 1, 2, 2, 1, 1, 2]);
        let pages: Vec<usize> = (0..12)
            .filter(|at| measures[*at].begins == Some(Break::Page))
            .collect();
        assert_eq!(pages, [4, 8]);
        let first: Vec<usize> = bound.exercises.iter().map(|one| one.first).collect();
        assert_eq!(first, [0, 2, 4, 6, 8, 10]);
        let places: Vec<usize> = bound.exercises.iter().map(|one| one.place).collect();
        assert_eq!(places, [0, 1, 0, 1, 0, 1]);
    }

    #[test]
    fn key_and_meter_are_printed_when_they_change() {
        let sheets = [
            sheet(0, "C", "G7"),
            sheet(0, "again", "A7"),
            sheet(1, "G", "G7"),
        ];
        let bound = book(&sheets, &alto()).unwrap();
        let at = |place: usize| {
            let measure = &bound.part.measures[place];
            (measure.key, measure.meter.is_some())
        };
        let expected = [(key(0), true), (None, false), (key(1), false)];
        assert_eq!([0, 4, 8].map(at), expected);
    }

    #[test]
    fn what_only_a_sheet_says_stands_over_it() {
        let sheets = [sheet(0, "C", "G7"), sheet(1, "G", "G7")];
        let bound = book(&sheets, &alto()).unwrap();
        let head: Vec<&str> = bound.head.iter().map(|line| line.text.as_str()).collect();
        assert_eq!(head, ["Quay band"]);
        let said = |place: usize| bound.part.measures[place].directions.clone();
        assert_eq!(said(0), [Direction::Words("C".into())]);
        assert_eq!(said(4), [Direction::Words("G".into())]);
        let of_one = book(&sheets[..1], &alto()).unwrap();
        assert_eq!(of_one.head.len(), 2);
        assert!(book(&[], &alto()).is_none());
    }

    #[test]
    fn chords_and_exercises_keep_their_notes() {
        let sheets = [sheet(0, "C", "G7"), sheet(0, "again", "A7")];
        let bound = book(&sheets, &alto()).unwrap();
        let symbols: Vec<String> = bound
            .chords
            .iter()
            .map(|chord| format!("{} {}", chord.symbol, chord.scale.len()))
            .collect();
        assert_eq!(symbols, ["G7 1", "C6 0", "A7 1"]);
        let said = |place: Option<u16>| {
            let symbol = place.and_then(|place| bound.chords.symbol(place));
            symbol.map_or("-".to_owned(), ToString::to_string)
        };
        let all: Vec<String> = bound
            .elements()
            .map(|(at, element)| match element {
                Element::Note(note) | Element::Slash(Slash { note, .. }) => format!(
                    "{at} {} {} {}",
                    note.origin.exercise,
                    said(note.written.chord),
                    said(note.origin.chord)
                ),
                Element::Rest(rest) => format!("{at} {}", said(rest.written.chord)),
            })
            .collect();
        assert_eq!(
            all,
            [
                "0 0 - -",
                "2 0 G7 C6",
                "6 C6",
                "10 1 - G7",
                "18 1 - G7",
                "26 2 - -",
                "28 2 A7 C6",
                "32 C6",
                "36 3 - A7",
                "44 3 - A7"
            ]
        );
    }

    #[test]
    fn a_book_has_the_instruments_own_transposition() {
        let mut named_otherwise = sheet(0, "C", "G7");
        named_otherwise.part.transposition = Transposition::of(Interval::from_steps(-4, -9));
        let bound = book(&[named_otherwise], &alto()).unwrap();
        let own = Transposition::of(alto().written_to_sounding);
        assert_eq!(bound.part.transposition, own);
        let flute = Instrument::named("flute").unwrap();
        let bound = book(&[sheet(0, "C", "G7")], &flute).unwrap();
        assert_eq!(bound.part.transposition, None);
    }
}
