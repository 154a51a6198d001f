//! Books and editions.

use std::sync::atomic::AtomicBool;

use etude::{Composer, Room, RoomPitch, rooms};
use lesson::Lesson;
use score::{Break, Score, book, edition, sounding_notes};

use crate::support::lesson;

const TEXT: &str = "title = \"Test\"\nclass = \"Quay band\"\ninstruments = [\"alto saxophone\"]\n[keys]\nonly = [\"C\", \"E\", \"F\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up, step up\"\ncount = \"4 & | 1\"\n";

fn scores(lesson: &Lesson) -> Vec<Score> {
    let composer = Composer::new(lesson).unwrap();
    let sheets = composer
        .plans()
        .iter()
        .map(|plan| composer.compose(plan).unwrap().score);
    sheets.collect()
}

#[test]
fn a_book_holds_every_sheet_in_order() {
    let lesson = lesson(TEXT);
    let sheets = scores(&lesson);
    let book = book(&sheets, &lesson.players[0].instrument).unwrap();
    let measures = &book.part.measures;
    assert_eq!(
        measures.len(),
        sheets
            .iter()
            .map(|sheet| sheet.part.measures.len())
            .sum::<usize>()
    );
    let pages = measures
        .iter()
        .filter(|measure| measure.begins == Some(Break::Page))
        .count();
    assert_eq!(pages, sheets.len() - 1);

    // Written pitches, lengths and chords are the sheets' own.
    let notes = |score: &Score| -> Vec<_> {
        let named = |note: score::SoundingNote| {
            let chord = note
                .origin
                .chord
                .map(|at| score.chords.symbol(at).unwrap().to_string());
            (note.written, note.length, note.origin.degree, chord)
        };
        sounding_notes(score).into_iter().map(named).collect()
    };
    assert_eq!(
        notes(&book),
        sheets.iter().flat_map(notes).collect::<Vec<_>>()
    );

    // The transposition is the instrument's own, though concert E is Db here.
    let own = lesson.players[0].instrument.written_to_sounding;
    assert_eq!(book.part.transposition.map(|t| t.interval()), Some(own));
    assert_eq!(book.head[0].text, "Quay band");
    assert!(
        !book
            .head
            .iter()
            .any(|line| line.text.starts_with("Written"))
    );
    assert!(score::book(&[], &lesson.players[0].instrument).is_none());
}

#[test]
fn bars_are_unique_and_print_from_one() {
    let lesson = lesson(TEXT);
    let book = book(&scores(&lesson), &lesson.players[0].instrument).unwrap();
    let mut numbers: Vec<(bool, u32)> = book
        .part
        .measures
        .iter()
        .map(|measure| (measure.extra, measure.number))
        .collect();
    let count = numbers.len();
    numbers.sort_unstable();
    numbers.dedup();
    assert_eq!(numbers.len(), count);
    let firsts = book
        .part
        .measures
        .iter()
        .filter(|measure| measure.shown == Some(1))
        .count();
    assert_eq!(firsts, 3 * lesson.exercises.len());
}

#[test]
fn an_edition_changes_with_the_music_only() {
    let mark = |text: &str| edition(&scores(&lesson(text))[0]);
    let plain = mark(TEXT);
    assert_eq!(plain.len(), 6);
    assert_eq!(mark(&TEXT.replace("Test", "Another title")), plain);
    assert_eq!(mark(&TEXT.replace("Quay band", "Evening class")), plain);
    assert_ne!(
        mark(&TEXT.replace("step up, step up", "step up, skip up")),
        plain
    );
    assert_ne!(mark(&TEXT.replace("4 & | 1", "4 & | 2")), plain);
    let head = scores(&lesson(TEXT))[0].head.clone();
    let said = format!("Edition {plain}");
    assert!(head.iter().any(|line| line.text == said), "{head:?}");
}

const ROOM: &str = "title = \"Test\"\ninstruments = [\"flute\", \"alto saxophone\", \"baritone saxophone\", \"double bass\"]\n[keys]\nonly = [\"E\"]\n[scale]\nname = \"major\"\n[figure]\ndegrees = \"1 2 3 5\"\ncount = \"1 2 3 4\"\n";

/// The room scores of a lesson.
fn made(lesson: &Lesson, pitch: RoomPitch) -> Vec<Room> {
    let composer = Composer::new(lesson).unwrap();
    rooms(lesson, composer.plans(), pitch, &AtomicBool::new(false)).unwrap()
}

fn head(score: &Score) -> Vec<&str> {
    score.head.iter().map(|line| line.text.as_str()).collect()
}

#[test]
fn a_room_plays_bar_to_bar() {
    let rooms = made(&lesson(ROOM), RoomPitch::Transposed);
    assert_eq!((rooms.len(), rooms[0].stem.as_str()), (1, "01-e"));
    let parts = &rooms[0].parts;
    assert_eq!(parts.len(), 4);
    let shape = |score: &Score| -> Vec<_> {
        score
            .part
            .measures
            .iter()
            .map(|m| (m.number, m.extra, m.begins, m.barline))
            .collect()
    };
    let starts = |score: &Score| -> Vec<usize> {
        score
            .exercises
            .iter()
            .map(|exercise| exercise.first)
            .collect()
    };
    for part in parts {
        assert_eq!(shape(part), shape(&parts[0]), "{}", part.part.name);
        assert_eq!(starts(part), starts(&parts[0]), "{}", part.part.name);
        for measure in &part.part.measures {
            let length: u32 = measure
                .elements
                .iter()
                .map(|element| element.written().length)
                .sum();
            assert_eq!(length, 4 * part.divisions);
        }
    }
    assert!(
        parts[1..]
            .iter()
            .all(|part| part.part.measures.iter().all(|m| m.directions.is_empty()))
    );
    let mut out = Vec::new();
    writer::musicxml_parts(parts, false, &mut out);
    let text = String::from_utf8(out).unwrap();
    assert_eq!(text.matches("<score-part id=").count(), 4);
    assert_eq!(text.matches("<part id=").count(), 4);
    assert!(!text.contains("concert-score"));
}

