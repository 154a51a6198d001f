//! Whatever is typed into a course: never a panic, always places inside the
//! file, never a fault without a mistake.

mod harm;

use harm::{
    cut_short, places_are_inside, with_a_line_less_or_twice, with_a_slip, without_a_letter,
};
use lesson_text::{CourseMistakes, LessonFile, course_lessons, is_course, read_course};
use proptest::prelude::*;

const LESSON: &str =
    "title = \"T\"\n[scale]\nname = \"dorian\"\n[figure]\nmoves = \"start, step up\"\n";

const COURSE: &str = "\
# A course that says a little of everything.
course = \"Lamplight\"
id = \"lamps\"
text = \"\"\"
One.

Two.\"\"\"
labels = [\"degrees\"]

[keys]
order = \"fifths\"

[track]
count_in = 2

[[player]]
name = \"Window\"
instrument = \"flute\"
copies = 2

[[week]]
title = \"First\"
lessons = [\"a.toml\", \"b.toml\"]
keys = [\"C\", \"B♭\"]

[[week]]
lessons = [\"./a.toml\"]
again = 1
";

/// Reads a course all of whose lessons are there.
fn read(text: &str) -> Result<(), CourseMistakes> {
    let files: Vec<LessonFile> = course_lessons(text)
        .into_iter()
        .map(|named| {
            assert!(text.get(named.span.clone()).is_some(), "{text}");
            LessonFile {
                file: named.file,
                text: Ok(LESSON.to_owned()),
                lead: None,
            }
        })
        .collect();
    is_course(text);
    read_course(text, "stem", &files).map(|course| {
        let lessons = course.lessons.len();
        let weeks = &course.weeks;
        assert!(!course.players.is_empty() && lessons > 0, "{text}");
        assert!(
            weeks
                .iter()
                .flat_map(lesson::Week::all)
                .all(|at| at < lessons)
        );
        assert!(weeks.iter().all(|week| week.all().count() > 0), "{text}");
    })
}

fn check(text: &str) {
    let Err(fault) = read(text) else {
        return;
    };
    places_are_inside(text, &fault.course);
    for lesson in &fault.lessons {
        assert!(!lesson.mistakes.is_empty(), "{text}");
        places_are_inside(LESSON, &lesson.mistakes);
    }
    assert!(
        !(fault.course.is_empty() && fault.lessons.is_empty()),
        "{text}"
    );
}

#[test]
fn the_course_itself_is_fine() {
    assert_eq!(read(COURSE), Ok(()));
}

#[test]
fn every_letter_may_be_missing() {
    without_a_letter(COURSE).for_each(|harmed| check(&harmed));
}

#[test]
fn every_line_may_be_missing_or_doubled() {
    with_a_line_less_or_twice(COURSE).for_each(|harmed| check(&harmed));
}

#[test]
fn the_file_may_end_anywhere() {
    cut_short(COURSE).for_each(check);
}

/// A broken quotation mark or bracket is one mistake, without echoes.
#[test]
fn one_slip_is_told_once() {
    for text in with_a_slip(COURSE) {
        if let Err(fault) = read(&text) {
            assert_eq!(fault.course.len(), 1, "{text}\n{:#?}", fault.course);
        }
    }
}

proptest! {
    #[test]
    fn anything_may_stand_anywhere(at in 0..COURSE.len(), typed in "\\PC{0,12}|[\\[\\]\"=#\n.0-9a-z]{0,20}") {
        let at = (0..=at).rev().find(|at| COURSE.is_char_boundary(*at)).unwrap_or(0);
        check(&format!("{}{typed}{}", &COURSE[..at], &COURSE[at..]));
    }
}
