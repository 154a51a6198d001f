//! What is done with hostile bytes, the same for the fuzzer and for the test
//! that replays its corpus: never a panic, never a hang.

use etude::Composer;
use lesson::Lesson;
use lesson_text::LessonFile;
use reader::Selection;
use rhythm::{Count, Meter};
use theory::ChordSymbol;

/// Sheets of a lesson that are composed and written: the first ones show what
/// the reader let through.
const SHEETS: usize = 2;

/// What is done with the bytes of one subject.
pub fn named(subject: &str) -> fn(&[u8]) {
    match subject {
        "count" => count,
        "moves" => moves,
        "degrees" => degrees,
        "chord" => chord,
        "changes" => changes,
        "course" => course,
        "music_xml" => music_xml,
        _ => lesson_text,
    }
}

/// A whole lesson file, and its first sheets if it is one.
fn lesson_text(bytes: &[u8]) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        lesson(text);
    }
}

fn lesson(text: &str) {
    let lesson = match lesson_text::read(text, "lesson") {
        Ok(lesson) => lesson,
        Err(mistakes) => {
            assert!(!mistakes.is_empty());
            for mistake in mistakes {
                assert!(text.get(mistake.span).is_some());
            }
            return;
        }
    };
    compose(&lesson);
}

fn compose(lesson: &Lesson) {
    let Ok(composer) = Composer::new(lesson) else {
        return;
    };
    for plan in composer.plans().iter().take(SHEETS) {
        if let Ok(sheet) = composer.compose(plan) {
            let mut out = Vec::new();
            writer::musicxml(&sheet.score, &mut out);
            assert!(!out.is_empty());
        }
    }
}

/// A count in several meters.
fn count(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    for meter in ["4/4", "3/4", "6/8", "7/8 = 2+2+3"] {
        if let Ok(meter) = meter.parse::<Meter>() {
            let _ = Count::read(text, &meter, None);
        }
    }
    said(
        "moves",
        "start, step up",
        &format!("count = {}", quoted(text)),
    );
}

/// The moves of a figure.
fn moves(bytes: &[u8]) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        said("moves", text, "");
    }
}

/// The degrees of a figure, and of a scale.
fn degrees(bytes: &[u8]) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        said("degrees", text, "");
        lesson(&format!(
            "title = \"Plain\"\n[scale]\nname = \"ash tree\"\ndegrees = {}\n[figure]\nmoves = \"start\"\n",
            quoted(text)
        ));
    }
}

/// A chord symbol, and what it prints as.
fn chord(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    if let Ok(chord) = text.parse::<ChordSymbol>() {
        assert!(chord.tones().len() < 20);
        assert!(chord.to_string().parse::<ChordSymbol>().is_ok(), "{text}");
    }
}

/// Changes to play over.
fn changes(bytes: &[u8]) {
    if let Ok(text) = std::str::from_utf8(bytes) {
        lesson(&format!(
            "title = \"Plain\"\n[changes]\nkey = \"C\"\nbars = {}\n[figure]\nmoves = \"start, step up\"\n\
             [[exercise]]\nkind = \"changes\"\n[[exercise]]\nkind = \"guide tones\"\n",
            quoted(text)
        ));
    }
}

/// A course of plain lessons, whatever it calls them.
fn course(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    let plain =
        "title = \"Plain\"\n[scale]\nname = \"major\"\n[figure]\nmoves = \"start, step up\"\n";
    let named = lesson_text::course_lessons(text).into_iter();
    let files: Vec<LessonFile> = named
        .map(|named| LessonFile {
            file: named.file,
            text: Ok(plain.to_owned()),
            lead: None,
        })
        .collect();
    match lesson_text::read_course(text, "course", &files) {
        Ok(course) => course.lessons.iter().take(SHEETS).for_each(compose),
        Err(fault) => {
            assert!(!fault.course.is_empty() || !fault.lessons.is_empty());
            for mistake in fault.course {
                assert!(text.get(mistake.span).is_some());
            }
        }
    }
}

/// A lead sheet or a notated line, plain or packed, and the lesson it is
/// lifted into, which the reader of lessons takes.
fn music_xml(bytes: &[u8]) {
    let asked = Selection::default();
    let _ = reader::changes(bytes, &asked);
    let Ok(reading) = reader::phrase(bytes, &asked, None) else {
        return;
    };
    if let Ok(lifted) = lift::lift(&reading.value, None) {
        let read = lesson_text::read(&lifted.text, "lifted");
        assert!(read.is_ok(), "{:?}\n{}", read.err(), lifted.text);
        lesson(&lifted.text);
    }
}

/// A lesson whose figure says this.
fn said(key: &str, text: &str, more: &str) {
    lesson(&format!(
        "title = \"Plain\"\n[scale]\nname = \"major\"\n[figure]\n{key} = {}\n{more}\n",
        quoted(text)
    ));
}

/// A TOML string.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' | '\\' => quoted.extend(['\\', letter]),
            letter if letter.is_control() => {
                quoted.push_str(&format!("\\u{:04X}", u32::from(letter)));
            }
            letter => quoted.push(letter),
        }
    }
    quoted + "\""
}