#[test]
fn at_concert_pitch_only_octaves_transpose() {
    let lesson = lesson(ROOM);
    let written = &made(&lesson, RoomPitch::Transposed)[0].parts;
    let sounding = &made(&lesson, RoomPitch::Concert)[0].parts;
    for (part, own) in sounding.iter().zip(written) {
        assert!(
            part.part
                .transposition
                .is_none_or(|t| (t.diatonic, t.chromatic) == (0, 0)),
            "{}",
            part.part.name
        );
        let midi = |score: &Score| {
            sounding_notes(score)
                .iter()
                .map(|note| note.sounding.midi())
                .collect::<Vec<_>>()
        };
        assert_eq!(midi(part), midi(own), "{}", part.part.name);
        let key = part.part.measures[0].key.unwrap();
        assert_eq!(key.signature.fifths(), 4, "{}", part.part.name);
    }
    // The horns take the clef whose staff leaves fewest lines to be added:
    // from E4 to F5, an octave lower, from G2 to A3.
    for (horn, expected) in [(1, 1), (2, 2)] {
        let notes = sounding_notes(&sounding[horn]);
        let added = [("E4", "F5"), ("E3", "F4"), ("G2", "A3")].map(|(low, high)| {
            let [low, high] =
                [low, high].map(|line| line.parse::<theory::Pitch>().unwrap().steps());
            let lines = |note: &score::SoundingNote| {
                let at = note.written.steps();
                (low - at).max(0) / 2 + (at - high).max(0) / 2
            };
            notes.iter().map(lines).sum::<i16>()
        });
        let fewest = added
            .iter()
            .position(|lines| lines == added.iter().min().unwrap());
        assert_eq!(fewest, Some(expected), "{added:?}");
        let clef = sounding[horn].part.clef;
        let place = match (clef.sign, clef.octave_change) {
            (theory::ClefSign::G, change) => -change,
            _ => 2,
        };
        assert_eq!(usize::try_from(place), Ok(expected));
    }
    // The double bass keeps its own.
    assert_eq!(sounding[3].part.clef, written[3].part.clef);
    let mut out = Vec::new();
    writer::musicxml_parts(sounding, true, &mut out);
    assert!(String::from_utf8(out).unwrap().contains("<concert-score/>"));
}

/// A player's own range is written; at concert pitch it is what it sounds as,
/// and the line lies where it lay.
#[test]
fn at_concert_pitch_an_own_range_is_the_same_notes() {
    // An octave and a fifth: moved by any interval but the horn's own, another
    // octave of the line would lie nearer its middle.
    for (horn, low, high) in [
        ("alto saxophone", "D4", "A5"),
        ("baritone saxophone", "D4", "A5"),
        ("b-flat trumpet", "B3", "F5"),
    ] {
        let text = format!(
            "[keys]\nonly = [\"C\", \"F\", \"A\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n[[exercise]]\nkind = \"sequence\"\n[[player]]\ninstrument = \"{horn}\"\nlow = \"{low}\"\nhigh = \"{high}\"\n"
        );
        let lesson = lesson(&text);
        let midi = |pitch| -> Vec<Vec<i16>> {
            let rooms = made(&lesson, pitch);
            let notes = |room: &Room| {
                let notes = sounding_notes(&room.parts[0]);
                notes.iter().map(|note| note.sounding.midi()).collect()
            };
            rooms.iter().map(notes).collect()
        };
        let [written, concert] = [RoomPitch::Transposed, RoomPitch::Concert].map(midi);
        assert_eq!(written.len(), 3);
        assert_eq!(concert, written, "{horn}");
    }
}

#[test]
fn a_room_s_head_names_who_plays_and_the_key() {
    let text = "title = \"Test\"\nclass = \"Quay band\"\n[keys]\nonly = [\"F#\"]\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n[[player]]\nname = \"Window stand\"\ninstrument = \"alto saxophone\"\n[[player]]\ninstrument = \"flute\"\n";
    let lesson = lesson(text);
    for pitch in [RoomPitch::Concert, RoomPitch::Transposed] {
        let rooms = made(&lesson, pitch);
        let parts = &rooms[0].parts;
        assert_eq!(rooms[0].stem, "01-f-sharp");
        assert_eq!(
            head(&parts[0]),
            [
                "Quay band",
                "Window stand, Flute",
                "Concert F♯",
                "start, step up"
            ]
        );
        assert_eq!(
            [&parts[0].part.name, &parts[1].part.name],
            ["Window stand", "Flute"]
        );
        // The alto's sheet says concert G flat; here all read one name.
        let concert = |score: &Score| {
            let notes = sounding_notes(score);
            notes[0].sounding.name().to_string()
        };
        assert_eq!([concert(&parts[0]), concert(&parts[1])], ["F#", "F#"]);
    }
}

/// A report knows the edition that its sheet's head says.
#[test]
fn a_report_knows_its_sheet_s_edition() {
    let lesson = lesson(TEXT);
    let composer = Composer::new(&lesson).unwrap();
    let sheet = composer.compose(&composer.plans()[0]).unwrap();
    let head = sheet.score.head.iter();
    let said: Vec<String> = head
        .filter(|line| line.about == score::About::Edition)
        .map(|line| line.text.to_string())
        .collect();
    assert_eq!(said, [format!("Edition {}", sheet.report.edition)]);
}
