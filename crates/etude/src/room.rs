//! One score with everyone in it: sheets of the same key laid bar to bar, at
//! concert pitch or each in its own transposition.

use std::borrow::Cow;

use lesson::{Lesson, Named, Player};
use rhythm::Meter;
use rhythm::{NoteValue, TickError, ValueKind};
use score::{About, Element, HeadLine, Measure, Rest, Score, Slash, Transposition, Written};
use theory::{
    Clef, ClefSign, Instrument, Interval, Pitch, PitchName, Range, RootWish, Signature,
    concert_root, transposition,
};

use crate::blank::middle_line;
use crate::heading::key_name;
use crate::{Composer, SheetPlan, plan};

/// How the parts of a room score are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RoomPitch {
    /// As they sound, but for octaves.
    Concert,
    /// Each in its own transposition.
    Transposed,
}

/// A score with everyone in it in one key.
#[derive(Debug)]
pub struct Room {
    /// The name of its file without an ending: `01-c`, by the concert root.
    pub stem: String,
    /// Its parts, of the same bars; the first one's head is the score's.
    pub parts: Vec<Score>,
}

/// The room scores of a lesson: one for each key of these sheets, numbered as
/// the first player's; who is left out in a key is not in it.
///
/// # Errors
/// When the lesson's rhythms need finer ticks than readers take.
pub fn rooms(
    lesson: &Lesson,
    plans: &[SheetPlan],
    pitch: RoomPitch,
) -> Result<Vec<Room>, TickError> {
    let played: Cow<Lesson> = match pitch {
        RoomPitch::Concert => Cow::Owned(at_concert_pitch(lesson)),
        RoomPitch::Transposed => Cow::Borrowed(lesson),
    };
    let composer = Composer::new(&played)?;
    let mut keys: Vec<(&SheetPlan, Vec<(SheetPlan, Score)>)> = Vec::new();
    for plan in plans {
        let same = |other: &&SheetPlan| other.player == plan.player && other.goes_with(plan);
        let Some(own) = composer.plans().iter().find(same) else {
            continue;
        };
        let Ok(sheet) = composer.compose(own) else {
            continue;
        };
        let score = (*own, sheet.score);
        match keys.iter_mut().find(|(first, _)| first.goes_with(plan)) {
            Some((_, sheets)) => sheets.push(score),
            None => keys.push((plan, vec![score])),
        }
    }
    let rooms = keys
        .into_iter()
        .map(|(first, sheets)| room(lesson, first, sheets, pitch));
    Ok(rooms.collect())
}

