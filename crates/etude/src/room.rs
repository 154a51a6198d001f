//! One score with everyone in it: sheets of the same key laid bar to bar, at
//! concert pitch or each in its own transposition.

use std::borrow::Cow;
use std::collections::BTreeMap;

use lesson::{Lesson, Named, Player};
use rhythm::Meter;
use rhythm::{NoteValue, TickError, ValueKind};
use score::{About, Element, HeadLine, Measure, Rest, Score, Slash, Transposition, Written};
use theory::{
    Clef, ClefSign, Instrument, Interval, KeySignature, Pitch, PitchName, Range, RootWish,
    Signature, concert_root, transposition,
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
    let players: Vec<&Player> = sheets
        .iter()
        .map(|(plan, _)| &lesson.players[plan.player])
        .collect();
    let mut parts: Vec<Score> = Vec::with_capacity(sheets.len());
    for ((plan, sheet), player) in sheets.into_iter().zip(&players) {
        let mut part = sheet;
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
    laid(&mut parts);
    if let Some(head) = parts.first_mut() {
        head.head = room_head(lesson, first, concert, &players, &head.head);
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
    let over = first.kind.over().map(|over| over.key);
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

/// A bar of a sheet with what is in force there, printed or not.
#[derive(Debug, Clone)]
struct Bar {
    measure: Measure,
    meter: Option<Meter>,
    key: Option<KeySignature>,
}

/// A sheet's bars, exercise by exercise, by their places in the lesson.
fn bars(sheet: &mut Score) -> BTreeMap<usize, Vec<Bar>> {
    let mut bars: BTreeMap<usize, Vec<Bar>> = BTreeMap::new();
    let (mut meter, mut key) = (None, None);
    for (at, measure) in sheet.part.measures.drain(..).enumerate() {
        meter = measure.meter.clone().or(meter);
        key = measure.key.or(key);
        let before = sheet.exercises.iter().rev();
        let exercise = before.clone().find(|exercise| exercise.first <= at);
        let place = exercise.map_or(0, |exercise| exercise.place);
        bars.entry(place).or_default().push(Bar {
            measure,
            meter: meter.clone(),
            key,
        });
    }
    bars
}

/// Lays sheets bar to bar: each exercise as long as its longest form, who
/// lacks bars of it, or the whole of it, resting. What stands over the music
/// stands over the first part alone.
fn laid(parts: &mut [Score]) {
    let mut all: Vec<BTreeMap<usize, Vec<Bar>>> = parts.iter_mut().map(bars).collect();
    let mut exercises: BTreeMap<usize, score::Exercise> = BTreeMap::new();
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
                score::Exercise {
                    first: begins,
                    ..exercise
                }
            })
            .collect();
    }
}

/// The longest form of an exercise, under what stands over the first player's.
fn model(place: usize, all: &[BTreeMap<usize, Vec<Bar>>]) -> Vec<Bar> {
    let mut forms = all.iter().filter_map(|bars| bars.get(&place));
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

fn lay(
    part: &mut Score,
    own: &mut BTreeMap<usize, Vec<Bar>>,
    models: &[(usize, Vec<Bar>)],
    first_part: bool,
) {
    let mut key = own.values().flatten().find_map(|bar| bar.key);
    let mut exercises = part.exercises.iter().map(|exercise| exercise.place);
    let mut numbered: BTreeMap<usize, u16> = BTreeMap::new();
    for (number, (place, _)) in (0..).zip(models) {
        numbered.insert(*place, number);
    }
    let renumbered: Vec<u16> = exercises
        .by_ref()
        .map(|place| numbered.get(&place).copied().unwrap_or(0))
        .collect();
    let (mut shown_key, mut shown_meter) = (None, None);
    let (mut count, mut extras) = (0, 0);
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
            let opens = part.part.measures.is_empty();
            measure.extra = measure.implicit && !opens;
            if !measure.implicit {
                count += 1;
                measure.number = count;
            } else if measure.extra {
                extras += 1;
                measure.number = extras;
            }
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
