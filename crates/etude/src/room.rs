//! One score with everyone in it: sheets of the same key laid bar to bar, at
//! concert pitch or each in its own transposition.

use lesson::Lesson;
use rhythm::Meter;
use rhythm::{NoteValue, ValueKind};
use score::{About, Element, Measure, Rest, Score, Written};
use theory::{Clef, ClefSign, Instrument, Interval, Range};

/// A lesson for a score at concert pitch: every horn that is written in
/// another key reads what sounds, in the clef that suits its range. Octave
/// transposers stay as they are (MusicXML 4.0 `concert-score`).
pub fn at_concert_pitch(lesson: &Lesson) -> Lesson {
    let mut concert = lesson.clone();
    for player in &mut concert.players {
        let horn = player.instrument.written_to_sounding;
        if horn.fifths() == 0 {
            continue;
        }
        player.low = player.low.map(|pitch| pitch + horn);
        player.high = player.high.map(|pitch| pitch + horn);
        player.instrument = sounding(&player.instrument);
    }
    concert
}

/// Sheets of one key as the parts of one score: an exercise that is shorter
/// for one of them is filled with silent bars, systems begin where the first
/// sheet's do, and what is said over the music stands over the first part.
pub fn room(sheets: Vec<Score>) -> Vec<Score> {
    let longest = longest_exercises(&sheets);
    let mut parts: Vec<Score> = sheets
        .into_iter()
        .map(|sheet| filled(sheet, &longest))
        .collect();
    let Some((first, others)) = parts.split_first_mut() else {
        return parts;
    };
    first
        .head
        .retain(|line| !matches!(line.about, About::Key | About::Edition));
    for other in others {
        for (measure, model) in other.part.measures.iter_mut().zip(&first.part.measures) {
            measure.begins = model.begins;
            measure.barline = model.barline;
            measure.number = model.number;
            measure.extra = model.extra;
            measure.directions.clear();
        }
    }
    parts
}

fn sounding(instrument: &Instrument) -> Instrument {
    let horn = instrument.written_to_sounding;
    let moved = |range: Range| Range {
        low: range.low + horn,
        high: range.high + horn,
    };
    let ranges = instrument.ranges.map(moved);
    let low = ranges[1].twice_middle() < 2 * 60;
    let (sign, line) = if low {
        (ClefSign::F, 4)
    } else {
        (ClefSign::G, 2)
    };
    Instrument {
        clef: Clef {
            sign,
            line,
            octave_change: 0,
        },
        written_to_sounding: Interval::UNISON,
        ranges,
        extreme: moved(instrument.extreme),
        register_break: None,
        ..instrument.clone()
    }
}

/// Where each exercise of a sheet begins: after the barline that ends the one
/// before.
fn exercise_starts(sheet: &Score) -> Vec<usize> {
    let measures = &sheet.part.measures;
    let opens = |at: &usize| {
        at.checked_sub(1)
            .is_none_or(|before| measures[before].barline.is_some())
    };
    (0..measures.len()).filter(opens).collect()
}

/// Measures of the longest form of each exercise.
fn longest_exercises(sheets: &[Score]) -> Vec<usize> {
    let mut longest: Vec<usize> = Vec::new();
    for sheet in sheets {
        for (place, length) in lengths(sheet).into_iter().enumerate() {
            match longest.get_mut(place) {
                Some(known) => *known = length.max(*known),
                None => longest.push(length),
            }
        }
    }
    longest
}

fn lengths(sheet: &Score) -> Vec<usize> {
    let starts = exercise_starts(sheet);
    let ends = starts
        .iter()
        .skip(1)
        .copied()
        .chain([sheet.part.measures.len()]);
    starts
        .iter()
        .zip(ends)
        .map(|(start, end)| end - start)
        .collect()
}

fn filled(mut sheet: Score, longest: &[usize]) -> Score {
    let lengths = lengths(&sheet);
    let mut measures: Vec<Measure> = Vec::new();
    let mut meter: Option<Meter> = None;
    let (mut bars, mut extras) = (0, 0);
    let mut rest = sheet.part.measures.into_iter();
    for (length, most) in lengths.iter().zip(longest) {
        let mut exercise: Vec<Measure> = rest.by_ref().take(*length).collect();
        meter = exercise
            .iter()
            .rev()
            .find_map(|measure| measure.meter.clone())
            .or(meter);
        let barline = exercise.last_mut().and_then(|last| last.barline.take());
        let silent = most - length;
        exercise.extend((0..silent).map(|_| silent_bar(meter.as_ref(), sheet.divisions)));
        if let Some(last) = exercise.last_mut() {
            last.barline = barline;
        }
        for mut measure in exercise {
            if !measure.implicit {
                bars += 1;
                measure.number = bars;
            } else if !measures.is_empty() {
                extras += 1;
                (measure.number, measure.extra) = (extras, true);
            }
            measures.push(measure);
        }
    }
    sheet.part.measures = measures;
    sheet
}

fn silent_bar(meter: Option<&Meter>, divisions: u32) -> Measure {
    let quarters = meter.map_or(rhythm::Fraction::from(4), Meter::bar);
    let length = (quarters * i64::from(divisions)).to_integer();
    let value = NoteValue {
        kind: ValueKind::Whole,
        dots: 0,
        tuplet: None,
    };
    let written = Written {
        length: u32::try_from(length).unwrap_or(0),
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
        ..Measure::default()
    }
}