/// A lesson for a score at concert pitch: every horn that is written in
/// another key reads what sounds. Octave transposers stay as they are
/// (MusicXML 4.0 `concert-score`).
fn at_concert_pitch(lesson: &Lesson) -> Lesson {
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
fn room(
    lesson: &Lesson,
    first: &SheetPlan,
    sheets: Vec<(SheetPlan, Score)>,
    pitch: RoomPitch,
) -> Room {
    let concert = concert_name(lesson, first);
    let longest = longest_exercises(sheets.iter().map(|(_, sheet)| sheet));
    let players: Vec<&Player> = sheets
        .iter()
        .map(|(plan, _)| &lesson.players[plan.player])
        .collect();
    let mut parts: Vec<Score> = Vec::with_capacity(sheets.len());
    for ((plan, sheet), player) in sheets.into_iter().zip(&players) {
        let mut part = filled(sheet, &longest);
        part.part.name = name(player);
        let horn = player.instrument.written_to_sounding;
        match pitch {
            RoomPitch::Concert if horn.fifths() != 0 => choose_clef(&mut part),
            // The name that everyone sees decides its letters.
            RoomPitch::Transposed if !plan.through_keys => {
                let letters = transposition(plan.written, concert, horn);
                part.part.transposition = Transposition::of(letters);
            }
            RoomPitch::Concert | RoomPitch::Transposed => {}
        }
        parts.push(part);
    }
    if let Some((head, others)) = parts.split_first_mut() {
        head.head = room_head(lesson, first, concert, &players, &head.head);
        for other in others {
            for (measure, model) in other.part.measures.iter_mut().zip(&head.part.measures) {
                measure.begins = model.begins;
                measure.barline = model.barline;
                measure.number = model.number;
                measure.extra = model.extra;
                measure.directions.clear();
            }
        }
    }
    let stem = SheetPlan { concert, ..*first };
    Room {
        stem: stem.concert_stem(),
        parts,
    }
}

/// The lesson's class, who plays, the key, and what the first sheet's head
/// says of the music.
fn room_head(
    lesson: &Lesson,
    plan: &SheetPlan,
    concert: PitchName,
    players: &[&Player],
    head: &[HeadLine],
) -> Vec<HeadLine> {
    let names: Vec<String> = players.iter().map(|player| name(player)).collect();
    let class = lesson.class.iter().cloned();
    let mut lines: Vec<HeadLine> = class
        .chain([names.join(", ")])
        .map(|line| HeadLine::new(About::Player, line))
        .collect();
    if !plan.through_keys {
        let key = key_name(concert, plan::is_minor(lesson, plan), lesson);
        lines.push(HeadLine::new(About::Key, format!("Concert {key}")));
    }
    let music = |line: &&HeadLine| match line.about {
        About::Figure | About::Keys | About::Care => true,
        About::Sheet | About::Player | About::Key | About::Edition => false,
    };
    lines.extend(head.iter().filter(music).cloned());
    lines
}

/// A player's own name, else the instrument's.
fn name(player: &Player) -> String {
    let own = player.name.clone();
    own.unwrap_or_else(|| player.instrument.name.to_string())
}

/// The name of a sheet's concert root as instruments in C read it.
fn concert_name(lesson: &Lesson, plan: &SheetPlan) -> PitchName {
    let exercises = plan::exercises(lesson, plan);
    let Some(first) = exercises.first().map(|at| &lesson.exercises[*at]) else {
        return plan.concert;
    };
    let class = plan.concert.class();
    let keys = &lesson.keys;
    let typed = keys.typed(class).filter(|_| keys.named == Named::Concert);
    let over = first.over.as_ref().map(|over| over.key);
    let wish = RootWish {
        typed: typed.or(over.filter(|key| key.class() == class)),
        prefer: keys.prefer,
    };
    concert_root(class, &lesson.scales[first.scale].scale, wish)
}

fn sounding(instrument: &Instrument) -> Instrument {
    let horn = instrument.written_to_sounding;
    let moved = |range: Range| Range {
        low: range.low + horn,
        high: range.high + horn,
    };
    Instrument {
        clef: CLEFS[0],
        written_to_sounding: Interval::UNISON,
        ranges: instrument.ranges.map(moved),
        extreme: moved(instrument.extreme),
        register_break: None,
        ..instrument.clone()
    }
}

/// The clefs that a horn may take at concert pitch: treble, treble an octave
/// lower, bass.
const CLEFS: [Clef; 3] = [
    Clef {
        sign: ClefSign::G,
        line: 2,
        octave_change: 0,
    },
    Clef {
        sign: ClefSign::G,
        line: 2,
        octave_change: -1,
    },
    Clef {
        sign: ClefSign::F,
        line: 4,
        octave_change: 0,
    },
];

/// Gives a part the clef that needs fewest ledger lines for what it plays; of
/// equals the first.
fn choose_clef(part: &mut Score) {
    let notes: Vec<Pitch> = part
        .part
        .measures
        .iter()
        .flat_map(|measure| &measure.elements)
        .filter_map(|element| match element {
            Element::Note(note) => Some(note.pitch),
            Element::Rest(_) | Element::Slash(_) => None,
        })
        .collect();
    let lines = |clef: &Clef| -> u32 { notes.iter().map(|note| ledger_lines(*note, *clef)).sum() };
    let clef = CLEFS.into_iter().min_by_key(lines).unwrap_or(CLEFS[0]);
    part.part.clef = clef;
    let mut signature = Signature::NONE;
    for measure in &mut part.part.measures {
        signature = measure.key.map_or(signature, |key| key.signature);
        for element in &mut measure.elements {
            if let Element::Slash(Slash { note, .. }) = element {
                note.pitch = middle_line(clef, signature);
            }
        }
    }
}

/// Ledger lines that a note needs: staff lines and the spaces beside them need
/// none.
fn ledger_lines(pitch: Pitch, clef: Clef) -> u32 {
    let middle = middle_line(clef, Signature::NONE);
    let away = (pitch.steps() - middle.steps()).unsigned_abs();
    u32::from(away.saturating_sub(4) / 2)
}

/// Measures of the longest form of each exercise.
fn longest_exercises<'a>(sheets: impl Iterator<Item = &'a Score>) -> Vec<usize> {
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
    let starts = || sheet.exercises.iter().map(|exercise| exercise.first);
    let ends = starts().skip(1).chain([sheet.part.measures.len()]);
    starts().zip(ends).map(|(start, end)| end - start).collect()
}

fn filled(mut sheet: Score, longest: &[usize]) -> Score {
    let lengths = lengths(&sheet);
    let mut measures: Vec<Measure> = Vec::new();
    let mut meter: Option<Meter> = None;
    let (mut bars, mut extras) = (0, 0);
    let mut rest = sheet.part.measures.into_iter();
    let mut exercises = sheet.exercises.iter_mut();
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
        if let Some(described) = exercises.next() {
            described.first = measures.len();
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ledger_lines_of_clefs() {
        // Common practice: C4 hangs on one line under the treble staff and
        // over the bass staff.
        let check = |pitch: &str, expected: [u32; 3]| {
            let pitch: Pitch = pitch.parse().unwrap();
            assert_eq!(
                CLEFS.map(|clef| ledger_lines(pitch, clef)),
                expected,
                "{pitch}"
            );
        };
        check("C4", [1, 0, 1]);
        check("D4", [0, 0, 1]);
        check("B3", [1, 0, 0]);
        check("A3", [2, 0, 0]);
        check("G5", [0, 4, 6]);
        check("A5", [1, 4, 7]);
        check("C3", [4, 1, 0]);
        check("F2", [6, 3, 0]);
        check("E2", [7, 3, 1]);
    }
}
