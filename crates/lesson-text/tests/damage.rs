//! Whatever is typed: never a panic, always a place inside the file, and
//! never an empty list of mistakes.

mod harm;

use harm::{
    cut_short, places_are_inside, with_a_line_less_or_twice, with_a_slip, without_a_letter,
};
use lesson_text::read;
use proptest::prelude::*;

const LESSON: &str = "\
# A lesson that says a little of everything.
title = \"Lantern Stairs\"
subtitle = \"It climbs \\u00e9 and 'turns'\"
level = \"intermediate\"
tempo = { from = 72, to = 120, by = 8 }
labels = [\"degrees\", \"counts\"]

[keys]
only = [\"C\", \"F\", \"B♭\"]

[[scale]]
name = \"lydian dominant\"
[[scale]]
name = \"ash tree\"
degrees = \"1 b3 4 #4 6 b7\"
chord = \"m7\"

[[figure]]
name = \"steps\"
meter = \"4/4\"
moves = \"start, step up, from below, step up, rest, repeat\"
count = \"1 & 2 & (3) &\"
[[figure]]
name = \"turning\"
rungs = '1 3 2 1'

[[exercise]]
kind = \"sequence\"
figure = \"steps\"
[[exercise]]
kind = \"scale\"
scale = \"ash tree\"

[[player]]
name = \"Window\"
instrument = \"flute\"
high = \"D6\"
";

/// Reads a text and looks at what comes back.
fn check(text: &str) {
    let Err(mistakes) = read(text, "stem") else {
        return;
    };
    assert!(!mistakes.is_empty(), "{text}");
    places_are_inside(text, &mistakes);
}

#[test]
fn the_lesson_itself_is_fine() {
    assert!(read(LESSON, "stem").is_ok(), "{:?}", read(LESSON, "stem"));
}

#[test]
fn every_letter_may_be_missing() {
    without_a_letter(LESSON).for_each(|harmed| check(&harmed));
}

#[test]
fn every_line_may_be_missing_or_doubled() {
    with_a_line_less_or_twice(LESSON).for_each(|harmed| check(&harmed));
}

#[test]
fn the_file_may_end_anywhere() {
    cut_short(LESSON).for_each(check);
}

/// A broken quotation mark or bracket is one mistake, without echoes.
#[test]
fn one_slip_is_told_once() {
    for text in with_a_slip(LESSON) {
        if let Err(mistakes) = read(&text, "stem") {
            assert_eq!(mistakes.len(), 1, "{text}\n{mistakes:#?}");
        }
    }
}

/// The lessons that come with the program.
fn shipped() -> Vec<String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../fixtures/lessons");
    let mut paths: Vec<_> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    paths.sort();
    paths
        .iter()
        .filter_map(|path| std::fs::read_to_string(path).ok())
        .collect()
}

#[test]
fn shipped_lessons_are_fine() {
    let lessons = shipped();
    assert!(lessons.len() >= 8);
    for text in lessons {
        assert_eq!(read(&text, "stem").err(), None, "{text}");
    }
}

proptest! {
    #[test]
    fn shipped_lessons_may_be_damaged(lesson in any::<prop::sample::Index>(), at in any::<prop::sample::Index>(), letter in any::<char>()) {
        let lessons = shipped();
        let text = lesson.get(&lessons);
        let at = at.index(text.chars().count());
        check(&text.chars().enumerate().map(|(n, c)| if n == at { letter } else { c }).collect::<String>());
    }

    #[test]
    fn one_letter_may_be_another(at in 0..LESSON.chars().count(), letter in any::<char>()) {
        check(&LESSON.chars().enumerate().map(|(n, c)| if n == at { letter } else { c }).collect::<String>());
    }

    #[test]
    fn one_letter_may_be_a_meaningful_other(at in 0..LESSON.chars().count(), letter in "[\"'\\[\\]{}=#,.\\\\\n\r\t “”0-9a-z]") {
        let letters = LESSON.chars().enumerate();
        check(&letters.map(|(n, c)| if n == at { letter.clone() } else { c.to_string() }).collect::<String>());
    }

    #[test]
    fn anything_may_be_typed(text in any::<String>()) {
        check(&text);
    }

    #[test]
    fn bytes_may_be_anything(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        check(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn tables_may_be_anything(text in "(\\[{0,3}[a-z.]{0,8}\\]{0,3}|[a-z]{0,9}( =|=| = ){0,2}[\\[\\]{}\"'a-z0-9, \\\\]{0,12}|\n){0,20}") {
        check(&text);
    }

    #[test]
    fn values_may_be_anything(key in 0..LESSON.matches(" = ").count(), value in "\"[ -~]{0,30}\"|[0-9.e-]{0,25}|\\[[\"a-z, ]{0,20}\\]") {
        let (at, _) = LESSON.match_indices(" = ").nth(key).unwrap();
        let end = LESSON[at..].find('\n').unwrap() + at;
        check(&format!("{} = {value}{}", &LESSON[..at], &LESSON[end..]));
    }
}
